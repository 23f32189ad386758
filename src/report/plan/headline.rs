use super::super::number::{CARBON, CELSIUS, DEPTH, chance, size};
use super::super::soak::Criteria;
use super::clock::duration;
use crate::plan::{Begins, Intent, SoakPlan, Target};
use crate::prediction::DepthCriterion;
use crate::steel::{Bevels, Shape};
use crate::units::Depth;

/// Chance that counts as nearly sure.
const NEARLY_SURE: f64 = 0.9;

/// What is wanted, with its criterion.
pub(in crate::report) fn wanted(intent: &Intent, names: &Criteria) -> String {
    match intent.target {
        Target::Depth { criterion, depth } => {
            let name = match criterion {
                DepthCriterion::Total => names.total.as_str(),
                DepthCriterion::Carburization => names.carburization.as_str(),
                DepthCriterion::Visible => names.visible.as_str(),
                DepthCriterion::Effective550Hv => "case hardening depth (550 HV)",
                DepthCriterion::Effective50Hrc => "effective case depth (50 HRC)",
            };
            format!("{} {name}", DEPTH.one(depth.millimetres()))
        }
        Target::Edge { carbon } => {
            let edge = intent.piece.as_ref().and_then(|p| p.edge_thickness).map_or(0.0, Depth::millimetres);
            let off = intent.piece.as_ref().and_then(|p| p.metal_off).map_or(0.0, Depth::millimetres);
            let sides = match intent.piece.as_ref().and_then(|p| p.bevels) {
                Some(Bevels::One) => "ground from one side: the other face",
                _ => "ground from both sides: the middle of the section",
            };
            format!(
                "{} at the finished edge once it is hardened, {} thick in the pack, {} off each ground side ({sides})",
                CARBON.one(carbon.wt_percent()),
                size(edge),
                size(off)
            )
        }
    }
}

pub(super) fn title(intent: &Intent, plan: &SoakPlan, wanted: &str) -> String {
    let what = match plan.begins {
        Begins::Untreated => "A soak for",
        Begins::SecondSoak => "A second soak, on top of the first, for",
        Begins::RestOfSoak => "The rest of this soak, for",
    };
    let section = match intent.coupon.shape {
        Shape::Flat { thickness: Some(t), .. } => format!(", {} thick", size(t.millimetres())),
        Shape::Round { diameter: Some(d) } => format!(", round, {}", size(d.millimetres())),
        _ => String::new(),
    };
    format!("{what} {wanted}, in {}{section}", intent.stock.name)
}

/// How long to hold it.
pub(super) fn hold(intent: &Intent, plan: &SoakPlan) -> String {
    if plan.hold.minutes() == 0.0 {
        return "NO LONGER".into();
    }
    let heat = CELSIUS.one(intent.temperature.celsius());
    format!("{} AT {heat}", duration(plan.hold.minutes()).to_uppercase())
}

/// How sure that is.
pub(super) fn sure(intent: &Intent, plan: &SoakPlan) -> String {
    let heat = CELSIUS.one(intent.temperature.celsius());
    let goal = match intent.target {
        Target::Depth { depth, .. } => DEPTH.one(depth.millimetres()),
        Target::Edge { carbon } => CARBON.one(carbon.wt_percent()),
    };
    let counted = match plan.begins {
        Begins::RestOfSoak => "Counted from now on, the pack kept closed".to_string(),
        _ => format!("Counted from when the thermometer shows {heat}"),
    };
    let sure = match plan.needed.hold(NEARLY_SURE) {
        Some(hold) => format!("{} for 9 in 10", duration(hold.minutes())),
        None => "no hold that is planned gives 9 in 10".into(),
    };
    format!(
        "{counted}. Chance of {goal} or more: {}, by the doubts below. {} for an even chance, {sure}.",
        chance(plan.chance),
        duration(plan.needed.best().minutes()),
    )
}
