use super::layout::MOST_BYTES;
use super::record::told;
use crate::files::Models;
use crate::files::problem::Problem;
use crate::files::run_sheet::kind::Kind;
use crate::files::run_sheet::read::{cannot_read, read_up_to};
use crate::files::run_sheet::section::Section;
use crate::spark::SparkObservation;
use std::path::Path;
use toml::de::DeValue;

static TOLD: Kind = Kind {
    one: "a description of sparks",
    noun: "description",
    version: None,
    flat: true,
    typed: false,
    shorter: "keep the fields of a run sheet's [spark] alone",
};
const SPARK: &str = "spark";

/// Sparks told in the fields of a run sheet's `[spark]`, with what was typed.
#[derive(Debug, Clone, PartialEq)]
pub struct ToldFile {
    /// What it tells.
    pub says: SparkObservation,
    /// The fields as typed.
    pub(super) typed: toml::Table,
}

impl ToldFile {
    /// Reads the fields alone, or the `[spark]` of a run sheet; `file_name` goes into messages.
    pub fn read(text: &str, file_name: &str, models: &Models) -> Result<Self, Vec<Problem>> {
        let (says, _, _) = TOLD.read(text, file_name, models, |reading, root| {
            let inner = root.get_key_value(SPARK).and_then(|(key, value)| match value.get_ref() {
                DeValue::Table(table) => Some((key.span().start, table)),
                _ => None,
            });
            let (at, table) = inner.unwrap_or((0, root));
            Section::read(reading, SPARK, at, table, told)
        })?;
        let lost = || vec![Problem::error(file_name, "the description cannot be kept")];
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let mut typed: toml::Table = text.parse().map_err(|_| lost())?;
        if let Some(toml::Value::Table(_)) = typed.get(SPARK)
            && let Some(toml::Value::Table(inner)) = typed.remove(SPARK)
        {
            typed = inner;
        }
        says.map(|says| Self { says, typed }).ok_or_else(lost)
    }

    /// Reads a file.
    pub fn read_file(path: &Path, models: &Models) -> Result<Self, Vec<Problem>> {
        let name = path.display().to_string();
        let bytes = read_up_to(path, MOST_BYTES + 1).map_err(|e| {
            vec![Problem::error(&name, cannot_read(&e)).help("check the name of the description")]
        })?;
        let text = TOLD.text(&name, bytes).map_err(|p| vec![*p])?;
        Self::read(&text, &name, models)
    }

    /// The fields under `[spark]`, as a record holds them.
    pub(super) fn section(&self) -> Result<String, toml::ser::Error> {
        let spark = toml::Table::from_iter([(SPARK.to_string(), toml::Value::Table(self.typed.clone()))]);
        toml::to_string(&spark)
    }
}
