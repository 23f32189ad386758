//! What is wrong with a file, and where.

use std::fmt;

/// How bad a problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Severity {
    /// The file cannot be used.
    Error,
    /// The file is used, but something in it should be looked at.
    Warning,
}

/// One thing wrong with a file. `Display` gives two to three lines that name the place, what was
/// found, what is allowed and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Error or warning.
    pub severity: Severity,
    /// Name of the file, as the user gave it.
    pub file: String,
    /// Line, from 1; `None`: the file as a whole.
    pub line: Option<usize>,
    /// Character in that line, from 1.
    pub column: Option<usize>,
    /// The field, such as `soak.steps[2]` (counted from 1), or a column of a log.
    pub field: Option<String>,
    /// What was found and why it cannot be.
    pub message: String,
    /// What is allowed or what to do; may hold several lines.
    pub help: Option<String>,
}

impl Problem {
    /// An error in `file`.
    pub fn error(file: &str, message: impl Into<String>) -> Self {
        Self {
            severity: Severity::Error,
            file: file.to_string(),
            line: None,
            column: None,
            field: None,
            message: message.into(),
            help: None,
        }
    }

    /// A warning about `file`.
    pub fn warning(file: &str, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(file, message) }
    }

    /// The same problem at this line.
    #[must_use]
    pub fn at_line(self, line: usize) -> Self {
        Self { line: Some(line), ..self }
    }

    /// The same problem at this line and character.
    #[must_use]
    pub fn at(self, line: usize, column: usize) -> Self {
        Self { line: Some(line), column: Some(column), ..self }
    }

    /// The same problem in this field.
    #[must_use]
    pub fn in_field(self, field: &str) -> Self {
        Self { field: Some(field.to_string()), ..self }
    }

    /// The same problem with this advice; an empty text leaves it without.
    #[must_use]
    pub fn help(self, help: impl Into<String>) -> Self {
        Self { help: Some(help.into()).filter(|h| !h.is_empty()), ..self }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write_what(f)?;
        self.write_help(f)
    }
}

impl Problem {
    fn write_what(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let kind = match self.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        write!(f, "{kind}: {}", harmless(&self.file))?;
        if let Some(line) = self.line {
            write!(f, " line {line}")?;
        }
        if let Some(field) = &self.field {
            write!(f, ", {}", harmless(field))?;
        }
        write!(f, ": {}", harmless(&self.message))
    }

    fn write_help(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let lines = self.help.iter().flat_map(|h| h.lines()).flat_map(|line| wrapped(line, WIDTH - INDENT));
        for (i, line) in lines.enumerate() {
            let label = if i == 0 { " help: " } else { "       " };
            write!(f, "\n{label}{}", harmless(line))?;
        }
        Ok(())
    }
}

/// Columns of a terminal, and of the space before help.
const WIDTH: usize = 80;
const INDENT: usize = 7;

/// `line` in pieces of at most `width` characters, broken at blanks.
fn wrapped(line: &str, width: usize) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut rest = line;
    while let Some((end, next)) = rest.char_indices().nth(width) {
        let Some(blank) = rest[..end + next.len_utf8()].rfind(' ').filter(|&b| !rest[..b].trim().is_empty())
        else {
            break;
        };
        pieces.push(rest[..blank].trim_end());
        rest = rest[blank..].trim_start();
    }
    pieces.push(rest);
    pieces
}

impl std::error::Error for Problem {}

/// Problems as a user is shown them: the first [`ProblemList::SHOWN`], then how many more. Help
/// that was just given is not given again.
#[derive(Debug, Clone, Copy)]
pub struct ProblemList<'p>(pub &'p [Problem]);

impl ProblemList<'_> {
    /// How many are shown.
    pub const SHOWN: usize = 20;
}

impl fmt::Display for ProblemList<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut before: Option<&Problem> = None;
        for problem in self.0.iter().take(Self::SHOWN) {
            if before.is_some() {
                writeln!(f)?;
            }
            problem.write_what(f)?;
            if before.is_none_or(|b| b.help != problem.help) {
                problem.write_help(f)?;
            }
            before = Some(problem);
        }
        match self.0.len().saturating_sub(Self::SHOWN) {
            0 => Ok(()),
            more => write!(f, "\nand {more} more"),
        }
    }
}

/// `text` without what a terminal would act on: control characters and marks that turn the
/// direction of writing are shown as escapes.
pub(crate) fn harmless(text: &str) -> String {
    let acts = |c: char| {
        c.is_control()
            || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    text.chars().fold(String::with_capacity(text.len()), |mut out, c| {
        if acts(c) {
            out.extend(c.escape_default());
        } else {
            out.push(c);
        }
        out
    })
}

/// `text` cut to what fits in a message.
pub(crate) fn shown(text: &str) -> String {
    const LONGEST: usize = 60;
    match text.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_the_place_and_what_to_do() {
        let problem = Problem::error("run.toml", "`75` has no unit")
            .at(14, 3)
            .in_field("soak.hold")
            .help("add the unit\nor leave it out");
        assert_eq!(
            problem.to_string(),
            "error: run.toml line 14, soak.hold: `75` has no unit\n help: add the unit\n       or leave it out"
        );
        assert_eq!(Problem::warning("a.csv", "odd").to_string(), "warning: a.csv: odd");
    }

    #[test]
    fn shows_twenty_and_counts_the_rest() {
        let problems = vec![Problem::error("run.toml", "bad"); 23];
        let shown = ProblemList(&problems).to_string();
        assert_eq!(shown.lines().count(), 21);
        assert!(shown.ends_with("\nand 3 more"));
        assert!(!ProblemList(&problems[..20]).to_string().contains("more"));
    }

    #[test]
    fn gives_the_same_help_once() {
        let bad = |help| Problem::error("a", "bad").help(help);
        let list = ProblemList(&[bad("x"), bad("x"), bad("y")]).to_string();
        assert_eq!(list, "error: a: bad\n help: x\nerror: a: bad\nerror: a: bad\n help: y");
    }

    #[test]
    fn wraps_help_at_blanks() {
        assert_eq!(wrapped("one two three", 8), ["one two", "three"]);
        assert_eq!(wrapped("undividable words", 5), ["undividable words"]);
        assert_eq!(wrapped("äöü äöü", 3), ["äöü", "äöü"]);
        assert_eq!(wrapped("", 3), [""]);
    }

    #[test]
    fn never_sends_escapes_to_the_terminal() {
        let nasty = Problem::error("run.toml", "`\u{1b}[2J\u{202e}\nerror: x` is not");
        assert_eq!(nasty.to_string(), "error: run.toml: `\\u{1b}[2J\\u{202e}\\nerror: x` is not");
    }
}
