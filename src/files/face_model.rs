//! What was learned of drawn faces: the rows, what follows from them, and its files.

use super::face_lines::{FaceLinesTwin, LINES, SHIPPED_LINES, add_lines, head};
use super::problem::shown;
use super::tree_toml::{TreeFileError, read_tree, write_tree};
use super::u_net::{NetError, read_u_net};
use crate::fracture::FaceModel;
use crate::net::UNet;
use crate::stats::Additive;
use crate::tree::{FitError, Row, Settings, Training, Tree, fit};
use thiserror::Error;

/// Why there is no model of faces.
#[derive(Debug, Error)]
pub enum FaceModelError {
    /// No such table.
    #[error("{file}: {problem}")]
    Form {
        /// File in `training-data/`.
        file: &'static str,
        /// What is wrong, with its line.
        #[source]
        problem: csv::Error,
    },
    /// Something in a table or a file of lines.
    #[error("{file}: {place} is `{got}`; allowed: {allowed}")]
    Value {
        /// The file.
        file: &'static str,
        /// Where in it.
        place: String,
        /// What is there.
        got: String,
        /// What may be there.
        allowed: String,
    },
    /// Not the TOML that lines must be.
    #[error("{file}: {problem}")]
    Lines {
        /// File in `models/`.
        file: &'static str,
        /// What is wrong.
        #[source]
        problem: Box<toml::de::Error>,
    },
    /// Not the file of a tree.
    #[error("{file}: {problem}")]
    Tree {
        /// File in `models/`.
        file: &'static str,
        /// What is wrong.
        #[source]
        problem: TreeFileError,
    },
    /// Lines that do not settle.
    #[error("{file}: no lines follow from the rows; allowed: rows of both answers")]
    NoLines {
        /// File in `training-data/`.
        file: &'static str,
    },
    /// No tree.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// No network.
    #[error(transparent)]
    Net(#[from] NetError),
}

/// A part of the model as it ships and as it follows from its rows.
pub struct FacePart {
    /// File in `models/`.
    pub file: &'static str,
    /// File in `training-data/`.
    pub rows: &'static str,
    /// The file that ships.
    pub shipped: &'static str,
    /// What it holds, in a word or two.
    pub what: String,
    /// As it follows from its rows.
    pub text: String,
}

const PATCH_TREE: &str = "face-patches.toml";
const NET: &str = "face-net.toml";
const SHIPPED_TREE: &str = include_str!("../../models/face-patches.toml");

/// A table of rows, with how many answers it has.
struct Table {
    file: &'static str,
    text: &'static str,
    answers: usize,
}

const PATCHES: Table = Table {
    file: "face_patches.csv",
    text: include_str!("../../training-data/face_patches.csv"),
    answers: 2,
};
const RIMS: Table =
    Table { file: "face_rims.csv", text: include_str!("../../training-data/face_rims.csv"), answers: 4 };
const SIDES: Table =
    Table { file: "face_sides.csv", text: include_str!("../../training-data/face_sides.csv"), answers: 2 };

/// How far lines are held back, in rows' worth (judgements, on faces left out).
const PATCH_RIDGE: f64 = 50.0;
const LINE_RIDGE: f64 = 30.0;
/// Questions and rows in a leaf of the tree (judgements, on faces left out).
const PATCH_LEAF: (usize, usize) = (6, 15);
/// The column that holds the answer, and the one that names the face that was drawn.
const ANSWER: &str = "answer";
const SEED: &str = "seed";

/// The network that looks at photos of faces, as it ships.
pub fn face_net() -> Result<UNet, NetError> {
    let [shown, said] = FaceModel::net_shape();
    read_u_net(NET, include_str!("../../models/face-net.toml"), shown, said)
}

/// The model that ships.
pub fn face_model() -> Result<FaceModel, FaceModelError> {
    let file = PATCH_TREE;
    let patch_tree = read_tree(SHIPPED_TREE).map_err(|problem| FaceModelError::Tree { file, problem })?;
    let patches = FaceModel::patch_columns();
    let wrong = |place: &str, got: String, allowed: String| {
        Err(FaceModelError::Value { file, place: place.to_owned(), got, allowed })
    };
    if patch_tree.features() != patches {
        return wrong("features", patch_tree.features().join(", "), patches.join(", "));
    }
    if patch_tree.classes() != PATCHES.answers {
        return wrong("classes", patch_tree.classes().to_string(), PATCHES.answers.to_string());
    }
    let twin = FaceLinesTwin::read(SHIPPED_LINES)?;
    let rims = FaceModel::rim_columns();
    Ok(FaceModel {
        net: face_net()?,
        patches: twin.patches.lines("patches", &patches)?,
        patch_tree,
        border: twin.border.lines("border", &rims)?,
        all_round: twin.all_round.lines("all_round", &rims)?,
        through: twin.through.lines("through", &rims)?,
        side: twin.side.lines("side", &FaceModel::side_columns())?,
    })
}

/// What a row with this label says; `None`: nothing.
type Answer<'a> = &'a dyn Fn(usize) -> Option<bool>;

/// Every part as it follows from the rows that ship.
pub fn face_parts() -> Result<[FacePart; 2], FaceModelError> {
    let [patches, rims, sides] = [
        (PATCHES, FaceModel::patch_columns()),
        (RIMS, FaceModel::rim_columns()),
        (SIDES, FaceModel::side_columns()),
    ];
    let mut text = head();
    let answered = |rows: &[Row], answer: Answer<'_>| -> Vec<(Vec<f64>, bool)> {
        rows.iter().filter_map(|r| Some((r.values.clone(), answer(r.label)?))).collect()
    };
    let none = |file| move || FaceModelError::NoLines { file };
    let yes = |label: usize| Some(label == 1);
    let cells = patches.0.rows(&patches.1)?;
    let lines = Additive::fitted(&answered(&cells, &yes), PATCH_RIDGE).ok_or_else(none(PATCHES.file))?;
    add_lines(&mut text, "patches", &lines, &patches.1);
    // none, partial, all round, through
    let faces = rims.0.rows(&rims.1)?;
    let of_faces: [(&str, Answer<'_>); 3] = [
        ("border", &|l| Some(l == 1 || l == 2)),
        ("all_round", &|l| (l == 1 || l == 2).then_some(l == 2)),
        ("through", &|l| (l == 0 || l == 3).then_some(l == 3)),
    ];
    for (name, answer) in of_faces {
        let lines = Additive::fitted(&answered(&faces, answer), LINE_RIDGE).ok_or_else(none(RIMS.file))?;
        add_lines(&mut text, name, &lines, &rims.1);
    }
    let rows = answered(&sides.0.rows(&sides.1)?, &yes);
    let lines = Additive::fitted(&rows, LINE_RIDGE).ok_or_else(none(SIDES.file))?;
    add_lines(&mut text, "side", &lines, &sides.1);
    let what = format!("{} lines", patches.1.len() + 3 * rims.1.len() + sides.1.len());
    let (depth, leaf) = PATCH_LEAF;
    let settings = Settings::exact(patches.1.len(), depth, leaf);
    let tree = fit(&Training { features: patches.1, classes: PATCHES.answers, rows: cells }, &settings)?;
    let file = PATCH_TREE;
    let tree_text = write_tree(&tree).map_err(|problem| FaceModelError::Tree { file, problem })?;
    let of = "face_patches.csv, face_rims.csv and face_sides.csv";
    Ok([
        FacePart { file: LINES, rows: of, shipped: SHIPPED_LINES, what, text },
        FacePart { file, rows: PATCHES.file, shipped: SHIPPED_TREE, what: shape(&tree), text: tree_text },
    ])
}

fn shape(tree: &Tree) -> String {
    let leaves = tree.root().all().iter().filter(|n| n.depth() == 0).count();
    format!("{} features, {} answers, {leaves} leaves", tree.features().len(), tree.classes())
}

impl Table {
    /// Rows with these columns by name.
    fn rows(&self, columns: &[String]) -> Result<Vec<Row>, FaceModelError> {
        let (file, classes) = (self.file, self.answers);
        let form = |problem| FaceModelError::Form { file, problem };
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(self.text.as_bytes());
        let header = reader.headers().map_err(form)?.clone();
        let wanted: Vec<&str> =
            [SEED, ANSWER].into_iter().chain(columns.iter().map(String::as_str)).collect();
        let wrong = |place: String, got: &str, allowed: String| FaceModelError::Value {
            file,
            place,
            got: shown(got),
            allowed,
        };
        if header != wanted {
            let got = header.iter().collect::<Vec<_>>().join(",");
            return Err(wrong("the header".to_owned(), &got, wanted.join(",")));
        }
        let mut rows = Vec::new();
        for (i, record) in reader.records().enumerate() {
            let record = record.map_err(form)?;
            let bad = |column: &str, got: &str, allowed: &str| {
                wrong(format!("row {}, {column}", i + 1), got, allowed.to_owned())
            };
            let answer = record.get(1).unwrap_or_default();
            let label = answer.parse().ok().filter(|label| *label < classes);
            let label = label.ok_or_else(|| bad(ANSWER, answer, &format!("0 to {}", classes - 1)))?;
            let number = |(name, got): (&String, &str)| {
                got.parse().ok().filter(|v: &f64| v.is_finite()).ok_or_else(|| bad(name, got, "a number"))
            };
            let values = columns.iter().zip(record.iter().skip(2)).map(number).collect::<Result<_, _>>()?;
            rows.push(Row { values, label, weight: 1.0 });
        }
        Ok(rows)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_model_that_ships_is_read() {
        let model = face_model().unwrap();
        assert_eq!(model.patches.lines.len(), FaceModel::patch_columns().len());
        assert_eq!(model.side.lines.len(), FaceModel::side_columns().len());
    }

    #[test]
    fn rows_are_read_by_name_and_a_bad_cell_is_named() {
        let columns = ["a".to_owned()];
        let rows = |text| Table { file: "t.csv", text, answers: 2 }.rows(&columns);
        let good = rows("# drawn\nseed,answer,a\n7,1,0.5\n").unwrap();
        assert_eq!((good[0].label, good[0].values.as_slice()), (1, [0.5].as_slice()));
        let fault = |text| rows(text).unwrap_err().to_string();
        assert_eq!(fault("seed,a\n"), "t.csv: the header is `seed,a`; allowed: seed,answer,a");
        assert_eq!(fault("seed,answer,a\n7,2,0.5\n"), "t.csv: row 1, answer is `2`; allowed: 0 to 1");
        assert_eq!(fault("seed,answer,a\n7,1,much\n"), "t.csv: row 1, a is `much`; allowed: a number");
    }
}
