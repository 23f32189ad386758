use super::ModelsError;
use super::error::parse;
use super::value::{At, Cited};
use crate::sources::{Source, Sourced};
use serde::Deserialize;
use std::collections::BTreeMap;

const FILE: &str = "sources.toml";

/// The sources, with whether anything refers to them yet.
pub(super) struct Bibliography(BTreeMap<String, Entry>);

struct Entry {
    source: SourceTwin,
    used: bool,
}

/// A source as it is written; its key is the name of the table.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SourceTwin {
    author: String,
    title: String,
    year: String,
}

impl Bibliography {
    /// Reads `sources.toml`.
    pub(super) fn read(text: &str) -> Result<Self, ModelsError> {
        let twins: BTreeMap<String, SourceTwin> = parse(FILE, text)?;
        Ok(Self(twins.into_iter().map(|(key, source)| (key, Entry { source, used: false })).collect()))
    }

    /// Joins a value to its source. Further sources are named in the place.
    pub(super) fn sourced<T>(
        &mut self,
        at: At<'_>,
        value: T,
        cited: &Cited<'_>,
    ) -> Result<Sourced<T>, ModelsError> {
        for key in std::iter::once(cited.source).chain(cited.also.iter().map(String::as_str)) {
            match self.0.get_mut(key) {
                Some(entry) => entry.used = true,
                None => {
                    return Err(ModelsError::value(at, format!("from `{key}`"), format!("keys of {FILE}")));
                }
            }
        }
        if cited.place.trim().is_empty() {
            return Err(ModelsError::value(at, "without a place", "the place in the source"));
        }
        let place = match cited.also {
            [] => cited.place.to_owned(),
            also => format!("{}; also {}", cited.place, also.join(", ")),
        };
        Ok(Sourced { value, source: cited.source.to_owned(), place, status: cited.status })
    }

    /// All sources by key, once everything has been read; each must have been of use.
    pub(super) fn finish(self) -> Result<Vec<Source>, ModelsError> {
        self.0.into_iter().map(|(key, entry)| entry.used(key)).collect()
    }
}

impl Entry {
    fn used(self, key: String) -> Result<Source, ModelsError> {
        let SourceTwin { author, title, year } = self.source;
        if self.used {
            Ok(Source { key, author, title, year })
        } else {
            let at = At { file: FILE, entry: &key, field: "the entry" };
            Err(ModelsError::value(at, "used by no value", "sources that some value names"))
        }
    }
}
