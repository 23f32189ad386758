//! The training data that ships, and the trees that follow from it.

use super::tree_toml::{TreeFileError, write_tree};
use crate::features::FeatureName;
use crate::known::TrendRows;
use crate::steel::CarbonBand;
use crate::tree::{FitError, Row, Settings, Training, Tree, fit};
use crate::units::CarbonPercent;
use thiserror::Error;

/// Why no tree follows from the training data.
#[derive(Debug, Error)]
pub enum TrainError {
    /// The table cannot be read.
    #[error("{file}: {problem}")]
    Table {
        /// File in `training-data/`.
        file: &'static str,
        /// What is wrong, with its line.
        #[source]
        problem: csv::Error,
    },
    /// A column or a value is not what it must be.
    #[error("{file} row {row}, {column}: `{got}`; allowed: {allowed}")]
    Value {
        /// File in `training-data/`.
        file: &'static str,
        /// Row, from 1, the header aside.
        row: usize,
        /// Column.
        column: &'static str,
        /// What is there.
        got: String,
        /// What may be there.
        allowed: &'static str,
    },
    /// No fit.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// No file of it.
    #[error(transparent)]
    File(#[from] TreeFileError),
}

const SPARK_ROWS: &str = "spark_rows.csv";
const CARBON: &str = "carbon_wt_pct";

/// How the spark tree is fitted. Leaf size and draws were chosen on rows held back from the fit, a third at a time,
/// and by how few answers other seeds change.
pub fn spark_settings() -> Settings {
    Settings {
        max_depth: 6,
        min_leaf: 15,
        seed: 1,
        // how far an eye reads the same stream differently, and the step that the rows are written to (judgement):
        // share bursting, rays, tiers, onset, bursts, carriers, length, fine sparking; hard or soft is no reading
        dither: vec![0.02, 0.2, 0.1, 0.02, 0.05, 0.03, 0.02, 0.1, 0.0],
        // no multiple of four: its parts would end where thresholds lie, and the seed would have no say at all
        draws: 14,
    }
}

/// The rows of `training-data/spark_rows.csv`: drawn from the published trend, none seen.
pub fn spark_rows() -> Result<TrendRows, TrainError> {
    let text = include_bytes!("../../training-data/spark_rows.csv");
    let table = |problem| TrainError::Table { file: SPARK_ROWS, problem };
    let mut reader = csv::Reader::from_reader(text.as_slice());
    let header = reader.headers().map_err(table)?.clone();
    let column = |name: &'static str| {
        let lost = TrainError::Value {
            file: SPARK_ROWS,
            row: 0,
            column: name,
            got: header.iter().collect::<Vec<_>>().join(","),
            allowed: "a header that names this column",
        };
        header.iter().position(|h| h == name).ok_or(lost)
    };
    let columns: Vec<(usize, &'static str)> = FeatureName::TREE
        .iter()
        .map(|n| Ok((column(n.column())?, n.column())))
        .collect::<Result<_, TrainError>>()?;
    let carbon = column(CARBON)?;
    let (mut rows, mut carbons) = (Vec::new(), Vec::new());
    for (i, record) in reader.records().enumerate() {
        let record = record.map_err(table)?;
        let number = |at: usize, column: &'static str| {
            let got = record.get(at).unwrap_or("");
            let wrong = || TrainError::Value {
                file: SPARK_ROWS,
                row: i + 1,
                column,
                got: got.into(),
                allowed: "a number",
            };
            got.parse::<f64>().map_err(|_| wrong())
        };
        let values = columns.iter().map(|&(at, name)| number(at, name)).collect::<Result<_, _>>()?;
        let wt = number(carbon, CARBON)?;
        let band = CarbonPercent::new(wt).map(CarbonBand::of).map_err(|_| TrainError::Value {
            file: SPARK_ROWS,
            row: i + 1,
            column: CARBON,
            got: wt.to_string(),
            allowed: "0 to 6.67",
        })?;
        rows.push(Row { values, label: band.index(), weight: 1.0 });
        carbons.push(wt);
    }
    let features = FeatureName::TREE.iter().map(|n| n.column().to_string()).collect();
    let training = Training { features, classes: CarbonBand::ALL.len(), rows };
    Ok(TrendRows { training, carbon: carbons })
}

/// The spark tree as it follows from the training data, and its file.
pub fn spark_tree() -> Result<(Tree, String), TrainError> {
    let tree = fit(&spark_rows()?.training, &spark_settings())?;
    let text = write_tree(&tree)?;
    Ok((tree, text))
}
