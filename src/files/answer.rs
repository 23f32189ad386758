use super::Observed;
use super::check_twin::CheckTwin;
use super::estimate_twin::EstimateTwin;
use super::prediction_twin::PredictionTwin;
use crate::crosscheck::{CrossCheck, Question};
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
/// `check` adds these beside `prediction`, which stays as it is:
///
/// ```json
/// {
///   "estimate": {
///     "sparks": {
///       "answer": "bands",
///       "votes": [{ "from_wt_pct": 0.65, "to_wt_pct": 0.85, "share": 0.62 }],
///       "band": { "from_wt_pct": 0.65, "to_wt_pct": 0.85 },
///       "likely": { "from_wt_pct": 0.65 },
///       "path": [{ "asked": "rays", "threshold": 3.2, "value": 8.0, "above": true }],
///       "doubts": ["state_unknown"], "missing": ["onset"]
///     },
///     "face": {
///       "answer": "read", "class": "all_round", "criterion": "visible case depth, seen on the fracture",
///       "depth_mm": { "best": 0.5, "low": 0.4, "high": 0.6 }, "measured": true,
///       "per_side_mm": [{ "best": 0.5, "low": 0.4, "high": 0.6 }], "path": [], "doubts": ["no_blank"]
///     }
///   },
///   "took": {
///     "answer": "partly", "part": "finished_edge",
///     "carbon_wt_pct": { "best": 0.51, "low": 0.38, "high": 0.66 },
///     "wanted_wt_pct": 0.6, "least_wt_pct": 0.4, "chance_of_wanted": 0.2, "chance_below_least": 0.1
///   },
///   "fits": "yes",
///   "agreements": [{
///     "quantity": "rim", "unit": "mm", "class": "all_round",
///     "seen": { "best": 0.5, "sd_down": 0.06, "sd_up": 0.06 },
///     "expected": { "best": 0.58, "sd_down": 0.13, "sd_up": 0.11 }, "place": 0.3, "side": "within"
///   }],
///   "usual_share": 0.7,
///   "causes": [{ "key": "cold_steel", "share": 0.1, "change": { "temperature_shift_k": -30.0 } }],
///   "finish": {
///     "thickness_mm": 1.1, "medium": "oil", "may_crack": false,
///     "as_quenched_hrc": { "best": 60.0, "low": 54.0, "high": 64.0 },
///     "depth_50_hrc": { "answer": "to", "depth_mm": { "best": 0.6, "low": 0.58, "high": 0.62 } },
///     "depth_550_hv": { "answer": "nowhere" },
///     "after_open_air_wt_pct": 0.45, "richest_after_open_air_wt_pct": 0.62, "outlives_open_air": false
///   },
///   "advice": {
///     "first": { "code": "harden", "medium": "oil", "may_crack": false, "sealed": true },
///     "then": { "code": "temper" }
///   }
/// }
/// ```
///
/// - `estimate` follows from the observations alone, `prediction` from the soak alone; each part of
///   `estimate` is left out if nobody told of it. Its `answer` is `bands`, `not_plain_carbon` (with
///   `looks_like`) or `cannot_tell` for `sparks`, `read` or `cannot_tell` (with `why`) for `face`.
///   Votes are those of trees fitted on drawn rows: no measured probabilities. A `path` entry without
///   `value` was not said; a band without `to_wt_pct` is open.
/// - `took.answer`: `yes`, `partly`, `no`, `cannot_tell`; `part`: `finished_edge`, or `face` with
///   `ground_off_mm`; `depth` is there if a depth is wanted.
/// - `fits`: `yes`, `shallower_or_poorer`, `deeper_or_richer`, `witnesses_contradict`, `cannot_tell`.
/// - `agreements`: `quantity` is `sparks`, `inward`, `rim`, `mass_gain` or `file`; votes run from the
///   leanest or shallowest band up; `place` is the share of what should be seen that is poorer,
///   shallower or softer; `side` is `less`, `within` or `more`.
/// - `causes` and `usual_share` (a run without fault) sum to 1: judged weights, the likeliest first.
/// - `finish` depths: `nowhere`, `to`, `throughout`, or `does_not_apply` by the rule for 550 HV.
///   `after_open_air_wt_pct` is what a short heat would leave of the part that `took` speaks of.
/// - `advice` codes: `read_coupon`, `settle` (with `cause`), `leave_piece`, `harden`, `temper`,
///   `soak_again`, `reach_the_middle`, `tell_the_edge`, `grind_less`, `give_up`.
///
/// In both:
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
    #[serde(flatten, skip_serializing_if = "Option::is_none")]
    check: Option<CheckTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    estimate: Option<EstimateTwin>,
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
            check: None,
            estimate: None,
            prediction: PredictionTwin::new(prediction, criteria),
        }
    }

    /// What `check` answers.
    pub fn check(run: &str, question: &Question, check: &CrossCheck, observed: &Observed) -> Self {
        Self {
            command: "check",
            check: Some(CheckTwin::new(check)),
            estimate: Some(EstimateTwin::new(observed)),
            ..Self::soak(run, question.prediction, question.physics.criteria)
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
