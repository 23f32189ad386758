//! `snapspark known`: the known steels.

mod add;
mod add_face;
mod add_labelled;
mod advise;
mod args;
mod audit;
mod carry;
mod list;
mod measure;
mod of_rig;
mod remove;
mod show;

pub(super) use args::KnownArgs;

use super::Answer;
use super::at_rig::known_folder;
use crate::files::problem::harmless;
use crate::files::{KnownSet, Problem, ProblemList};
use args::{KnownCommand, SetArg};
use std::path::PathBuf;

/// `snapspark known`. The error is ready to be shown.
pub(super) fn known(args: &KnownArgs) -> Result<Answer, String> {
    match &args.command {
        KnownCommand::Add(args) if args.dir.is_some() => add_labelled::add(args),
        KnownCommand::Add(args) => match &args.face {
            Some(told) => add_face::add(args, told),
            None => add::add(args),
        },
        KnownCommand::List(args) => list::list(args),
        KnownCommand::Show(args) => show::show(args),
        KnownCommand::Remove(args) => remove::remove(args),
        KnownCommand::Export(args) => carry::export(args),
        KnownCommand::Import(args) => carry::import(args),
        KnownCommand::Audit(args) => audit::audit(args),
        KnownCommand::Advise(args) => advise::known_advise(args),
    }
}

impl SetArg {
    fn folder(&self) -> Result<PathBuf, String> {
        known_folder(self.set.as_ref())
    }

    fn open(&self) -> Result<KnownSet, String> {
        KnownSet::open(&self.folder()?).map_err(|p| said(&p))
    }

    fn open_or_make(&self) -> Result<KnownSet, String> {
        KnownSet::open_or_make(&self.folder()?).map_err(|p| said(&p))
    }
}

/// Problems, ready to be shown.
fn said(problems: &[Problem]) -> String {
    ProblemList(problems).to_string()
}

/// What is wrong with records that were left out, for standard error.
fn broken(set: &KnownSet) -> String {
    if set.broken().is_empty() { String::new() } else { format!("{}\n", said(set.broken())) }
}

/// What is wrong with an argument, ready to be shown.
fn wrong(what: &str, (message, help): &(String, String)) -> String {
    said(&[Problem::error(what, message.as_str()).help(help.as_str())])
}

/// A path as it may be shown.
fn shown(path: &std::path::Path) -> String {
    harmless(&path.display().to_string())
}
