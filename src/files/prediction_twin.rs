//! The JSON form of a prediction; documented on [`super::Answer`].

use super::estimate_twin::RangeTwin;
use super::known_coupon_twin::range;
use crate::diffusion::{Potential, Profile};
use crate::prediction::{
    Criteria, Distribution, Doubt, Note, Prediction, Reading, Share, Spread, StagePrediction,
};
use crate::soak::CoolingLaw;
use crate::units::CarbonPercent;
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Debug, Serialize)]
pub(super) struct PredictionTwin {
    stages: Vec<StageTwin>,
    inputs: InputsTwin,
    visible_edge: EdgeTwin,
    notes: Vec<NoteTwin>,
}

#[derive(Debug, Serialize)]
pub(super) struct StageTwin {
    stage: &'static str,
    readings: BTreeMap<&'static str, ReadingTwin>,
    profile: ProfileTwin,
}

#[derive(Debug, Serialize)]
struct ReadingTwin {
    best: f64,
    low: f64,
    high: f64,
    unit: &'static str,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    through: bool,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    high_through: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    criterion: Option<String>,
    doubts: Vec<EffectTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    drawn: Option<DrawnTwin>,
}

/// What the runs that were drawn make of a reading.
#[derive(Debug, Serialize)]
struct DrawnTwin {
    quarter: f64,
    three_quarters: f64,
    standard_error: f64,
    through_share: f64,
    shares_of_variance: Vec<ShareTwin>,
}

#[derive(Debug, Serialize)]
struct ShareTwin {
    doubt: &'static str,
    share: f64,
}

#[derive(Debug, Serialize)]
struct EffectTwin {
    doubt: &'static str,
    down: f64,
    up: f64,
}

#[derive(Debug, Serialize)]
struct ProfileTwin {
    depth_mm: Vec<f64>,
    carbon_wt_pct: Vec<f64>,
}

/// Carbon at the visible edge, and what it rests on.
#[derive(Debug, Serialize)]
struct EdgeTwin {
    carbon_wt_pct: RangeTwin,
    rests_on: String,
    status: &'static str,
}

impl EdgeTwin {
    fn new(criteria: &Criteria) -> Self {
        let visible = &criteria.visible;
        Self {
            carbon_wt_pct: range(&visible.value, CarbonPercent::wt_percent),
            rests_on: visible.place.clone(),
            status: visible.status.word(),
        }
    }
}

/// The best story.
#[derive(Debug, Serialize)]
struct InputsTwin {
    law: String,
    core_wt_pct: f64,
    temperature_shift_k: f64,
    diffusivity_factor: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    potential_share_of_acm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    potential_wt_pct: Option<f64>,
    /// Left out where the surface is held at the potential.
    #[serde(skip_serializing_if = "Option::is_none")]
    transfer_coefficient_m_s: Option<f64>,
    cooling_law: &'static str,
    heat_through: bool,
    ground_depth_mm: f64,
}

#[derive(Debug, Serialize)]
#[serde(tag = "code", rename_all = "snake_case")]
enum NoteTwin {
    NeverAboveA1 { top_c: f64, a1_c: f64 },
    CoolingGuessed { minutes: f64 },
    CoolingAssumed,
    StartsHot { celsius: f64 },
    ContainerUnknown,
    Lag { minutes: f64 },
    OutsideLaw { top_c: f64, low_c: f64, high_c: f64 },
    WitnessAgainstLog { at_least_c: Option<f64>, below_c: Option<f64>, log_c: f64 },
    CappedAtEutectic { limit_c: f64 },
    AboveAcm { potential_wt_pct: f64, acm_wt_pct: f64 },
    StockOverCriterion,
    SizesContradict,
    CasedThrough,
    AirWorstCase,
    SealedContainer,
    PartlyOut,
}

impl PredictionTwin {
    pub(super) fn new(prediction: &Prediction, criteria: &Criteria) -> Self {
        Self {
            stages: prediction.stages.iter().map(|s| StageTwin::new(s, criteria, prediction)).collect(),
            inputs: InputsTwin::new(prediction),
            visible_edge: EdgeTwin::new(criteria),
            notes: prediction.notes.iter().map(NoteTwin::new).collect(),
        }
    }
}

impl StageTwin {
    pub(super) fn new(stage: &StagePrediction, criteria: &Criteria, prediction: &Prediction) -> Self {
        let readings = stage
            .readings
            .iter()
            .map(|(&reading, spread)| {
                let (name, unit) = name(reading);
                (name, ReadingTwin::new(spread, unit, criterion(reading, criteria, prediction)))
            })
            .collect();
        Self { stage: stage.stage.name(), readings, profile: ProfileTwin::new(&stage.profile) }
    }
}

impl ReadingTwin {
    fn new(spread: &Spread, unit: &'static str, criterion: Option<String>) -> Self {
        let doubts =
            spread.effects.iter().map(|e| EffectTwin { doubt: doubt(e.doubt), down: e.down, up: e.up });
        Self {
            best: spread.interval.best(),
            low: spread.interval.low(),
            high: spread.interval.high(),
            unit,
            through: spread.through.best,
            high_through: spread.through.high,
            criterion,
            doubts: doubts.collect(),
            drawn: spread.drawn.as_ref().map(DrawnTwin::new),
        }
    }
}

impl DrawnTwin {
    fn new(drawn: &Distribution) -> Self {
        let share = |s: &Share| ShareTwin { doubt: doubt(s.doubt), share: s.of_variance };
        Self {
            quarter: drawn.half.low(),
            three_quarters: drawn.half.high(),
            standard_error: drawn.error,
            through_share: drawn.through,
            shares_of_variance: drawn.shares.iter().map(share).collect(),
        }
    }
}

impl ProfileTwin {
    fn new(profile: &Profile) -> Self {
        let (depth_mm, carbon_wt_pct) = profile.points().map(|(x, c)| (x * 1e3, c)).unzip();
        Self { depth_mm, carbon_wt_pct }
    }
}

impl InputsTwin {
    fn new(prediction: &Prediction) -> Self {
        let inputs = &prediction.story.inputs;
        let (share, fixed) = match inputs.potential {
            Potential::ShareOfAcm(share) | Potential::Leaking { share, .. } => (Some(share), None),
            Potential::Fixed(wt) => (None, Some(wt)),
        };
        Self {
            law: prediction.law.clone(),
            core_wt_pct: inputs.core,
            temperature_shift_k: inputs.temperature_shift,
            diffusivity_factor: inputs.law_factor,
            potential_share_of_acm: share,
            potential_wt_pct: fixed,
            transfer_coefficient_m_s: inputs.transfer.is_finite().then_some(inputs.transfer),
            cooling_law: match inputs.cooling_law {
                CoolingLaw::GivesNothingBack => "gives nothing back",
                CoolingLaw::FollowsAcm => "follows Acm",
            },
            heat_through: prediction.path.lags(),
            ground_depth_mm: prediction.ground.millimetres(),
        }
    }
}

impl NoteTwin {
    fn new(note: &Note) -> Self {
        match *note {
            Note::NeverAboveA1 { top_celsius, a1_celsius } => {
                Self::NeverAboveA1 { top_c: top_celsius, a1_c: a1_celsius }
            }
            Note::CoolingGuessed { minutes } => Self::CoolingGuessed { minutes },
            Note::CoolingAssumed => Self::CoolingAssumed,
            Note::StartsHot { celsius } => Self::StartsHot { celsius },
            Note::ContainerUnknown => Self::ContainerUnknown,
            Note::Lag { minutes } => Self::Lag { minutes },
            Note::OutsideLaw { top_celsius, low_celsius, high_celsius } => {
                Self::OutsideLaw { top_c: top_celsius, low_c: low_celsius, high_c: high_celsius }
            }
            Note::WitnessAgainstLog { at_least_celsius, below_celsius, log_celsius } => {
                Self::WitnessAgainstLog {
                    at_least_c: at_least_celsius,
                    below_c: below_celsius,
                    log_c: log_celsius,
                }
            }
            Note::CappedAtEutectic { limit_celsius } => Self::CappedAtEutectic { limit_c: limit_celsius },
            Note::AboveAcm { potential, acm } => {
                Self::AboveAcm { potential_wt_pct: potential, acm_wt_pct: acm }
            }
            Note::StockOverCriterion => Self::StockOverCriterion,
            Note::SizesContradict => Self::SizesContradict,
            Note::CasedThrough => Self::CasedThrough,
            Note::AirWorstCase => Self::AirWorstCase,
            Note::SealedContainer => Self::SealedContainer,
            Note::PartlyOut => Self::PartlyOut,
        }
    }
}

fn name(reading: Reading) -> (&'static str, &'static str) {
    match reading {
        Reading::Surface => ("surface_carbon", "wt%"),
        Reading::Far => ("far_carbon", "wt%"),
        Reading::GroundMean => ("ground_layer_carbon", "wt%"),
        Reading::Total => ("total_case_depth", "mm"),
        Reading::Carburization => ("carburization_depth", "mm"),
        Reading::Visible => ("visible_case_depth", "mm"),
        Reading::MassGain => ("mass_gain", "g/m2"),
        Reading::CouponGain => ("coupon_mass_gain", "mg"),
        Reading::Edge => ("edge_carbon", "wt%"),
        Reading::GroundFace => ("ground_face_carbon", "wt%"),
        Reading::EquivalentMinutes => ("equivalent_time", "min"),
        Reading::TopTemperature => ("top_temperature", "C"),
    }
}

fn criterion(reading: Reading, criteria: &Criteria, prediction: &Prediction) -> Option<String> {
    match reading {
        Reading::Total => Some(format!("core + {} %C", criteria.total_above_core.value.wt_percent())),
        Reading::Carburization => Some(format!("{} %C", criteria.carburization.value.wt_percent())),
        Reading::Visible => Some(format!("{} %C", prediction.story.inputs.visible_edge)),
        _ => None,
    }
}

pub(super) fn doubt(doubt: Doubt) -> &'static str {
    match doubt {
        Doubt::Temperature => "temperature",
        Doubt::HeatThrough => "heat_through",
        Doubt::Law => "law",
        Doubt::Potential => "potential",
        Doubt::Transfer => "transfer",
        Doubt::CoolingLaw => "cooling_law",
        Doubt::CoolingTime => "cooling_time",
        Doubt::TimeAtHeat => "time_at_heat",
        Doubt::Stock => "stock",
        Doubt::VisibleEdge => "visible_edge",
        Doubt::PiecePlace => "piece_place",
    }
}
