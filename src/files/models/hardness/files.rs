use super::{At, Bibliography, FILE, ModelsError};
use crate::files::models::value::Range;
use crate::hardness::TestFile;
use crate::units::Hrc;
use serde::Deserialize;

/// Twin of [`TestFile`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Twin {
    name: String,
    hardness_hrc: Range,
    undecided_hrc: Range,
}

/// The files, each name once.
pub(super) fn read(twins: Vec<Twin>, books: &mut Bibliography) -> Result<Vec<TestFile>, ModelsError> {
    let mut all: Vec<TestFile> = Vec::new();
    for Twin { name, hardness_hrc, undecided_hrc } in twins {
        let entry = format!("file {name}");
        let at = |field| At { file: FILE, entry: &entry, field };
        if all.iter().any(|file| file.name == name) {
            return Err(ModelsError::value(at("name"), "there twice", "each once"));
        }
        let hardness = hardness_hrc.sourced(books, at("hardness_hrc"), Hrc::new)?;
        let undecided = undecided_hrc.sourced(books, at("undecided_hrc"), Hrc::new)?;
        all.push(TestFile { name, hardness, undecided });
    }
    Ok(all)
}
