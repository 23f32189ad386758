use super::agreement::Fits;
use super::cross_check::Blamed;
use super::finish::FinishedEdge;
use super::took::{Answer, Took};
use super::{Cause, Question};
use crate::steel::QuenchMedium;

/// Share from which a cause is worth acting on (judgement).
const LIKELY: f64 = 0.2;

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
    /// Make something else of it.
    GiveUp,
}

impl<'a> Advice<'a> {
    pub(super) fn of(
        question: &Question<'a>,
        took: &Took,
        fits: Fits,
        causes: &[Blamed<'a>],
        usual: f64,
        finish: &FinishedEdge,
    ) -> Self {
        let blamed = causes.first().filter(|b| b.share >= LIKELY && b.share > usual * 0.5);
        let settle = || blamed.map(|b| Step::Settle(b.cause));
        let harden =
            Step::Harden { medium: finish.medium, cracks: finish.cracks, sealed: !finish.outlives_air };
        let two = |first, then| Self { first, then };
        match took.answer {
            Answer::CannotTell => match settle() {
                _ if fits == Fits::CannotTell => two(Step::ReadCoupon, Step::LeavePiece),
                Some(step) => two(step, Step::LeavePiece),
                None => two(Step::ReadCoupon, Step::LeavePiece),
            },
            // what the coupon leaves open is cheaper to settle before the piece is hardened
            Answer::Yes => match settle() {
                Some(step) => two(step, harden),
                None => two(harden, Step::Temper),
            },
            Answer::Partly => two(Step::SoakAgain, settle().unwrap_or(harden)),
            Answer::No if blamed.is_some_and(|b| b.change.core.is_some()) => {
                two(settle().unwrap_or(Step::GiveUp), Step::GiveUp)
            }
            Answer::No
                if took.part.is_middle(question.run) && took.faces >= question.need.sure_enough.value =>
            {
                two(Step::ReachTheMiddle, settle().unwrap_or(Step::LeavePiece))
            }
            Answer::No => match settle() {
                Some(step) => two(step, Step::SoakAgain),
                None => two(Step::SoakAgain, Step::LeavePiece),
            },
        }
    }
}
