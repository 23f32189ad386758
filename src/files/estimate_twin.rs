//! The JSON form of what was read off the coupon; documented on [`super::Answer`]. Made from observations alone.

use super::Observed;
use crate::estimate::{
    CaseAnswer, CaseClass, CaseDoubt, CaseEstimate, DepthBand, KnownBehind, NotSteel, SparkAnswer,
    SparkDoubt, SparkEstimate, Stated,
};
use crate::known::STATED;
use crate::steel::CarbonBand;
use crate::units::Interval;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct EstimateTwin {
    #[serde(skip_serializing_if = "Option::is_none")]
    sparks: Option<SparksTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    face: Option<FaceTwin>,
}

#[derive(Debug, Serialize)]
#[serde(tag = "answer", rename_all = "snake_case")]
enum SparksTwin {
    Bands {
        votes: Vec<VoteTwin>,
        band: BandTwin,
        likely: BandTwin,
        path: Vec<AskedTwin>,
        doubts: Vec<String>,
        missing: Vec<&'static str>,
        #[serde(skip_serializing_if = "Option::is_none")]
        known: Option<Box<KnownTwin>>,
    },
    NotPlainCarbon {
        looks_like: &'static str,
    },
    /// Like nothing that was seen at the rig.
    Unlike {
        farthest: &'static str,
        off_sd: f64,
    },
    CannotTell {
        known: usize,
        needed: usize,
    },
}

/// Twin of [`KnownBehind`].
#[derive(Debug, Serialize)]
struct KnownTwin {
    judged: usize,
    right: usize,
    carbon_wt_pct: RangeTwin,
    /// Bursts of that day over the usual.
    #[serde(skip_serializing_if = "Option::is_none")]
    drift: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stated: Option<StatedTwin>,
}

#[derive(Debug, Serialize)]
struct StatedTwin {
    held: f64,
    bands: BandTwin,
    carbon_wt_pct: RangeTwin,
}

/// From the lowest to the highest carbon of a band or of neighbouring bands; no upper end: open.
#[derive(Debug, Serialize)]
struct BandTwin {
    from_wt_pct: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    to_wt_pct: Option<f64>,
}

#[derive(Debug, Serialize)]
struct VoteTwin {
    #[serde(flatten)]
    band: BandTwin,
    share: f64,
}

#[derive(Debug, Serialize)]
struct AskedTwin {
    asked: &'static str,
    threshold: f64,
    /// Left out where it was not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    above: Option<bool>,
}

#[derive(Debug, Serialize)]
#[serde(tag = "answer", rename_all = "snake_case")]
enum FaceTwin {
    Read {
        class: &'static str,
        criterion: &'static str,
        #[serde(skip_serializing_if = "Option::is_none")]
        depth_mm: Option<RangeTwin>,
        measured: bool,
        per_side_mm: Vec<RangeTwin>,
        #[serde(skip_serializing_if = "Option::is_none")]
        votes: Option<Vec<DepthVoteTwin>>,
        path: Vec<AskedTwin>,
        doubts: Vec<String>,
    },
    CannotTell {
        why: Vec<String>,
    },
}

#[derive(Debug, Serialize)]
struct DepthVoteTwin {
    band: &'static str,
    share: f64,
}

/// A value with the range that it lies in.
#[derive(Debug, Serialize)]
pub(super) struct RangeTwin {
    best: f64,
    low: f64,
    high: f64,
}

impl From<&Interval<f64>> for RangeTwin {
    fn from(range: &Interval<f64>) -> Self {
        Self { best: range.best(), low: range.low(), high: range.high() }
    }
}

impl EstimateTwin {
    pub(super) fn new(observed: &Observed) -> Self {
        Self {
            sparks: observed.sparks.as_ref().map(|(_, answer)| SparksTwin::new(answer)),
            face: observed.face.as_ref().map(|(_, answer)| FaceTwin::new(answer)),
        }
    }
}

impl SparksTwin {
    fn new(answer: &SparkAnswer) -> Self {
        match answer {
            SparkAnswer::Bands(estimate) => Self::bands(estimate),
            SparkAnswer::NotPlainCarbon(other) => Self::NotPlainCarbon { looks_like: not_steel(*other) },
            SparkAnswer::Unlike { name, off } => Self::Unlike { farthest: name.column(), off_sd: *off },
            SparkAnswer::CannotTell { known, needed } => Self::CannotTell { known: *known, needed: *needed },
        }
    }

    fn bands(estimate: &SparkEstimate) -> Self {
        let one = |band| BandTwin::new(band, band);
        let vote = |(band, share): (CarbonBand, &f64)| VoteTwin { band: one(band), share: *share };
        let asked = estimate.path.iter().map(|r| AskedTwin::new(r.feature.column(), r.threshold, r.answer));
        Self::Bands {
            votes: CarbonBand::ALL.into_iter().zip(&estimate.votes).map(vote).collect(),
            band: one(estimate.band),
            likely: BandTwin::new(estimate.likely.0, estimate.likely.1),
            path: asked.collect(),
            doubts: estimate.doubts.iter().map(|d| spark_doubt(*d)).collect(),
            missing: estimate.missing.iter().map(|name| name.column()).collect(),
            known: estimate.known.as_ref().map(|known| Box::new(KnownTwin::new(known))),
        }
    }
}

impl KnownTwin {
    fn new(known: &KnownBehind) -> Self {
        let stated = |stated: &Stated| StatedTwin {
            held: STATED,
            bands: BandTwin::new(stated.bands.0, stated.bands.1),
            carbon_wt_pct: (&stated.carbon).into(),
        };
        Self {
            judged: known.judged,
            right: known.right,
            carbon_wt_pct: (&known.carbon).into(),
            drift: known.drift,
            stated: known.stated.as_ref().map(stated),
        }
    }
}

impl BandTwin {
    fn new(first: CarbonBand, last: CarbonBand) -> Self {
        Self { from_wt_pct: first.edges().0, to_wt_pct: last.edges().1 }
    }
}

impl AskedTwin {
    fn new(asked: &'static str, threshold: f64, answer: Option<(f64, bool)>) -> Self {
        Self { asked, threshold, value: answer.map(|a| a.0), above: answer.map(|a| a.1) }
    }
}

impl FaceTwin {
    fn new(answer: &CaseAnswer) -> Self {
        match answer {
            CaseAnswer::Read(case) => Self::read(case),
            CaseAnswer::CannotTell { why } => {
                Self::CannotTell { why: why.iter().map(|d| case_doubt(*d)).collect() }
            }
        }
    }

    fn read(case: &CaseEstimate) -> Self {
        let vote = |(band, share): (&&'static str, &f64)| DepthVoteTwin { band, share: *share };
        let votes = |votes: &[f64; 6]| DepthBand::WORDS.iter().zip(votes).map(vote).collect();
        let asked = case.path.iter().map(|r| AskedTwin::new(r.column.column(), r.threshold, r.answer));
        Self::Read {
            class: class(case.class),
            criterion: CaseEstimate::CRITERION,
            depth_mm: case.depth_mm.as_ref().map(Into::into),
            measured: case.measured,
            per_side_mm: case.per_side.iter().map(Into::into).collect(),
            votes: case.votes.as_ref().map(votes),
            path: asked.collect(),
            doubts: case.doubts.iter().map(|d| case_doubt(*d)).collect(),
        }
    }
}

pub(super) fn class(class: CaseClass) -> &'static str {
    match class {
        CaseClass::None => "none",
        CaseClass::Partial => "partial",
        CaseClass::AllRound => "all_round",
        CaseClass::Through => "through",
    }
}

fn not_steel(other: NotSteel) -> &'static str {
    match other {
        NotSteel::CastIronOrDieSteel => "cast_iron_or_die_steel",
        NotSteel::NickelOrCarbide => "nickel_or_carbide",
        NotSteel::HighSpeedSteel => "high_speed_steel",
        NotSteel::StainlessSteel => "stainless_steel",
        NotSteel::NoSparks => "no_sparks",
    }
}

fn spark_doubt(doubt: SparkDoubt) -> String {
    let code = match doubt {
        SparkDoubt::NoStock => "no_stock",
        SparkDoubt::HardAgainstSoft => "hard_against_soft",
        SparkDoubt::StateUnknown => "state_unknown",
        SparkDoubt::FewFeatures => "few_features",
        SparkDoubt::OnlyWords => "only_words",
        SparkDoubt::SlowWheel => "slow_wheel",
        SparkDoubt::FastWheel => "fast_wheel",
        SparkDoubt::GroundDeep => "ground_deep",
        SparkDoubt::RigUnknown => "rig_unknown",
        SparkDoubt::InwardDisagrees => "photos_disagree_inward",
        SparkDoubt::PhotosDisagree(name) => return format!("photos_disagree_{}", name.column()),
    };
    code.into()
}

fn case_doubt(doubt: CaseDoubt) -> String {
    let code = match doubt {
        CaseDoubt::PhotosDisagree(column) => return format!("photos_disagree_{}", column.column()),
        CaseDoubt::BlankPhotosDisagree => "blank_photos_disagree",
        CaseDoubt::PhotosUnclear => "photos_unclear",
        CaseDoubt::NothingSaid => "nothing_said",
        CaseDoubt::NotQuenched => "not_quenched",
        CaseDoubt::QuenchUnknown => "quench_unknown",
        CaseDoubt::BlankShowsSameRim => "blank_shows_same_rim",
        CaseDoubt::BlankShowsRimToo => "blank_shows_rim_too",
        CaseDoubt::BlankQuenchedOtherwise => "blank_quenched_otherwise",
        CaseDoubt::NoBlank => "no_blank",
        CaseDoubt::ShearLip => "shear_lip",
        CaseDoubt::CoreHardenedToo => "core_hardened_too",
        CaseDoubt::CoreNotFibrous => "core_not_fibrous",
        CaseDoubt::SoftSkin => "soft_skin",
        CaseDoubt::BentFirst => "bent_first",
        CaseDoubt::BreakUnknown => "break_unknown",
        CaseDoubt::Tempered => "tempered",
        CaseDoubt::OilShortensRim => "oil_shortens_rim",
        CaseDoubt::ThicknessUnknown => "thickness_unknown",
        CaseDoubt::PastTheMiddle => "past_the_middle",
        CaseDoubt::NoRimHasOtherCauses => "no_rim_has_other_causes",
        CaseDoubt::DepthWithoutRim => "depth_without_rim",
        CaseDoubt::CoarseGrain => "coarse_grain",
        CaseDoubt::VeryRich => "very_rich",
    };
    code.into()
}
