use super::prediction_twin::PredictionTwin;
use crate::prediction::{Criteria, Prediction};
use serde::Serialize;

/// The answer of a command as JSON. One schema for all commands; a command leaves out what it does
/// not say.
///
/// ```json
/// {
///   "schema": "snapspark-answer", "version": 1,
///   "command": "soak", "run": "run.toml",
///   "prediction": {
///     "stages": [{
///       "stage": "cooling in the pack",
///       "readings": {
///         "visible_case_depth": {
///           "best": 0.21, "low": 0.10, "high": 0.31, "unit": "mm",
///           "criterion": "0.40 %C",
///           "doubts": [{ "doubt": "temperature", "down": -0.03, "up": 0.03 }]
///         }
///       },
///       "profile": { "depth_mm": [0.0], "carbon_wt_pct": [0.93] }
///     }],
///     "inputs": { "core_wt_pct": 0.175 },
///     "notes": [{ "code": "lag", "minutes": 6.5 }]
///   }
/// }
/// ```
///
/// - `low` and `high`: range that the value should lie in nine times out of ten, judged; a reading
///   without doubt has both equal to `best`.
/// - `through` and `high_through`: the best value, or the upper end, of a depth is the whole section,
///   because carbon never falls to the criterion; left out where false.
/// - `doubts`: what each doubt alone moves, in the unit of the reading, the largest first.
/// - `stages` run in the order of the heat; the last one is the coupon as it is now. `edge_carbon`
///   and `ground_face_carbon` speak of the piece, all else of the coupon.
/// - `unit` is one of `wt%`, `mm`, `g/m2`, `mg`, `min`, `C`.
/// - Numbers are not rounded. Names may be added within a version; none changes its meaning.
#[derive(Debug, Serialize)]
pub struct Answer {
    schema: &'static str,
    version: u32,
    command: &'static str,
    run: String,
    prediction: PredictionTwin,
}

/// Version of [`Answer`].
const VERSION: u32 = 1;

impl Answer {
    /// What `soak` answers for the run sheet called `run`.
    pub fn soak(run: &str, prediction: &Prediction, criteria: &Criteria) -> Self {
        Self {
            schema: "snapspark-answer",
            version: VERSION,
            command: "soak",
            run: run.to_string(),
            prediction: PredictionTwin::new(prediction, criteria),
        }
    }

    /// As text, with a line feed at the end.
    pub fn json(&self) -> Result<String, serde_json::Error> {
        serde_json::to_string_pretty(self).map(|mut s| {
            s.push('\n');
            s
        })
    }
}
