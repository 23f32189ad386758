use super::normal::Mixture;
use super::{Need, Observation};
use crate::estimate::CaseClass;
use crate::prediction::{Aim, DepthCriterion, Run, Use};
use crate::spark::OverTime;
use crate::steel::Bevels;
use crate::units::{Depth, Interval};

/// Whether the case took, for its use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// It did.
    Yes,
    /// Less than wanted, more than nothing.
    Partly,
    /// It did not.
    No,
    /// Nothing was seen of the coupon, or what was seen leaves all open.
    CannotTell,
}

/// Whether anything that was seen of the coupon is a case.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Evidence {
    /// Nothing was seen.
    Nothing,
    /// It is no plain carbon steel: nothing here speaks of it.
    OtherSteel,
    /// Something, but nothing that only a case shows.
    NoCase,
    /// Rich sparks, a rim, or a file that skates.
    Case,
}

impl Evidence {
    pub(super) fn of(observations: &[Observation], other_steel: bool) -> Self {
        /// First band that untreated mild steel does not reach: 0.45 %C.
        const RICH: usize = 3;
        let shows = |seen: &Observation| match seen {
            Observation::Sparks(votes) => votes[RICH..].iter().sum::<f64>() >= 0.5,
            Observation::Inward(order) => *order != OverTime::PlainThroughout,
            Observation::Rim { class, .. } => *class != CaseClass::None,
            Observation::File { skates, .. } => *skates,
            Observation::Gain(_) => false,
        };
        match observations {
            _ if other_steel => Self::OtherSteel,
            [] => Self::Nothing,
            any if any.iter().any(shows) => Self::Case,
            _ => Self::NoCase,
        }
    }
}

/// The part of the piece that the answer speaks of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Part {
    /// The finished edge, once the bevels are ground.
    FinishedEdge,
    /// A face with this much off: as told, or what cleaning up takes.
    Face {
        /// Metal off.
        off: Depth,
    },
}

/// Whether it took, with what that rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Took {
    /// The answer.
    pub answer: Answer,
    /// Of what.
    pub part: Part,
    /// What it is for, if that was told.
    pub purpose: Option<Use>,
    /// Whether an edge is what counts, and how thick it was in the pack was not told: then nothing is said of it.
    pub edge_untold: bool,
    /// Carbon there, wt%, after all that was seen: nine in ten. `None`: nothing is left of it.
    pub carbon: Option<Interval<f64>>,
    /// Carbon wanted, wt%.
    pub wanted: f64,
    /// Carbon under which it does not hold, wt%.
    pub least: f64,
    /// Chance of the wanted carbon or more.
    pub enough: f64,
    /// Chance of less than the least.
    pub too_little: f64,
    /// Chance that the skin has the wanted carbon before anything is ground, whatever the edge has.
    pub faces: f64,
    /// Depth wanted, if any, with what is left of it.
    pub depth: Option<DepthLeft>,
}

/// A case depth that was wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthLeft {
    /// By which criterion.
    pub criterion: DepthCriterion,
    /// Wanted, mm.
    pub wanted: f64,
    /// What is left after grinding, mm: nine in ten.
    pub left: Option<Interval<f64>>,
    /// Chance of that depth or more.
    pub enough: f64,
}

/// Most carbon in steel that is asked for, wt%: where a search ends.
const MOST_CARBON: f64 = 2.5;

/// What a verdict rests on.
pub(super) struct Basis<'b> {
    /// The part that it speaks of.
    pub(super) part: Part,
    /// What is wanted.
    pub(super) aim: Option<&'b Aim>,
    /// Carbon of that part, with everything that was seen taken in.
    pub(super) carbon: &'b Mixture,
    /// Carbon of the skin.
    pub(super) faces: &'b Mixture,
    /// Depth wanted, and what is left of it.
    pub(super) depth: Option<DepthLeft>,
    /// Least carbon that the part can have, wt%.
    pub(super) leanest: f64,
    /// Whether anybody saw a case.
    pub(super) evidence: Evidence,
    /// Whether an edge counts whose thickness was not told.
    pub(super) edge_untold: bool,
}

impl Took {
    /// Weighs what is there against what is wanted.
    pub(super) fn judge(basis: Basis<'_>, need: &Need) -> Self {
        let Basis { part, aim, carbon, faces, depth, leanest, evidence, edge_untold } = basis;
        let wanted = wanted(aim, need);
        let least = need.least.value.wt_percent().min(wanted);
        // no part is leaner than it can be
        let below = |wt: f64| if wt <= leanest { 0.0 } else { carbon.below(wt) };
        let (enough, too_little) = (1.0 - below(wanted), below(least));
        let deep_enough = depth.as_ref().map_or(1.0, |d| d.enough);
        let (sure, sure_not) = (need.sure_enough.value, need.sure_not.value);
        let answer = match evidence {
            // a face that took says nothing of the middle of an edge
            Evidence::Case | Evidence::NoCase if edge_untold && too_little < sure_not => Answer::CannotTell,
            Evidence::Nothing | Evidence::OtherSteel => Answer::CannotTell,
            _ if too_little >= sure_not => Answer::No,
            Evidence::Case if enough.min(deep_enough) >= sure && too_little <= need.most_doubt.value => {
                Answer::Yes
            }
            Evidence::Case if 1.0 - too_little >= sure => Answer::Partly,
            // what is wanted is not there: what is left open is only by how much
            Evidence::Case if enough <= need.most_doubt.value && too_little >= 0.5 => Answer::No,
            Evidence::Case if enough <= need.most_doubt.value => Answer::Partly,
            // nor is any case promised that nobody saw
            Evidence::Case | Evidence::NoCase => Answer::CannotTell,
        };
        Self {
            answer,
            part,
            purpose: aim.and_then(|a| a.purpose),
            edge_untold,
            carbon: carbon.nine_in_ten((0.0, MOST_CARBON)).and_then(|c| {
                let least = |wt: f64| wt.max(leanest);
                Interval::new(least(c.low()), least(c.best()), least(c.high()))
            }),
            wanted,
            least,
            enough,
            too_little,
            faces: 1.0 - faces.below(wanted),
            depth,
        }
    }
}

/// Carbon that the use wants, wt%.
fn wanted(aim: Option<&Aim>, need: &Need) -> f64 {
    let told = aim.and_then(|a| a.edge_carbon).map(|c| c.low());
    told.unwrap_or(need.wanted.value).wt_percent()
}

impl Part {
    /// What the answer speaks of: the edge if the piece has one and it is not a wearing face that is
    /// wanted, else a face.
    pub(super) fn of(run: &Run, aim: Option<&Aim>, need: &Need) -> Self {
        let off = run.piece.and_then(|p| p.metal_off).unwrap_or(need.cleaning.value);
        let has_edge = run.piece.is_some_and(|p| p.edge_thickness.is_some());
        match aim.and_then(|a| a.purpose) {
            Some(Use::WearingFace) => Self::Face { off },
            _ if has_edge => Self::FinishedEdge,
            _ => Self::Face { off },
        }
    }

    /// Whether an edge is what counts, by use or bevels, and its thickness was not told.
    pub(super) fn edge_untold(self, run: &Run, aim: Option<&Aim>) -> bool {
        let cuts = aim.and_then(|a| a.purpose) == Some(Use::CuttingEdge);
        let has_bevels = run.piece.is_some_and(|p| p.bevels.is_some());
        let wears = aim.and_then(|a| a.purpose) == Some(Use::WearingFace);
        matches!(self, Self::Face { .. }) && !wears && (cuts || has_bevels)
    }

    /// Whether the apex is the middle of the section.
    pub fn is_middle(self, run: &Run) -> bool {
        let bevels = run.piece.and_then(|p| p.bevels).unwrap_or(Bevels::Both);
        self == Self::FinishedEdge && bevels == Bevels::Both
    }
}

/// Deepest case that is asked for, mm: where a search ends.
pub(super) const DEEPEST: f64 = 20.0;

impl DepthLeft {
    /// From the depths of all stories, and the metal that comes off.
    pub(super) fn of(criterion: DepthCriterion, wanted: Depth, off: Depth, depths: &Mixture) -> Self {
        let (wanted, off) = (wanted.millimetres(), off.millimetres());
        let left = depths.nine_in_ten((0.0, DEEPEST)).and_then(|d| {
            let less = |mm: f64| (mm - off).max(0.0);
            Interval::new(less(d.low()), less(d.best()), less(d.high()))
        });
        Self { criterion, wanted, left, enough: 1.0 - depths.below(wanted + off) }
    }
}

#[cfg(test)]
mod tests;
