//! The JSON form of a plan; documented on [`super::Answer`].

use super::afterwards_twin::{AfterwardsTwin, EdgeTwin};
use super::estimate_twin::RangeTwin;
use super::prediction_twin::{StageTwin, doubt};
use crate::plan::{Begins, Clock, Intent, Limit, Needed, SecondSoak, SoakPlan, Target};
use crate::prediction::{Criteria, DepthCriterion};
use crate::soak::WitnessMetal;
use crate::units::Time;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct PlanTwin {
    begins: &'static str,
    wanted: TargetTwin,
    temperature_c: f64,
    hold_min: f64,
    chance: f64,
    needed: NeededTwin,
    clock: ClockTwin,
    heats: Vec<RowTwin>,
    limits: Vec<LimitTwin>,
    witnesses: Vec<WitnessTwin>,
    coupon_thickness_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    spy: Option<SpyTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    edge: Option<EdgeTwin>,
    afterwards: AfterwardsTwin,
}

#[derive(Debug, Serialize)]
#[serde(tag = "what", rename_all = "snake_case")]
enum TargetTwin {
    Depth { depth_mm: f64, criterion: &'static str },
    EdgeCarbon { wt_pct: f64 },
}

/// Twin of [`Needed`]: the hold, min.
#[derive(Debug, Serialize)]
struct NeededTwin {
    best_min: f64,
    low_min: f64,
    /// Left out where no hold that is planned is enough.
    #[serde(skip_serializing_if = "Option::is_none")]
    high_min: Option<f64>,
    doubts: Vec<EffectTwin>,
}

#[derive(Debug, Serialize)]
struct EffectTwin {
    doubt: &'static str,
    shortest_min: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    longest_min: Option<f64>,
}

#[derive(Debug, Serialize)]
struct ClockTwin {
    #[serde(skip_serializing_if = "Option::is_none")]
    heat_up_min: Option<RangeTwin>,
    heat_up_guessed: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    steel_at_heat_after_min: Option<f64>,
    cooling_min: RangeTwin,
    whole_min: RangeTwin,
}

#[derive(Debug, Serialize)]
struct RowTwin {
    temperature_c: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    hold_min: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    needed: Option<NeededTwin>,
    grain_grows: bool,
}

#[derive(Debug, Serialize)]
#[serde(tag = "code", rename_all = "snake_case")]
enum LimitTwin {
    GrainGrows { from_c: f64, fine_to_c: f64, refine_c: RangeTwin },
    RichRim { surface_wt_pct: f64, limit_wt_pct: f64 },
    CasedThrough { middle_wt_pct: f64 },
    MayCaseThrough,
    NarrowPack { gap_mm: f64, wanted_mm: f64 },
    SlowHeat { minutes: f64 },
    NeverThere,
    NothingLeft,
}

#[derive(Debug, Serialize)]
struct WitnessTwin {
    metal: String,
    solidus_c: f64,
    liquidus_c: f64,
    must_melt: bool,
}

#[derive(Debug, Serialize)]
struct SpyTwin {
    after_min: f64,
    shows: StageTwin,
}

/// Twin of [`SecondSoak`].
#[derive(Debug, Serialize)]
pub(super) struct SecondSoakTwin {
    wanted: TargetTwin,
    temperature_c: f64,
    hold_min: f64,
    chance: f64,
    needed: NeededTwin,
}

impl SecondSoakTwin {
    pub(super) fn new(second: &SecondSoak) -> Self {
        Self {
            wanted: TargetTwin::new(&second.intent.target),
            temperature_c: second.intent.temperature.celsius(),
            hold_min: second.hold.minutes(),
            chance: second.chance,
            needed: NeededTwin::new(&second.needed),
        }
    }
}

impl PlanTwin {
    pub(super) fn new(intent: &Intent, plan: &SoakPlan, criteria: &Criteria) -> Self {
        let witness = |metal: &WitnessMetal, must_melt| WitnessTwin {
            metal: metal.name.clone(),
            solidus_c: metal.solidus.value.best().celsius(),
            liquidus_c: metal.liquidus.value.best().celsius(),
            must_melt,
        };
        let pair = &plan.witnesses;
        let melts = pair.melts.iter().map(|m| witness(m, true));
        Self {
            begins: match plan.begins {
                Begins::Untreated => "untreated",
                Begins::SecondSoak => "second_soak",
                Begins::RestOfSoak => "rest_of_soak",
            },
            wanted: TargetTwin::new(&intent.target),
            temperature_c: intent.temperature.celsius(),
            hold_min: plan.hold.minutes(),
            chance: plan.chance,
            needed: NeededTwin::new(&plan.needed),
            clock: ClockTwin::new(&plan.clock),
            heats: plan
                .rows
                .iter()
                .map(|row| RowTwin {
                    temperature_c: row.temperature.celsius(),
                    hold_min: row.needed.as_ref().and_then(|n| n.planned(plan.aimed)).map(Time::minutes),
                    needed: row.needed.as_ref().map(NeededTwin::new),
                    grain_grows: row.grain_grows,
                })
                .collect(),
            limits: plan.limits.iter().map(LimitTwin::new).collect(),
            witnesses: melts.chain(pair.stays.iter().map(|m| witness(m, false))).collect(),
            coupon_thickness_mm: plan.coupon.millimetres(),
            edge: plan.edge.as_ref().map(EdgeTwin::new),
            afterwards: AfterwardsTwin::new(&plan.afterwards),
            spy: plan.spy.as_ref().map(|spy| SpyTwin {
                after_min: spy.after.minutes(),
                shows: StageTwin::new(&spy.shows, criteria, &plan.prediction),
            }),
        }
    }
}

impl TargetTwin {
    fn new(target: &Target) -> Self {
        match *target {
            Target::Depth { criterion, depth } => Self::Depth {
                depth_mm: depth.millimetres(),
                criterion: match criterion {
                    DepthCriterion::Total => "total",
                    DepthCriterion::Carburization => "0.35 %C",
                    DepthCriterion::Visible => "visible",
                    DepthCriterion::Effective550Hv => "550 HV",
                    DepthCriterion::Effective50Hrc => "50 HRC",
                },
            },
            Target::Edge { carbon } => Self::EdgeCarbon { wt_pct: carbon.wt_percent() },
        }
    }
}

impl NeededTwin {
    fn new(needed: &Needed) -> Self {
        let (low, high) = needed.nine_in_ten();
        Self {
            best_min: needed.best().minutes(),
            low_min: low.minutes(),
            high_min: high.map(Time::minutes),
            doubts: needed
                .effects
                .iter()
                .map(|(which, shortest, longest)| EffectTwin {
                    doubt: doubt(*which),
                    shortest_min: shortest.minutes(),
                    longest_min: longest.map(Time::minutes),
                })
                .collect(),
        }
    }
}

impl ClockTwin {
    fn new(clock: &Clock) -> Self {
        Self {
            heat_up_min: clock.heat_up.as_ref().map(Into::into),
            heat_up_guessed: clock.heat_up_guessed,
            steel_at_heat_after_min: clock.steel_there,
            cooling_min: (&clock.cooling).into(),
            whole_min: (&clock.whole).into(),
        }
    }
}

impl LimitTwin {
    fn new(limit: &Limit) -> Self {
        match limit {
            Limit::GrainGrows { from, fine_to, refine } => {
                Self::GrainGrows { from_c: *from, fine_to_c: *fine_to, refine_c: refine.into() }
            }
            Limit::RichRim { surface, limit } => {
                Self::RichRim { surface_wt_pct: *surface, limit_wt_pct: *limit }
            }
            Limit::CasedThrough { middle } => Self::CasedThrough { middle_wt_pct: *middle },
            Limit::MayCaseThrough => Self::MayCaseThrough,
            Limit::NarrowPack { gap, wanted } => Self::NarrowPack { gap_mm: *gap, wanted_mm: *wanted },
            Limit::SlowHeat { minutes } => Self::SlowHeat { minutes: *minutes },
            Limit::NeverThere => Self::NeverThere,
            Limit::NothingLeft => Self::NothingLeft,
        }
    }
}
