//! What was learned of drawn faces: the rows, what follows from them, and its files.

use super::problem::shown;
use super::tree_toml::{TreeFileError, read_tree, write_tree};
use super::u_net::{NetError, read_u_net};
use crate::fracture::FaceModel;
use crate::net::UNet;
use crate::stats::Logistic;
use crate::tree::{FitError, Row, Settings, Training, Tree, fit};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fmt::Write;
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
    /// Something in a table or a file of weights.
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
    /// Not the TOML that weights must be.
    #[error("{file}: {problem}")]
    Weights {
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
    /// Weights that do not settle.
    #[error("{file}: no weights follow from the rows; allowed: rows of both answers")]
    NoWeights {
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

const WEIGHTS: &str = "face-weights.toml";
const NET: &str = "face-net.toml";
const SHIPPED_WEIGHTS: &str = include_str!("../../models/face-weights.toml");

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

/// How far weights are held back, in rows' worth (judgements, on faces left out).
const PATCH_RIDGE: f64 = 50.0;
const RIM_RIDGE: f64 = 10.0;
const SIDE_RIDGE: f64 = 20.0;

/// A tree that is fitted to the rows of a table.
struct Grown {
    file: &'static str,
    shipped: &'static str,
    table: Table,
    /// Questions and rows in a leaf (judgements, on faces left out).
    most: (usize, usize),
    columns: fn() -> Vec<String>,
}

const PATCH_TREE: Grown = Grown {
    file: "face-patches.toml",
    shipped: include_str!("../../models/face-patches.toml"),
    table: PATCHES,
    most: (6, 15),
    columns: FaceModel::patch_columns,
};
const RIM_TREE: Grown = Grown {
    file: "face-rims.toml",
    shipped: include_str!("../../models/face-rims.toml"),
    table: RIMS,
    most: (5, 8),
    columns: FaceModel::rim_columns,
};
const SIDE_TREE: Grown = Grown {
    file: "face-sides.toml",
    shipped: include_str!("../../models/face-sides.toml"),
    table: SIDES,
    most: (6, 12),
    columns: FaceModel::side_columns,
};

/// The column that holds the answer, and the one that names the face that was drawn.
const ANSWER: &str = "answer";
const SEED: &str = "seed";
/// Figures that are kept of a weight.
const FIGURES: usize = 5;
const FORMAT: &str = "snapspark weights";

/// The network that looks at photos of faces, as it ships.
pub fn face_net() -> Result<UNet, NetError> {
    let [shown, said] = FaceModel::net_shape();
    read_u_net(NET, include_str!("../../models/face-net.toml"), shown, said)
}

/// The model that ships.
pub fn face_model() -> Result<FaceModel, FaceModelError> {
    let twin: WeightsTwin = toml::from_str(SHIPPED_WEIGHTS)
        .map_err(|e| FaceModelError::Weights { file: WEIGHTS, problem: Box::new(e) })?;
    twin.check()?;
    let rims = FaceModel::rim_columns();
    Ok(FaceModel {
        net: face_net()?,
        patches: twin.patches.weights("patches", &FaceModel::patch_columns())?,
        patch_tree: PATCH_TREE.tree()?,
        border: twin.border.weights("border", &rims)?,
        all_round: twin.all_round.weights("all_round", &rims)?,
        through: twin.through.weights("through", &rims)?,
        rim_tree: RIM_TREE.tree()?,
        side: twin.side.weights("side", &FaceModel::side_columns())?,
        side_tree: SIDE_TREE.tree()?,
    })
}

/// Every part as it follows from the rows that ship.
pub fn face_parts() -> Result<[FacePart; 4], FaceModelError> {
    Ok([weights()?, PATCH_TREE.part()?, RIM_TREE.part()?, SIDE_TREE.part()?])
}

fn weights() -> Result<FacePart, FaceModelError> {
    let [patches, rims, sides] = [
        (PATCHES, FaceModel::patch_columns()),
        (RIMS, FaceModel::rim_columns()),
        (SIDES, FaceModel::side_columns()),
    ];
    let mut text = format!("format = \"{FORMAT}\"\nversion = 1\n");
    let mut count = 0;
    let mut add = |name: &str,
                   file,
                   rows: &[Row],
                   columns: &[String],
                   answer: &dyn Fn(usize) -> Option<bool>,
                   ridge| {
        let rows: Vec<(Vec<f64>, bool)> =
            rows.iter().filter_map(|r| Some((r.values.clone(), answer(r.label)?))).collect();
        let found = Logistic::fitted(&rows, ridge).ok_or(FaceModelError::NoWeights { file })?;
        write_weights(&mut text, name, &found, columns);
        count += columns.len();
        Ok::<_, FaceModelError>(())
    };
    let yes = |label: usize| Some(label == 1);
    add("patches", PATCHES.file, &patches.0.rows(&patches.1)?, &patches.1, &yes, PATCH_RIDGE)?;
    let faces = rims.0.rows(&rims.1)?;
    // none, partial, all round, through
    add("border", RIMS.file, &faces, &rims.1, &|l| Some(l == 1 || l == 2), RIM_RIDGE)?;
    add("all_round", RIMS.file, &faces, &rims.1, &|l| (l == 1 || l == 2).then_some(l == 2), RIM_RIDGE)?;
    add("through", RIMS.file, &faces, &rims.1, &|l| (l == 0 || l == 3).then_some(l == 3), RIM_RIDGE)?;
    add("side", SIDES.file, &sides.0.rows(&sides.1)?, &sides.1, &yes, SIDE_RIDGE)?;
    Ok(FacePart {
        file: WEIGHTS,
        rows: "face_patches.csv, face_rims.csv and face_sides.csv",
        shipped: SHIPPED_WEIGHTS,
        what: format!("{count} weights"),
        text,
    })
}

impl Grown {
    /// As it ships.
    fn tree(&self) -> Result<Tree, FaceModelError> {
        let file = self.file;
        let tree = read_tree(self.shipped).map_err(|problem| FaceModelError::Tree { file, problem })?;
        let columns = (self.columns)();
        let wrong = |place: &str, got: String, allowed: String| {
            Err(FaceModelError::Value { file, place: place.to_owned(), got, allowed })
        };
        if tree.features() != columns {
            return wrong("features", tree.features().join(", "), columns.join(", "));
        }
        if tree.classes() != self.table.answers {
            return wrong("classes", tree.classes().to_string(), self.table.answers.to_string());
        }
        Ok(tree)
    }

    /// As it follows from its rows.
    fn part(&self) -> Result<FacePart, FaceModelError> {
        let (features, (depth, leaf)) = ((self.columns)(), self.most);
        let settings = Settings::exact(features.len(), depth, leaf);
        let rows = self.table.rows(&features)?;
        let tree = fit(&Training { features, classes: self.table.answers, rows }, &settings)?;
        let file = self.file;
        let text = write_tree(&tree).map_err(|problem| FaceModelError::Tree { file, problem })?;
        let leaves = tree.root().all().iter().filter(|n| n.depth() == 0).count();
        let what = format!("{} features, {} answers, {leaves} leaves", tree.features().len(), tree.classes());
        Ok(FacePart { file, rows: self.table.file, shipped: self.shipped, what, text })
    }
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

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WeightsTwin {
    format: String,
    version: i64,
    patches: OddsTwin,
    border: OddsTwin,
    all_round: OddsTwin,
    through: OddsTwin,
    side: OddsTwin,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OddsTwin {
    offset: f64,
    weights: BTreeMap<String, f64>,
}

fn write_weights(text: &mut String, name: &str, found: &Logistic, columns: &[String]) {
    let _ = write!(text, "\n[{name}]\noffset = {}\n\n[{name}.weights]\n", figures(found.offset));
    for (column, weight) in columns.iter().zip(&found.weights) {
        let _ = writeln!(text, "{column} = {}", figures(*weight));
    }
}

/// A number with so many figures as are kept, as TOML has it.
fn figures(v: f64) -> String {
    let text = format!("{v:.*e}", FIGURES - 1);
    format!("{:?}", text.parse::<f64>().unwrap_or(v))
}

fn wrong(place: String, got: &str, allowed: String) -> FaceModelError {
    FaceModelError::Value { file: WEIGHTS, place, got: shown(got), allowed }
}

impl WeightsTwin {
    fn check(&self) -> Result<(), FaceModelError> {
        if self.format != FORMAT {
            return Err(wrong("format".to_owned(), &self.format, FORMAT.to_owned()));
        }
        if self.version != 1 {
            return Err(wrong("version".to_owned(), &self.version.to_string(), "1".to_owned()));
        }
        Ok(())
    }
}

impl OddsTwin {
    /// The weights of these columns, all of them and no others.
    fn weights(&self, name: &str, columns: &[String]) -> Result<Logistic, FaceModelError> {
        if let Some(strange) = self.weights.keys().find(|column| !columns.contains(column)) {
            return Err(wrong(format!("a name in {name}.weights"), strange, columns.join(", ")));
        }
        let number = |column: &str, found: Option<f64>| {
            let place = || format!("{name}, {column}");
            let v = found.ok_or_else(|| wrong(place(), "missing", "a number".to_owned()))?;
            if v.is_finite() {
                Ok(v)
            } else {
                Err(wrong(place(), &v.to_string(), "a finite number".to_owned()))
            }
        };
        let weights =
            columns.iter().map(|c| number(c, self.weights.get(c).copied())).collect::<Result<_, _>>()?;
        Ok(Logistic { offset: number("offset", Some(self.offset))?, weights })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_model_that_ships_is_read() {
        let model = face_model().unwrap();
        assert_eq!(model.patches.weights.len(), FaceModel::patch_columns().len());
        assert_eq!(model.side.weights.len(), FaceModel::side_columns().len());
    }

    #[test]
    fn weights_come_back_as_they_were_written_and_strange_ones_are_named() {
        let columns = ["a".to_owned(), "b".to_owned()];
        let odds = Logistic { offset: 3.0, weights: vec![-0.012_345_678, 1e-9] };
        let mut text = String::new();
        write_weights(&mut text, "x", &odds, &columns);
        let body = text.strip_prefix("\n[x]\n").unwrap().replace("[x.weights]", "[weights]");
        let twin: OddsTwin = toml::from_str(&body).unwrap();
        let back = twin.weights("x", &columns).unwrap();
        assert_eq!((back.offset, back.weights), (3.0, vec![-0.012_346, 1e-9]));
        let fault = |columns: &[&str]| {
            let columns: Vec<String> = columns.iter().map(|c| (*c).to_owned()).collect();
            twin.weights("x", &columns).unwrap_err().to_string()
        };
        assert_eq!(fault(&["a"]), "face-weights.toml: a name in x.weights is `b`; allowed: a");
        assert_eq!(fault(&["a", "b", "c"]), "face-weights.toml: x, c is `missing`; allowed: a number");
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
