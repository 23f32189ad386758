use super::tree_toml::{TreeFileError, write_tree};
use crate::estimate::DepthBand;
use crate::features::FaceColumn;
use crate::tree::{FitError, Row, Settings, Training, Tree, fit};
use thiserror::Error;

/// What is wrong with training rows of faces.
#[derive(Debug, Error)]
pub enum FractureRowsError {
    /// No such table.
    #[error("{0}")]
    Form(#[from] csv::Error),
    /// A column that is not there.
    #[error("column `{column}` is missing")]
    Column {
        /// Its name.
        column: &'static str,
    },
    /// Something in a row; rows are counted from 1 after the header.
    #[error("row {row}: {column} is `{got}`; allowed: {allowed}")]
    Cell {
        /// Its number.
        row: usize,
        /// Its column.
        column: &'static str,
        /// What it holds.
        got: String,
        /// What it may hold.
        allowed: String,
    },
    /// No fit.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// No file of it.
    #[error(transparent)]
    File(#[from] TreeFileError),
}

const BAND: &str = "band";

/// The rows of `training-data/fracture_rows.csv`: drawn from published statements, none seen.
pub fn fracture_training() -> Result<Training, FractureRowsError> {
    read(include_str!("../../training-data/fracture_rows.csv"))
}

/// The tree of faces as it follows from the training data, and its file.
pub fn face_tree() -> Result<(Tree, String), FractureRowsError> {
    let tree = fit(&fracture_training()?, &fracture_settings())?;
    let text = write_tree(&tree)?;
    Ok((tree, text))
}

/// The columns of [`FaceColumn::TREE`], then the band.
fn read(text: &str) -> Result<Training, FractureRowsError> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let header = reader.headers()?.clone();
    let place = |column: &'static str| {
        header.iter().position(|name| name == column).ok_or(FractureRowsError::Column { column })
    };
    let columns = FaceColumn::TREE.map(FaceColumn::column);
    let places: Vec<usize> = columns.iter().map(|c| place(c)).collect::<Result<_, _>>()?;
    let band = place(BAND)?;
    let mut rows = Vec::new();
    for (at, record) in reader.records().enumerate() {
        let record = record?;
        let cell = |place: usize| record.get(place).unwrap_or_default();
        let wrong = |column, place, allowed: &str| FractureRowsError::Cell {
            row: at + 1,
            column,
            got: super::problem::shown(cell(place)),
            allowed: allowed.to_owned(),
        };
        let number = |(column, place): (&&'static str, &usize)| {
            cell(*place).parse::<f64>().map_err(|_| wrong(column, *place, "a number"))
        };
        let values = columns.iter().zip(&places).map(number).collect::<Result<_, _>>()?;
        let label = DepthBand::WORDS.iter().position(|word| *word == cell(band));
        let label = label.ok_or_else(|| wrong(BAND, band, &DepthBand::WORDS.join(", ")))?;
        rows.push(Row { values, label, weight: 1.0 });
    }
    let features = columns.map(str::to_owned).to_vec();
    Ok(Training { features, classes: DepthBand::ALL.len(), rows })
}

/// How `models/fracture-depth.toml` is fitted from those rows. All sizes are judgements: a share is read to
/// about 0.01 of the thickness, as the rows are drawn; a thickness to 0.1 mm. Words are exact here: their
/// rows are already drawn among neighbouring words. Four questions at most: more hang on the draws
/// (with five, 1.5 to 3.3 % of the answers changed with the seed; with four 0.3 %).
pub fn fracture_settings() -> Settings {
    let dither = |column| match column {
        FaceColumn::RimShare => 0.01,
        FaceColumn::Thickness => 0.1,
        FaceColumn::Rim | FaceColumn::TextureRim | FaceColumn::TextureCore | FaceColumn::BentFirst => 0.0,
    };
    Settings { max_depth: 4, min_leaf: 20, seed: 1, dither: FaceColumn::TREE.map(dither).to_vec(), draws: 16 }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "rim,rim_share,thickness_mm,texture_rim,texture_core,bent_first,band,origin\n";

    #[test]
    fn rows_are_read_by_name_and_a_bad_cell_is_named() {
        let good = read(&format!("{HEAD}2,0.1,5,2,0,0,0.2 to 0.5 mm,drawn\n")).unwrap();
        assert_eq!(good.rows[0].values, [2.0, 0.1, 5.0, 2.0, 0.0, 0.0]);
        assert_eq!((good.rows[0].label, good.classes), (2, 6));

        let fault = |text: &str| read(text).unwrap_err().to_string();
        assert_eq!(fault("rim,band\n"), "column `rim_share` is missing");
        let deep = fault(&format!("{HEAD}2,0.1,5,2,0,0,deep,drawn\n"));
        assert!(deep.starts_with("row 1: band is `deep`; allowed: none, under 0.2 mm"), "{deep}");
        let word = fault(&format!("{HEAD}2,much,5,2,0,0,none,drawn\n"));
        assert_eq!(word, "row 1: rim_share is `much`; allowed: a number");
        assert!(fault(&format!("{HEAD}2,0.1\n")).contains("found record with 2 fields"));
    }
}
