use super::Observed;
use super::advice_twin::AdviceTwin;
use super::afterwards_twin::AfterwardsTwin;
use super::audit_twin::AuditTwin;
use super::check_twin::CheckTwin;
use super::earlier_twin::EarlierTwin;
use super::estimate_twin::EstimateTwin;
use super::face_photos_twin::FacePhotosTwin;
use super::known_coupon_twin::VisibleEdgeTwin;
use super::known_set::{KnownReading, KnownSet};
use super::known_twin::KnownTwin;
use super::photos_twin::PhotosTwin;
use super::plan_twin::{PlanTwin, SecondSoakTwin};
use super::prediction_twin::PredictionTwin;
use super::steps_twin::SetStep;
use super::trained_twin::TrainedTwin;
use crate::audit::{Advice, RigAudit};
use crate::crosscheck::{CrossCheck, EarlierRuns, Question};
use crate::estimate::TrainedRig;
use crate::fracture::LookedAtFaces;
use crate::known::{By, KnownFace, Piece, RigPieces, VisibleEdge};
use crate::plan::{Intent, Onward, SoakPlan};
use crate::prediction::{Criteria, Prediction, Prior};
use crate::spark::LookedAt;
use crate::units::Interval;
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
///     "depths_in": "oil",
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
/// - `finish` depths, in the bath `depths_in`, or as if `all_martensite` where no section is known: `nowhere`, `to`, `throughout`, or `does_not_apply` by the rule for 550 HV.
///   `after_open_air_wt_pct` is what a short heat would leave of the part that `took` speaks of.
/// - `inference` (without `--quick`): `stories` weighed and the even ones that they are worth; `usual_share_before`, of a run
///   without fault before anything was seen; what each thing that was seen says `by_itself` (`seen` as in `agreements`, or
///   `signs`); what the `run` must have been, `as_told` and `by_all_seen`; steady soaks that carry carbon as far; the `cheapest_check` between the two
///   likeliest (`null`: a run without fault), with `chance_of_yes`, what it `reads`, the `orders` of sparks or the
///   likeliest `band`; `power`: share of the runs with a cause that is found by
///   the `best` test of such readings at 5 of 100 false alarms, and that is `called` a mismatch, as `false_alarms` of the
///   sound runs are. Not there where nothing was seen.
/// - `history` (with `--history`; `soak`, `check`, `plan`): what is `taken` of the run `without` and `with` the earlier runs,
///   nine in ten; the runs `used` with the share of a run without fault in them; those `left_out`: `itself`, `unreadable`,
///   `copy`, `no_furnace`, `other_furnace`, `nothing_shared`, `nothing_seen`, `nothing_open`, `not_predicted`, with `what`.
/// - `advice` codes: `read_coupon`, `settle` (with `cause`), `leave_piece`, `harden`, `temper`,
///   `soak_again`, `reach_the_middle`, `tell_the_edge`, `grind_less`, `give_up`.
///
/// `spark` gives `estimate` (sparks alone) and `photos`, and no `run` or `prediction`; `check` adds `photos` where the
/// run sheet names some:
///
/// ```json
/// {
///   "photos": {
///     "coupon": {
///       "photos": [{
///         "photo": "a.jpg", "touch": 1,
///         "carriers_traced": 41, "bursts_traced": 23,
///         "contact_px": [312.0, 1504.0], "contact_sd_px": 12.0,
///         "shutter": { "seconds": 0.0167, "flights": 1.6, "too_short": false, "too_long": false },
///         "shows": { "carriers": { "best": 47.3, "low": 19.0, "high": 78.0 } }
///       }],
///       "touches": [{ "touch": 1, "against_first": { "best": 1.0, "low": 1.0, "high": 1.0 }, "shows": {} }],
///       "surface_touches": 1,
///       "pooled": { "photos": 2, "share_bursting_in_flight": { "best": 0.55, "low": 0.43, "high": 0.66 } },
///       "over_time": "rich_then_plain"
///     },
///     "untreated": {},
///     "contrast": { "bursts": { "best": 2.4, "low": 1.8, "high": 3.2 } },
///     "unused": [{ "photo": "c.jpg", "code": "too_dark", "reason": "too dark: ..." }],
///     "notes": [{ "code": "no_scale" }], "remarks": [{ "photo": "b.jpg", "remark": "..." }]
///   }
/// }
/// ```
///
/// - `shows`, and `pooled` (the surface's touches together): `carriers` and `bursts` on a photo; `length_median`,
///   `length_p95`, `stream_length`, `flight` (mean path of a spark) in `px` of the first photo, and in `mm` where the
///   scale is known; `share_bursting` of the carriers as seen, `share_bursting_in_flight` of the sparks on their whole
///   way; `bursts_per_carrier`, `bursts_per_px`; `rays` (median), `secondary_share`, `tiers` (that at least a quarter
///   of the bursts reach), `onset` (where the first quarter of the bursts lies, share of the stream's length);
///   `direction_deg` (counter-clockwise from the right), `opening_deg`; `resolved`, share of the stream's light that
///   could be told apart; `light` along the stream. What photos do not tell is left out.
/// - `carriers_traced`, `bursts_traced`: what was found on this photo, as the overlay shows it; `shows` tells what
///   that stands for, with what is missed, those in `pooled` also how touches differ.
/// - `light.brightness`: linear light, for ISO 100 at f/1 where `corrected`, else a share of the sensor's limit.
/// - `contrast`: coupon over stock: `bursts`, `carriers`, `bursts_per_length`, `stream_length`.
/// - `unused` codes: `no_sparks`, `no_stream`, `unlike_sparks`, `side_by_side`, `all_round`, `too_dark`, `blown_out`, `blurred`, `too_few`,
///   `not_separable`, `not_read`.
/// - `doubts` of `sparks` may hold `photos_disagree_` with the name of a feature: what was told and what photos show
///   exclude each other, and the range reaches from one to the other.
///
#[doc = include_str!("answer_face.md")]
///
#[doc = include_str!("answer_plan.md")]
///
#[doc = include_str!("answer_known.md")]
///
/// In all:
///
/// - `low` and `high`: range that the value should lie in nine times out of ten, judged; a reading
///   without doubt has both equal to `best`.
/// - `through` and `high_through`: the best value, or the upper end, of a depth is the whole section,
///   because carbon never falls to the criterion; left out where false.
/// - `drawn` of a reading, without `--quick`: a quarter of the runs lie below `quarter` and above `three_quarters`; `best` is
///   then their middle, `low` and `high` hold nine in ten; `standard_error` of those five numbers at most;
///   `shares_of_variance` that each doubt makes alone, the largest first.
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
    #[serde(skip_serializing_if = "Option::is_none")]
    run: Option<String>,
    #[serde(flatten, skip_serializing_if = "Option::is_none")]
    check: Option<CheckTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    estimate: Option<EstimateTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    photos: Option<PhotosTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    face_photos: Option<FacePhotosTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    afterwards: Option<AfterwardsTwin>,
    /// Left out where none is called for, or none helps.
    #[serde(skip_serializing_if = "Option::is_none")]
    second_soak: Option<SecondSoakTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    plan: Option<PlanTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    history: Option<EarlierTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    prediction: Option<PredictionTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    known: Option<KnownTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    set: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    steps: Vec<SetStep>,
    #[serde(skip_serializing_if = "Option::is_none")]
    trained: Option<Vec<TrainedTwin>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    audit: Option<Vec<AuditTwin>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    visible_edge: Option<VisibleEdgeTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    advice: Option<Vec<AdviceTwin>>,
}

const SCHEMA: &str = "snapspark-answer";
/// Version of [`Answer`].
const VERSION: u32 = 1;

impl Answer {
    fn empty(command: &'static str) -> Self {
        Self {
            schema: SCHEMA,
            version: VERSION,
            command,
            run: None,
            check: None,
            estimate: None,
            photos: None,
            face_photos: None,
            afterwards: None,
            second_soak: None,
            plan: None,
            history: None,
            prediction: None,
            known: None,
            set: None,
            steps: Vec::new(),
            trained: None,
            audit: None,
            visible_edge: None,
            advice: None,
        }
    }

    /// What `soak` answers for the run sheet called `run`.
    pub fn soak(run: &str, prediction: &Prediction, criteria: &Criteria) -> Self {
        let prediction = Some(PredictionTwin::new(prediction, criteria));
        Self { run: Some(run.to_string()), prediction, ..Self::empty("soak") }
    }

    /// What `plan` answers; `prediction` is what comes of the planned hold.
    pub fn plan(run: Option<&str>, intent: &Intent, plan: &SoakPlan, criteria: &Criteria) -> Self {
        Self {
            run: run.map(str::to_string),
            plan: Some(PlanTwin::new(intent, plan, criteria)),
            prediction: Some(PredictionTwin::new(&plan.prediction, criteria)),
            ..Self::empty("plan")
        }
    }

    /// What `check` answers.
    pub fn check(
        run: &str,
        question: &Question,
        check: &CrossCheck,
        observed: &Observed,
        photos: Option<&LookedAt>,
        faces: Option<&LookedAtFaces>,
        onward: &Onward,
    ) -> Self {
        Self {
            command: "check",
            afterwards: onward.afterwards.as_ref().map(AfterwardsTwin::new),
            second_soak: onward.second.as_ref().and_then(|s| s.as_ref().ok()).map(SecondSoakTwin::new),
            check: Some(CheckTwin::new(check)),
            estimate: Some(EstimateTwin::new(observed)),
            photos: photos.map(PhotosTwin::new),
            face_photos: faces.map(FacePhotosTwin::new),
            ..Self::soak(run, question.prediction, question.physics.criteria)
        }
    }

    /// The same with what earlier runs tell of a run whose unknowns are `prior`, if they were asked for.
    #[must_use]
    pub fn with(self, earlier: Option<&EarlierRuns>, prior: &Prior) -> Self {
        Self { history: earlier.map(|earlier| EarlierTwin::new(earlier, prior)), ..self }
    }

    /// What `spark` answers.
    pub fn spark(observed: &Observed, photos: &LookedAt) -> Self {
        let estimate = Some(EstimateTwin::new(observed));
        Self { estimate, photos: Some(PhotosTwin::new(photos)), ..Self::empty("spark") }
    }

    /// What `face` answers.
    pub fn face(observed: &Observed, faces: &LookedAtFaces) -> Self {
        let estimate = Some(EstimateTwin::new(observed));
        Self { estimate, face_photos: Some(FacePhotosTwin::new(faces)), ..Self::empty("face") }
    }

    /// What `known list` and `known show` answer, the `command`: these records and coupons of a set.
    pub fn known(
        command: &'static str,
        set: &KnownSet,
        readings: &[KnownReading<'_>],
        faces: &[(&str, &KnownFace)],
    ) -> Self {
        Self { known: Some(KnownTwin::new(set, readings, faces)), ..Self::empty(command) }
    }

    /// What `known add` answers: what was done, and the records with what was measured.
    pub fn added(
        set: &KnownSet,
        steps: Vec<SetStep>,
        readings: &[KnownReading<'_>],
        faces: &[(&str, &KnownFace)],
    ) -> Self {
        Self { steps, ..Self::known("known add", set, readings, faces) }
    }

    /// What `known remove`, `known export` and `known import` answer, the `command`: what was done.
    pub fn steps(command: &'static str, set: &KnownSet, steps: Vec<SetStep>) -> Self {
        Self { set: Some(set.folder().display().to_string()), steps, ..Self::empty(command) }
    }

    /// What `train --set` answers: each rig with its records and the file it was kept in; and what coupons say of the
    /// visible edge.
    pub fn trained(
        set: &KnownSet,
        rigs: &[(TrainedRig, RigPieces, Option<String>)],
        edge: &VisibleEdge,
    ) -> Self {
        let twin = |(rig, known, kept): &(TrainedRig, RigPieces, Option<String>)| {
            TrainedTwin::new(rig, known, kept.as_deref())
        };
        let visible_edge = VisibleEdgeTwin::new(edge);
        let trained = Some(rigs.iter().map(twin).collect());
        Self { trained, visible_edge, ..Self::steps("train", set, Vec::new()) }
    }

    /// What `known audit` answers: for each rig what came out, and its pieces; and what coupons say of the visible edge.
    pub fn audit(set: &KnownSet, audits: &[(String, RigAudit, Vec<Piece>)], edge: &VisibleEdge) -> Self {
        let twins = audits.iter().map(|(rig, audit, pieces)| AuditTwin::new(rig, audit, pieces)).collect();
        let set = Some(set.folder().display().to_string());
        let visible_edge = VisibleEdgeTwin::new(edge);
        Self { set, audit: Some(twins), visible_edge, ..Self::empty("known audit") }
    }

    /// What `known advise` answers: for each rig what to do, and what its days are called; and the steels that were weighed.
    pub fn advice(
        set: &KnownSet,
        advised: &[(String, By, Advice, Vec<String>)],
        candidates: &[(String, Interval<f64>)],
    ) -> Self {
        let twin = |(rig, by, advice, days): &(String, By, Advice, Vec<String>)| {
            AdviceTwin::new((rig, *by), advice, candidates, days)
        };
        let set = Some(set.folder().display().to_string());
        Self { set, advice: Some(advised.iter().map(twin).collect()), ..Self::empty("known advise") }
    }

    /// As text, with a line feed at the end.
    pub fn json(&self) -> Result<String, serde_json::Error> {
        serde_json::to_string_pretty(self).map(|mut s| {
            s.push('\n');
            s
        })
    }
}
