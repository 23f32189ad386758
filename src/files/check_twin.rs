//! The JSON form of a cross-check; documented on [`super::Answer`].

use super::estimate_twin::{RangeTwin, class};
use super::finish_twin::{AdviceTwin, FinishTwin};
use super::inference_twin::InferenceTwin;
use crate::crosscheck::{
    Agreement, Answer, Blamed, CrossCheck, DepthLeft, Doubtful, Fits, Mistaken, Move, Observation, Part,
    Side, Took,
};
use crate::prediction::{DepthCriterion, Use};
use crate::spark::OverTime;
use crate::units::{CarbonPercent, Depth, Temperature};
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct CheckTwin {
    took: TookTwin,
    fits: &'static str,
    agreements: Vec<AgreementTwin>,
    usual_share: f64,
    causes: Vec<CauseTwin>,
    finish: FinishTwin,
    advice: AdviceTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    inference: Option<InferenceTwin>,
}

#[derive(Debug, Serialize)]
struct TookTwin {
    answer: &'static str,
    part: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    ground_off_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    purpose: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    carbon_wt_pct: Option<RangeTwin>,
    wanted_wt_pct: f64,
    least_wt_pct: f64,
    chance_of_wanted: f64,
    chance_below_least: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    depth: Option<DepthTwin>,
}

#[derive(Debug, Serialize)]
struct DepthTwin {
    criterion: &'static str,
    wanted_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    left_mm: Option<RangeTwin>,
    chance_of_wanted: f64,
}

#[derive(Debug, Serialize)]
struct AgreementTwin {
    #[serde(flatten)]
    seen: SeenTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    expected: Option<DoubtfulTwin>,
    place: f64,
    side: &'static str,
}

/// What was seen; numbers have the unit that `unit` names.
#[derive(Debug, Serialize)]
#[serde(tag = "quantity", rename_all = "snake_case")]
enum SeenTwin {
    Sparks {
        unit: &'static str,
        votes: [f64; 6],
    },
    Inward {
        seen: &'static str,
    },
    Rim {
        unit: &'static str,
        class: &'static str,
        #[serde(skip_serializing_if = "Option::is_none")]
        seen: Option<DoubtfulTwin>,
        #[serde(skip_serializing_if = "Option::is_none")]
        votes: Option<[f64; 6]>,
    },
    MassGain {
        unit: &'static str,
        seen: DoubtfulTwin,
    },
    File {
        unit: &'static str,
        turns: DoubtfulTwin,
        skates: bool,
        depth_mm: f64,
    },
}

/// A number with one standard deviation downward and upward.
#[derive(Debug, Serialize)]
struct DoubtfulTwin {
    best: f64,
    sd_down: f64,
    sd_up: f64,
}

#[derive(Debug, Serialize)]
struct CauseTwin {
    key: String,
    share: f64,
    change: MoveTwin,
}

/// What is changed; the rest is left out.
#[derive(Debug, Serialize)]
struct MoveTwin {
    #[serde(skip_serializing_if = "Option::is_none")]
    temperature_shift_k: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    late_share: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    time_factor: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    potential_factor: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    co2_factor: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    transfer_factor: Option<f64>,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    follows_acm: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    open_air_min: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    open_air_c: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    core_wt_pct: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    thickness_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    visible_edge_wt_pct: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    martensite_share: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    quench_c: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ground_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    spark_bias_wt_pct: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    face: Option<&'static str>,
}

impl CheckTwin {
    pub(super) fn new(check: &CrossCheck) -> Self {
        Self {
            took: TookTwin::new(&check.took),
            fits: match check.fits {
                Fits::Yes => "yes",
                Fits::Less => "shallower_or_poorer",
                Fits::More => "deeper_or_richer",
                Fits::Contradicts => "witnesses_contradict",
                Fits::CannotTell => "cannot_tell",
            },
            agreements: check.agreements.iter().map(AgreementTwin::new).collect(),
            usual_share: check.usual,
            causes: check.causes.iter().map(CauseTwin::new).collect(),
            finish: FinishTwin::new(&check.finish),
            advice: AdviceTwin::new(&check.advice),
            inference: check.inference.as_ref().map(InferenceTwin::new),
        }
    }
}

impl TookTwin {
    fn new(took: &Took) -> Self {
        let (part, off) = match took.part {
            Part::FinishedEdge => ("finished_edge", None),
            Part::Face { off } => ("face", Some(off.millimetres())),
        };
        Self {
            answer: match took.answer {
                Answer::Yes => "yes",
                Answer::Partly => "partly",
                Answer::No => "no",
                Answer::CannotTell => "cannot_tell",
            },
            part,
            ground_off_mm: off,
            purpose: took.purpose.map(|purpose| match purpose {
                Use::CuttingEdge => "cutting_edge",
                Use::WearingFace => "wearing_face",
                Use::Other => "other",
            }),
            carbon_wt_pct: took.carbon.as_ref().map(Into::into),
            wanted_wt_pct: took.wanted,
            least_wt_pct: took.least,
            chance_of_wanted: took.enough,
            chance_below_least: took.too_little,
            depth: took.depth.as_ref().map(DepthTwin::new),
        }
    }
}

impl DepthTwin {
    fn new(depth: &DepthLeft) -> Self {
        Self {
            criterion: match depth.criterion {
                DepthCriterion::Total => "total_case_depth",
                DepthCriterion::Carburization => "carburization_depth",
                DepthCriterion::Visible => "visible_case_depth",
                DepthCriterion::Effective550Hv => "depth_550_hv",
                DepthCriterion::Effective50Hrc => "depth_50_hrc",
            },
            wanted_mm: depth.wanted,
            left_mm: depth.left.as_ref().map(Into::into),
            chance_of_wanted: depth.enough,
        }
    }
}

impl AgreementTwin {
    fn new(agreement: &Agreement) -> Self {
        Self {
            seen: SeenTwin::new(&agreement.seen),
            expected: agreement.expected.as_ref().map(Into::into),
            place: agreement.place,
            side: match agreement.side {
                Side::Less => "less",
                Side::Within => "within",
                Side::More => "more",
            },
        }
    }
}

impl SeenTwin {
    fn new(seen: &Observation) -> Self {
        match seen {
            Observation::Sparks(votes) => Self::Sparks { unit: "wt%", votes: *votes },
            Observation::Inward(seen) => Self::Inward { seen: over_time(*seen) },
            Observation::Rim { class: rim, depth, votes } => Self::Rim {
                unit: "mm",
                class: class(*rim),
                seen: depth.as_ref().map(Into::into),
                votes: *votes,
            },
            Observation::Gain(gain) => Self::MassGain { unit: "mg", seen: gain.into() },
            Observation::File { turns, skates, depth_mm } => {
                Self::File { unit: "HRC", turns: turns.into(), skates: *skates, depth_mm: *depth_mm }
            }
        }
    }
}

pub(super) fn over_time(over_time: OverTime) -> &'static str {
    match over_time {
        OverTime::RichThenPlain => "rich_then_plain",
        OverTime::PlainThenRichThenPlain => "plain_then_rich_then_plain",
        OverTime::RichThroughout => "rich_throughout",
        OverTime::PlainThroughout => "plain_throughout",
    }
}

impl From<&Doubtful> for DoubtfulTwin {
    fn from(number: &Doubtful) -> Self {
        Self { best: number.best, sd_down: number.down, sd_up: number.up }
    }
}

impl CauseTwin {
    fn new(blamed: &Blamed) -> Self {
        Self { key: blamed.cause.key.clone(), share: blamed.share, change: MoveTwin::new(&blamed.change) }
    }
}

impl MoveTwin {
    fn new(change: &Move) -> Self {
        Self {
            temperature_shift_k: change.temperature_kelvin,
            late_share: change.late_share,
            time_factor: change.time_factor,
            potential_factor: change.potential_factor,
            co2_factor: change.co2_factor,
            transfer_factor: change.transfer_factor,
            follows_acm: change.follows_acm,
            open_air_min: change.open_air.map(|(time, _)| time.minutes()),
            open_air_c: change.open_air.map(|(_, heat)| heat.celsius()),
            core_wt_pct: change.core.map(CarbonPercent::wt_percent),
            thickness_mm: change.thickness.map(Depth::millimetres),
            visible_edge_wt_pct: change.visible_edge.map(CarbonPercent::wt_percent),
            martensite_share: change.martensite,
            quench_c: change.quench_heat.map(Temperature::celsius),
            ground_mm: change.ground.map(Depth::millimetres),
            spark_bias_wt_pct: change.spark_bias,
            face: change.face.map(|face| match face {
                Mistaken::NoBorder => "no_border",
                Mistaken::Lip => "lip",
            }),
        }
    }
}
