//! The prediction as a distribution: many stories of one run, drawn from everything that is not known exactly.

use super::story::on_all_cores;
use super::{Inputs, Prior, Stories, Story};

/// Parts of the draws that know nothing of each other: what they differ by tells how far the whole is from converged.
pub(super) const PARTS: usize = 8;
/// Seed of the first part; the others follow it. A fixed one: the same run, the same answer.
pub const SEED: u32 = 2026;
/// Half the distance between two numbers of a coordinate: none is 0.
const HALF_STEP: f64 = 3e-8;

/// The points at which stories of one run are drawn: Sobol's sequence with Owen's scrambling, evenly spread over the
/// unit cube of what is not known. Source: B. Burley, Practical hash-based Owen scrambling, Journal of Computer
/// Graphics Techniques 9 (2020), as published in the package `sobol_burley`.
#[derive(Debug, Clone, Copy)]
pub struct Draws<'a> {
    prior: &'a Prior,
    count: usize,
}

impl<'a> Draws<'a> {
    /// So many draws from `prior`, in even parts.
    pub fn of(prior: &'a Prior, count: usize) -> Self {
        Self { prior, count: count.next_multiple_of(PARTS) }
    }

    /// The part that a draw belongs to.
    pub(super) fn part(&self, draw: usize) -> usize {
        draw / (self.count / PARTS)
    }

    /// Whether a draw is one of the first in its part, of every `one_in` so many: a block of the sequence is as evenly
    /// spread as the whole.
    pub fn is_one_of_few(&self, draw: usize, one_in: usize) -> bool {
        let size = self.count / PARTS;
        draw % size < size.div_ceil(one_in)
    }

    /// Coordinates of a draw, one for each number that is not known, 0 to 1.
    pub(super) fn point(&self, draw: usize) -> Vec<f64> {
        let part = self.part(draw);
        let index = (draw - part * (self.count / PARTS)) as u32;
        let seed = SEED + part as u32;
        let coordinate =
            |dimension: usize| f64::from(sobol_burley::sample(index, dimension as u32, seed)) + HALF_STEP;
        (0..self.prior.doubts().count()).map(coordinate).collect()
    }

    /// What each draw takes for true.
    fn inputs(&self, draw: usize) -> Inputs {
        self.prior.story(&self.point(draw))
    }

    /// Solves every draw on as many cores as there are. `None`: no story comes of that draw.
    pub(super) fn solve(&self, stories: &Stories<'_>) -> Vec<Option<Story>> {
        let stories = stories.drawn();
        on_all_cores(self.count, |draw| Some(stories.solve_capped(None, &self.inputs(draw)).ok()?.0))
    }
}
