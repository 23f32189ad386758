use super::ModelsError;
use super::bibliography::Bibliography;
use super::error::parse;
use super::value::{At, Single, bounded};
use crate::features::{FaceColumn, FaceReading};
use crate::files::read_tree;
use crate::tree::Tree;
use crate::units::Temperature;
use serde::Deserialize;

const FILE: &str = "fracture.toml";
const TREE_FILE: &str = "fracture-depth.toml";
/// Bands of depth that the tree votes on.
const BANDS: usize = 6;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    reading: ReadingTwin,
}

/// Twin of [`FaceReading`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ReadingTwin {
    length_mm: Single<f64>,
    share: Single<f64>,
    harmless_temper_celsius: Single<f64>,
}

/// Reads `fracture.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<FaceReading, ModelsError> {
    let twin = parse::<FileTwin>(FILE, text)?.reading;
    let at = |field| At { file: FILE, entry: "reading", field };
    let length = bounded("reading error", "mm", 0.01, 1.0);
    let share = bounded("reading error", "of the thickness", 0.001, 0.25);
    Ok(FaceReading {
        length_mm: twin.length_mm.sourced(books, at("length_mm"), length)?,
        share: twin.share.sourced(books, at("share"), share)?,
        harmless_temper: twin.harmless_temper_celsius.sourced(
            books,
            at("harmless_temper_celsius"),
            Temperature::from_celsius,
        )?,
    })
}

/// Reads `fracture-depth.toml`: a tree over the columns of a face, voting on six bands of depth.
pub(super) fn read_depth_tree(text: &str) -> Result<Tree, ModelsError> {
    let at = |field| At { file: TREE_FILE, entry: "tree", field };
    let tree = read_tree(text)
        .map_err(|problem| ModelsError::Tree { file: TREE_FILE, problem: Box::new(problem) })?;
    let wanted = FaceColumn::TREE.map(FaceColumn::column);
    if tree.features() != wanted {
        return Err(ModelsError::value(at("features"), tree.features().join(", "), wanted.join(", ")));
    }
    if tree.classes() != BANDS {
        return Err(ModelsError::value(at("classes"), tree.classes().to_string(), BANDS.to_string()));
    }
    Ok(tree)
}
