use super::value::At;
use crate::files::tree_toml::TreeFileError;
use serde::de::DeserializeOwned;
use thiserror::Error;

/// What is wrong with a file in `models/`.
#[derive(Debug, Error)]
pub enum ModelsError {
    /// Not the TOML that the file must be: the problem names line, field and what is allowed.
    #[error("models/{file}: {problem}")]
    Form {
        /// File in `models/`.
        file: &'static str,
        /// Place and cause.
        #[source]
        problem: Box<toml::de::Error>,
    },
    /// A fitted tree that cannot be.
    #[error("models/{file}: {problem}")]
    Tree {
        /// File in `models/`.
        file: &'static str,
        /// What is wrong with it.
        #[source]
        problem: Box<TreeFileError>,
    },
    /// A value that cannot be.
    #[error("models/{file}, {entry}: {field} is {got}; allowed: {allowed}")]
    Value {
        /// File in `models/`.
        file: &'static str,
        /// Name of the entry in the file.
        entry: String,
        /// Field of the entry.
        field: &'static str,
        /// What it holds.
        got: String,
        /// What it may hold.
        allowed: String,
    },
}

impl ModelsError {
    /// A value at a place that cannot be.
    pub(super) fn value(at: At<'_>, got: impl Into<String>, allowed: impl Into<String>) -> Self {
        let At { file, entry, field } = at;
        Self::Value { file, entry: entry.to_owned(), field, got: got.into(), allowed: allowed.into() }
    }
}

/// Reads the twin of a file.
pub(super) fn parse<T: DeserializeOwned>(file: &'static str, text: &str) -> Result<T, ModelsError> {
    toml::from_str(text).map_err(|problem| ModelsError::Form { file, problem: Box::new(problem) })
}
