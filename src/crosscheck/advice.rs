use super::agreement::Fits;
use super::cross_check::Blamed;
use super::finish::FinishedEdge;
use super::took::{Answer, Part, Took};
use super::{Cause, Question};
use crate::steel::QuenchMedium;

/// Share from which a cause is worth acting on (judgement).
const LIKELY: f64 = 0.2;
/// Chance of too little carbon from which a soak needs no coupon to be called one that gave nothing (judgement).
const NOTHING: f64 = 0.95;
/// Things seen from which more of the same settles nothing (judgement).
const MUCH: usize = 3;

/// What to do now.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice<'a> {
    /// First this.
    pub first: Step<'a>,
    /// Then that.
    pub then: Step<'a>,
}

/// One step.
#[derive(Debug, Clone, PartialEq)]
pub enum Step<'a> {
    /// Look at the coupon: nothing was seen of it.
    ReadCoupon,
    /// Do what tells this cause apart, and mend it.
    Settle(&'a Cause),
    /// Leave the piece as it is until then.
    LeavePiece,
    /// Harden it.
    Harden {
        /// In what.
        medium: QuenchMedium,
        /// Whether that is likely to crack it.
        cracks: bool,
        /// Whether the heat must be kept from air: the case does not outlive an open-air heat.
        sealed: bool,
    },
    /// Temper it at once.
    Temper,
    /// Soak again, in fresh compound.
    SoakAgain,
    /// The faces took, but the finished edge is the middle of the section: soak longer, or start from a
    /// thinner edge, or grind from one side only.
    ReachTheMiddle,
    /// Say how thick the edge was in the pack: the faces took, the edge may be mild steel.
    TellTheEdge,
    /// The case took, but so much grinding takes it off: grind less.
    GrindLess,
    /// Make something else of it.
    GiveUp,
}

/// What the advice looks at, beside whether it took.
pub(super) struct Situation<'s, 'a> {
    /// Whether it fits the soak.
    pub(super) fits: Fits,
    /// Share of a run without fault.
    pub(super) usual: f64,
    /// Whether it is no plain carbon steel.
    pub(super) other_steel: bool,
    /// The causes, the likeliest first.
    pub(super) causes: &'s [Blamed<'a>],
    /// How many things were seen.
    pub(super) seen: usize,
}

impl<'a> Advice<'a> {
    pub(super) fn of(
        question: &Question<'a>,
        took: &Took,
        situation: &Situation<'_, 'a>,
        finish: &FinishedEdge,
    ) -> Self {
        let Situation { fits, usual, other_steel, causes, seen } = *situation;
        let likely = causes.first().filter(|b| b.share >= LIKELY && b.share > 0.5 * usual);
        let settle = likely.map(|b| Step::Settle(b.cause));
        let harden =
            Step::Harden { medium: finish.medium, cracks: finish.cracks, sealed: !finish.outlives_air };
        let enough = took.enough.min(took.depth.as_ref().map_or(1.0, |d| d.enough));
        let (first, then) = match took.answer {
            Answer::CannotTell if other_steel => {
                let stock = causes.iter().find(|b| b.change.core.is_some());
                (stock.map_or(Step::GiveUp, |b| Step::Settle(b.cause)), Step::LeavePiece)
            }
            Answer::CannotTell if took.edge_untold && took.enough >= 0.5 => {
                (Step::TellTheEdge, Step::LeavePiece)
            }
            Answer::CannotTell if seen == 0 && took.too_little >= NOTHING => {
                (Step::SoakAgain, Step::LeavePiece)
            }
            Answer::CannotTell => {
                // when nearly all was read that can be, only what tells causes apart helps
                let much = causes.first().filter(|b| seen >= MUCH && b.share > 0.5 * usual);
                let much = much.map(|b| Step::Settle(b.cause));
                (settle.or(much).unwrap_or(Step::ReadCoupon), Step::LeavePiece)
            }
            // what the coupon leaves open is cheaper to settle before the piece is hardened
            Answer::Yes => match settle {
                Some(step) => (step, harden),
                None => (harden, Step::Temper),
            },
            Answer::Partly if fits == Fits::More || enough >= 0.5 => match settle {
                Some(step) => (step, harden),
                None => (harden, Step::Temper),
            },
            Answer::No if likely.is_some_and(|b| b.change.core.is_some()) => {
                (settle.unwrap_or(Step::GiveUp), Step::GiveUp)
            }
            Answer::No if took.faces >= question.need.sure_enough.value => {
                let step = match took.part {
                    Part::Face { .. } => Step::GrindLess,
                    Part::FinishedEdge if took.part.is_middle(question.run) => Step::ReachTheMiddle,
                    Part::FinishedEdge => Step::SoakAgain,
                };
                (step, settle.unwrap_or(Step::LeavePiece))
            }
            Answer::Partly | Answer::No => match settle {
                Some(step) => (step, Step::SoakAgain),
                None => (Step::SoakAgain, Step::LeavePiece),
            },
        };
        Self { first, then }
    }
}
