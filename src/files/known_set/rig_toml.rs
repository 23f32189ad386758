//! A trained rig as TOML: lines of its measures against the trend, scores of what had been left out, the tree.

use crate::estimate::{Rig, TrainedRig};
use crate::features::FeatureName;
use crate::files::tree_toml::{TreeFileError, read_tree, write_tree};
use crate::known::{By, Correction, Exposures, Line, Personal, Scores, SparkMeasure, Trend};
use serde::{Deserialize, Serialize};
use thiserror::Error;

const VERSION: u32 = 2;

/// What is wrong with the file of a rig.
#[derive(Debug, Error)]
pub enum RigFileError {
    /// Not the TOML that the file must be.
    #[error("{0}")]
    Form(#[from] Box<toml::de::Error>),
    /// Another version.
    #[error("version is {got}; allowed: {VERSION}")]
    Version {
        /// What it says.
        got: u32,
    },
    /// Lines that are not those of all measures, or no numbers.
    #[error("the lines are not one for each measure, each with finite numbers")]
    Lines,
    /// Scores that are none.
    #[error("the scores are not shares from 0 to 1, one of votes and one of chance for each steel-session")]
    Scores,
    /// The tree, or one of other columns.
    #[error("the tree: {0}")]
    Tree(#[from] TreeFileError),
    /// A tree that does not ask what the lines tell.
    #[error("the tree asks for {got}; allowed: {allowed}")]
    Columns {
        /// What it asks for.
        got: String,
        /// What the lines tell.
        allowed: String,
    },
    /// Cannot be written.
    #[error("{0}")]
    Write(#[from] toml::ser::Error),
}

/// Twin of [`TrainedRig`].
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct FileTwin {
    trained_rig: u32,
    name: String,
    measuring: u32,
    records: usize,
    photos: Option<RigTwin>,
    words: Option<RigTwin>,
}

/// Twin of [`Rig`].
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct RigTwin {
    usual_exposure_s: Option<f64>,
    right: usize,
    votes_needed: Vec<f64>,
    chance_needed: Vec<f64>,
    tree: String,
    line: Vec<LineTwin>,
}

/// Twin of [`Line`].
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct LineTwin {
    measure: String,
    readings: usize,
    centre: f64,
    information: [f64; 3],
    weighed: [f64; 2],
    scatter: f64,
    drift: f64,
}

/// The file of a rig.
pub fn write_rig(rig: &TrainedRig) -> Result<String, RigFileError> {
    let twin = |rig: &Option<Rig>| rig.as_ref().map(RigTwin::of).transpose();
    Ok(toml::to_string(&FileTwin {
        trained_rig: VERSION,
        name: rig.name.clone(),
        measuring: rig.measuring,
        records: rig.records,
        photos: twin(&rig.photos)?,
        words: twin(&rig.words)?,
    })?)
}

/// The rig of a file.
pub fn read_rig(text: &str, trend: &Trend, exposures: &Exposures) -> Result<TrainedRig, RigFileError> {
    let file: FileTwin = toml::from_str(text).map_err(Box::new)?;
    if file.trained_rig != VERSION {
        return Err(RigFileError::Version { got: file.trained_rig });
    }
    let rig = |twin: Option<RigTwin>, by| twin.map(|twin| twin.rig(by, trend, exposures)).transpose();
    Ok(TrainedRig {
        name: file.name,
        measuring: file.measuring,
        records: file.records,
        photos: rig(file.photos, By::Photos)?,
        words: rig(file.words, By::Words)?,
    })
}

impl RigTwin {
    fn of(rig: &Rig) -> Result<Self, RigFileError> {
        let correction = &rig.personal.correction;
        let line = |measure: SparkMeasure| {
            let line = &correction.lines[measure as usize];
            LineTwin {
                measure: measure.column().column().to_string(),
                readings: line.readings,
                centre: line.centre,
                information: line.information,
                weighed: line.weighed,
                scatter: line.scatter,
                drift: line.drift,
            }
        };
        Ok(Self {
            usual_exposure_s: correction.exposures.usual_s,
            right: rig.scores.right,
            votes_needed: rig.scores.bands.clone(),
            chance_needed: rig.scores.carbon.clone(),
            tree: write_tree(&rig.personal.tree)?,
            line: SparkMeasure::ALL.map(line).into(),
        })
    }

    fn rig(self, by: By, trend: &Trend, exposures: &Exposures) -> Result<Rig, RigFileError> {
        let fits = |(twin, measure): (&LineTwin, SparkMeasure)| {
            let numbers = twin.information.iter().chain(&twin.weighed);
            let [a, b, c] = twin.information;
            let plus = a > 0.0 && a * c > b * b && twin.scatter > 0.0 && twin.drift > 0.0;
            let finite = numbers.chain([&twin.centre, &twin.scatter, &twin.drift]).all(|n| n.is_finite());
            twin.measure == measure.column().column() && finite && plus
        };
        let all = self.line.len() == SparkMeasure::ALL.len();
        if !(all && self.line.iter().zip(SparkMeasure::ALL).all(fits)) {
            return Err(RigFileError::Lines);
        }
        let lines = std::array::from_fn(|i| {
            let LineTwin { readings, centre, information, weighed, scatter, drift, .. } = self.line[i];
            Line { centre, information, weighed, scatter, drift, readings }
        });
        let tree = read_tree(&self.tree)?;
        let correction = Correction {
            by,
            exposures: Exposures { usual_s: self.usual_exposure_s.filter(|s| *s > 0.0), ..*exposures },
            lines,
        };
        let got = tree.features().join(", ");
        let personal = Personal::kept(trend, correction, tree);
        let allowed: Vec<&str> = personal.columns().into_iter().map(FeatureName::column).collect();
        if got != allowed.join(", ") || personal.tree.classes() != 6 {
            return Err(RigFileError::Columns { got, allowed: allowed.join(", ") });
        }
        let share = |s: &f64| (0.0..=1.0 + f64::EPSILON).contains(s);
        let judged = self.votes_needed.len();
        let all = self.chance_needed.len() == judged && self.right <= judged;
        if !(all && self.votes_needed.iter().chain(&self.chance_needed).all(share)) {
            return Err(RigFileError::Scores);
        }
        let scores = Scores { bands: self.votes_needed, carbon: self.chance_needed, right: self.right };
        Ok(Rig { personal, scores })
    }
}
