use super::Typed;
use super::fault::Fault;
use super::kind::Kind;
use super::lines::Lines;
use crate::files::Models;
use crate::files::problem::Problem;
use crate::soak::Compound;
use crate::steel::Grade;
use std::cell::RefCell;
use std::collections::BTreeSet;

/// One sheet while it is read: its text, the tables behind its names, and what was found so far.
pub(in crate::files) struct Reading<'s> {
    pub(in crate::files) kind: &'static Kind,
    pub(in crate::files) file: &'s str,
    pub(in crate::files) text: &'s str,
    pub(in crate::files) models: &'s Models,
    /// What stands for steel and charcoal of which nothing is known.
    pub(in crate::files) unknown: Unknown<'s>,
    pub(in crate::files) lines: Lines<'s>,
    broken: BTreeSet<usize>,
    found: RefCell<Found>,
}

/// The rows that stand for "unknown".
#[derive(Clone, Copy)]
pub(in crate::files) struct Unknown<'s> {
    pub(in crate::files) grade: &'s Grade,
    pub(in crate::files) compound: &'s Compound,
}

/// Everything that reading leaves behind.
#[derive(Default)]
pub(in crate::files) struct Found {
    errors: Vec<(usize, Problem)>,
    warnings: Vec<(usize, Problem)>,
    typed: Typed,
}

impl Found {
    /// More than this is not kept: nobody reads it.
    const MOST: usize = 1000;

    /// What was typed and the warnings, or the errors; each in the order of the sheet.
    pub(in crate::files) fn settle(mut self) -> Result<(Typed, Vec<Problem>), Vec<Problem>> {
        let in_order = |mut list: Vec<(usize, Problem)>| {
            list.sort_by_key(|&(at, _)| at);
            list.into_iter().map(|(_, p)| p).collect::<Vec<_>>()
        };
        if self.errors.is_empty() {
            Ok((self.typed, in_order(self.warnings)))
        } else {
            self.errors.append(&mut self.warnings);
            Err(in_order(self.errors))
        }
    }
}

impl<'s> Reading<'s> {
    /// `syntax`: lines that are no TOML, with what is wrong there. Nothing else is said about them.
    pub(in crate::files) fn new(
        kind: &'static Kind,
        file: &'s str,
        lines: Lines<'s>,
        text: &'s str,
        models: &'s Models,
        unknown: Unknown<'s>,
        syntax: Vec<(usize, Problem)>,
    ) -> Self {
        let broken = syntax.iter().filter_map(|(_, p)| p.line).collect();
        let found = RefCell::new(Found { errors: syntax, ..Found::default() });
        Self { kind, file, text, models, unknown, lines, broken, found }
    }

    /// Notes an error in `field` at byte `at`.
    pub(in crate::files) fn error(&self, at: usize, field: &str, fault: Fault) {
        let (line, column) = self.lines.place(at);
        if !self.broken.contains(&line) {
            let problem = Problem::error(self.file, fault.message).at(line, column);
            self.add(at, problem.in_field(field).help(fault.help));
        }
    }

    /// Notes that something is missing, unless a broken line may have held it.
    pub(in crate::files) fn missing(&self, at: usize, field: &str, fault: Fault) {
        if self.broken.is_empty() {
            self.error(at, field, fault);
        }
    }

    /// Notes something odd that does not stop the reading.
    pub(in crate::files) fn warning(&self, at: usize, field: &str, fault: Fault) {
        let (line, column) = self.lines.place(at);
        let problem = Problem::warning(self.file, fault.message).at(line, column);
        self.add_warning(at, problem.in_field(field).help(fault.help));
    }

    /// Notes an error of another file that the field at `at` names.
    pub(in crate::files) fn add(&self, at: usize, problem: Problem) {
        let errors = &mut self.found.borrow_mut().errors;
        if errors.len() < Found::MOST {
            errors.push((at, problem));
        }
    }

    /// Notes a warning of another file that the field at `at` names.
    pub(in crate::files) fn add_warning(&self, at: usize, problem: Problem) {
        let warnings = &mut self.found.borrow_mut().warnings;
        if warnings.len() < Found::MOST {
            warnings.push((at, problem));
        }
    }

    pub(in crate::files) fn keep_typed(&self, field: &str, text: &str) {
        if self.kind.typed {
            self.found.borrow_mut().typed.keep(field, text);
        }
    }

    pub(in crate::files) fn into_found(self) -> Found {
        self.found.into_inner()
    }
}
