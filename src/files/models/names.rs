use super::ModelsError;
use super::value::At;
use crate::diffusion::Law;
use crate::soak::{Compound, HeatColour, WitnessMetal};
use crate::steel::Grade;
use std::collections::BTreeSet;
use thiserror::Error;

/// Lists up to this long are shown whole.
const SHORT_LIST: usize = 12;
/// Least Jaro-Winkler likeness of a suggestion, and how many are made. Judgement: `1019` is 0.88
/// like `1018`, and 0.70 lets a wrong first letter pass.
const LEAST_LIKENESS: f64 = 0.70;
const MOST_SUGGESTIONS: usize = 3;

/// A name that a table in `models/` does not have. `Display` says so; [`UnknownName::help`] what to do.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("`{got}` is not a known {what}")]
pub struct UnknownName {
    /// What was looked for, for example `steel grade`.
    pub what: &'static str,
    /// The name as given.
    pub got: String,
    /// Up to three names or aliases that look like it, the nearest first.
    pub near: Vec<String>,
    /// Every name, without aliases.
    pub known: Vec<String>,
    /// The file in `models/` that lists them.
    pub file: &'static str,
}

impl UnknownName {
    /// What to write instead.
    pub fn help(&self) -> String {
        let quoted = |names: &[String]| names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", ");
        let near = (!self.near.is_empty()).then(|| format!("did you mean {}?", quoted(&self.near)));
        let known = match self.known.len() {
            0..=SHORT_LIST => format!("known: {}", quoted(&self.known)),
            n => format!("models/{} lists all {n}", self.file),
        };
        near.into_iter().chain([known]).collect::<Vec<_>>().join(" ")
    }
}

/// A row that is found by name.
pub(super) trait Named {
    /// What it is, for messages.
    const WHAT: &'static str;
    /// The file in `models/` that lists all of them.
    const FILE: &'static str;
    /// Its name.
    fn name(&self) -> &str;
    /// Other names.
    fn aliases(&self) -> &[String];
}

impl Named for Law {
    const WHAT: &'static str = "diffusivity law";
    const FILE: &'static str = "diffusivity.toml";
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &[]
    }
}

impl Named for Grade {
    const WHAT: &'static str = "steel grade";
    const FILE: &'static str = "steels.toml";
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
}

impl Named for Compound {
    const WHAT: &'static str = "compound";
    const FILE: &'static str = "packs.toml";
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
}

impl Named for WitnessMetal {
    const WHAT: &'static str = "witness metal";
    const FILE: &'static str = "witnesses.toml";
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
}

impl Named for HeatColour {
    const WHAT: &'static str = "heat colour";
    const FILE: &'static str = "witnesses.toml";
    fn name(&self) -> &str {
        &self.word
    }
    fn aliases(&self) -> &[String] {
        &[]
    }
}

fn all_names<T: Named>(row: &T) -> impl Iterator<Item = &str> {
    std::iter::once(row.name()).chain(row.aliases().iter().map(String::as_str))
}

fn folded(name: &str) -> String {
    name.trim().to_lowercase()
}

/// Whether a row has that name or alias, whatever the case.
pub(super) fn is_called<T: Named>(row: &T, name: &str) -> bool {
    all_names(row).any(|n| n.eq_ignore_ascii_case(name.trim()))
}

/// The row of that name or alias, whatever the case.
pub(super) fn find<'a, T: Named>(rows: &'a [T], got: &str) -> Result<&'a T, UnknownName> {
    let wanted = folded(got);
    rows.iter().find(|row| all_names(*row).any(|n| folded(n) == wanted)).ok_or_else(|| {
        let mut near: Vec<(f64, &str)> = rows
            .iter()
            .flat_map(all_names)
            .map(|n| (strsim::jaro_winkler(&wanted, &folded(n)), n))
            .filter(|(likeness, _)| *likeness >= LEAST_LIKENESS)
            .collect();
        near.sort_by(|a, b| b.0.total_cmp(&a.0));
        UnknownName {
            what: T::WHAT,
            got: got.trim().to_owned(),
            near: near.into_iter().take(MOST_SUGGESTIONS).map(|(_, n)| n.to_owned()).collect(),
            known: rows.iter().map(|row| row.name().to_owned()).collect(),
            file: T::FILE,
        }
    })
}

/// Refuses a name or alias that is there twice.
pub(super) fn check_unique<T: Named>(rows: &[T]) -> Result<(), ModelsError> {
    let mut seen = BTreeSet::new();
    for row in rows {
        for name in all_names(row) {
            if !seen.insert(folded(name)) {
                let at = At { file: T::FILE, entry: row.name(), field: "a name or alias" };
                return Err(ModelsError::value(at, format!("`{name}`"), "each once, whatever the case"));
            }
        }
    }
    Ok(())
}

/// The proper name of the default row.
pub(super) fn default_name<T: Named>(rows: &[T], default: &str) -> Result<String, ModelsError> {
    let at = At { file: T::FILE, entry: "top of the file", field: "default" };
    find(rows, default)
        .map(|row| row.name().to_owned())
        .map_err(|e| ModelsError::value(at, format!("`{default}`"), e.known.join(", ")))
}
