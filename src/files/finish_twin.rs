//! The JSON form of the finished edge and of what to do now; documented on [`super::Answer`].

use super::estimate_twin::RangeTwin;
use crate::crosscheck::{Advice, FinishedEdge, Step};
use crate::hardness::{CaseHardeningDepth, Reach};
use crate::steel::QuenchMedium;
use crate::units::{Depth, Hv, Interval};
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct FinishTwin {
    #[serde(skip_serializing_if = "Option::is_none")]
    thickness_mm: Option<f64>,
    medium: &'static str,
    may_crack: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    as_quenched_hrc: Option<RangeTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    tempered_hrc: Option<RangeTwin>,
    depths_in: &'static str,
    depth_50_hrc: ReachTwin,
    depth_550_hv: ReachTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    after_open_air_wt_pct: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    richest_after_open_air_wt_pct: Option<f64>,
    outlives_open_air: bool,
}

#[derive(Debug, Serialize)]
#[serde(tag = "answer", rename_all = "snake_case")]
enum ReachTwin {
    Nowhere,
    To { depth_mm: RangeTwin },
    Throughout,
    DoesNotApply { at_mm: f64, hardness_hv: RangeTwin, limit_hv: f64 },
}

#[derive(Debug, Serialize)]
pub(super) struct AdviceTwin {
    first: StepTwin,
    then: StepTwin,
}

#[derive(Debug, Serialize)]
#[serde(tag = "code", rename_all = "snake_case")]
enum StepTwin {
    ReadCoupon,
    Settle { cause: String },
    LeavePiece,
    Harden { medium: &'static str, may_crack: bool, sealed: bool },
    Temper,
    SoakAgain,
    ReachTheMiddle,
    TellTheEdge,
    GrindLess,
    GiveUp,
}

impl FinishTwin {
    pub(super) fn new(finish: &FinishedEdge) -> Self {
        Self {
            thickness_mm: finish.thickness_mm,
            medium: medium(finish.medium),
            may_crack: finish.cracks,
            as_quenched_hrc: finish.quenched.as_ref().map(Into::into),
            tempered_hrc: finish.tempered.as_ref().map(Into::into),
            depths_in: if finish.slack { medium(finish.medium) } else { "all_martensite" },
            depth_50_hrc: ReachTwin::new(&finish.effective),
            depth_550_hv: ReachTwin::of_rule(&finish.case_hardening),
            after_open_air_wt_pct: finish.after_air.map(|left| left.part),
            richest_after_open_air_wt_pct: finish.after_air.map(|left| left.peak),
            outlives_open_air: finish.outlives_air,
        }
    }
}

impl ReachTwin {
    fn new(reach: &Reach) -> Self {
        match reach {
            Reach::Nowhere => Self::Nowhere,
            Reach::To(depth) => Self::To { depth_mm: range(depth, Depth::millimetres) },
            Reach::Throughout => Self::Throughout,
        }
    }

    fn of_rule(depth: &CaseHardeningDepth) -> Self {
        match depth {
            CaseHardeningDepth::Stands { depth, .. } => Self::new(&Reach::To(*depth)),
            CaseHardeningDepth::NotReached => Self::Nowhere,
            CaseHardeningDepth::DoesNotApply { at, hardness, under } => Self::DoesNotApply {
                at_mm: at.millimetres(),
                hardness_hv: range(hardness, Hv::number),
                limit_hv: under.number(),
            },
        }
    }
}

fn range<T: Copy + PartialOrd>(range: &Interval<T>, number: impl Fn(T) -> f64) -> RangeTwin {
    let (low, best, high) = (number(range.low()), number(range.best()), number(range.high()));
    (&Interval::new(low, best, high).unwrap_or_else(|| Interval::exact(best))).into()
}

impl AdviceTwin {
    pub(super) fn new(advice: &Advice) -> Self {
        Self { first: StepTwin::new(&advice.first), then: StepTwin::new(&advice.then) }
    }
}

impl StepTwin {
    fn new(step: &Step) -> Self {
        match step {
            Step::ReadCoupon => Self::ReadCoupon,
            Step::Settle(cause) => Self::Settle { cause: cause.key.clone() },
            Step::LeavePiece => Self::LeavePiece,
            Step::Harden { medium: bath, cracks, sealed } => {
                Self::Harden { medium: medium(*bath), may_crack: *cracks, sealed: *sealed }
            }
            Step::Temper => Self::Temper,
            Step::SoakAgain => Self::SoakAgain,
            Step::ReachTheMiddle => Self::ReachTheMiddle,
            Step::TellTheEdge => Self::TellTheEdge,
            Step::GrindLess => Self::GrindLess,
            Step::GiveUp => Self::GiveUp,
        }
    }
}

pub(super) fn medium(medium: QuenchMedium) -> &'static str {
    let mut words = QuenchMedium::WORDS.iter();
    words.find(|(_, m)| *m == medium).map_or("", |(word, _)| word)
}
