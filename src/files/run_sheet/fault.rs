use crate::files::UnknownName;
use crate::files::problem::shown;
use crate::files::words::{closest, either};
use crate::units::{ParseError, Quantity};

/// What is wrong with one value, before its place is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::files) struct Fault {
    pub(in crate::files) message: String,
    pub(in crate::files) help: String,
}

impl Fault {
    pub(in crate::files) fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { message: message.into(), help: help.into() }
    }

    /// A text that is no `Q`.
    pub(in crate::files) fn of_quantity<Q: Quantity>(error: &ParseError) -> Self {
        let help = match error {
            ParseError::NotANumber { .. } | ParseError::Empty { .. } => {
                let units = Q::UNITS.iter().map(|u| u.names[0]).collect::<Vec<_>>().join(", ");
                let range =
                    if matches!(error, ParseError::Empty { .. }) { ", or leave the line out" } else { "" };
                format!("write a number and its unit ({units}){range}")
            }
            ParseError::OutOfRange(e) => {
                format!("allowed: {} to {} {}; check the number and its unit", e.low, e.high, e.unit)
            }
            other => other.help(),
        };
        Self::new(error.to_string(), help)
    }

    /// A word that is not among `words`; of those that mean the same only the first is listed.
    pub(in crate::files) fn not_a_word<T: PartialEq>(
        field: &str,
        got: &str,
        words: &[(&str, T)],
        or: &str,
    ) -> Self {
        let guess = closest(got, words.iter().map(|(word, _)| *word));
        let guess = guess.map(|g| format!("did you mean \"{g}\"?\n")).unwrap_or_default();
        let first = |i: usize, value: &T| words[..i].iter().all(|(_, v)| v != value);
        let listed = words.iter().enumerate().filter(|(i, (_, v))| first(*i, v));
        let list = either(listed.map(|(_, (word, _))| *word).chain(["unknown"]));
        Self::new(
            format!("`{}` is not among the words for {field}", shown(got)),
            format!("{guess}allowed: {list}{or}"),
        )
    }

    /// A name that is not in its table.
    pub(in crate::files) fn unknown_name(error: &UnknownName) -> Self {
        const LISTED: usize = 12;
        let UnknownName { what, got, near, known, file } = error;
        let near = either(near.iter().map(String::as_str));
        let guess = if near.is_empty() { String::new() } else { format!("did you mean {near}?\n") };
        let listed =
            known.iter().take(LISTED).map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
        let list = match known.len().saturating_sub(LISTED) {
            0 => format!("known: {listed}"),
            more => format!("known: {listed}, and {more} more in models/{file}"),
        };
        let or_unknown = if known.iter().any(|k| k == "unknown") { "" } else { "; or write \"unknown\"" };
        Self::new(
            format!("`{}` is not a {what} that is known here", shown(got)),
            format!("{guess}{list}{or_unknown}"),
        )
    }
}
