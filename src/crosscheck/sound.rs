use super::hypothesis::Hypothesis;
use super::normal::Mixture;
use super::{Doubtful, Expected, Eyes, Observation};

/// The drawn runs without fault: together they are what should have been seen.
pub(super) struct Sound<'h, 'a> {
    runs: Vec<&'h Hypothesis<'a>>,
    /// Their weights together.
    total: f64,
}

impl<'h, 'a> Sound<'h, 'a> {
    /// Of all hypotheses those without a cause.
    pub(super) fn of(hypotheses: impl Iterator<Item = &'h Hypothesis<'a>>) -> Self {
        let runs: Vec<_> = hypotheses.filter(|h| h.cause.is_none()).collect();
        Self { total: runs.iter().map(|h| h.weight).sum(), runs }
    }

    /// Where an observation lies among what all of them should show. `None`: nothing was predicted for it.
    pub(super) fn place(&self, seen: &Observation, eyes: &Eyes) -> Option<f64> {
        let each = self.runs.iter().map(|h| Some(h.weight * seen.place(&h.expected, eyes)?));
        each.sum::<Option<f64>>().map(|sum| sum / self.total)
    }

    /// What should have been seen, as one number each with its doubt; what no draw changes is as in the `best` story.
    pub(super) fn together(&self, best: Expected<'a>) -> Expected<'a> {
        let number =
            |of: fn(&Expected<'a>) -> Doubtful, own: Doubtful| self.number(|e| Some(of(e))).unwrap_or(own);
        let option = |of: fn(&Expected<'a>) -> Option<Doubtful>| self.number(of);
        let through = self.runs.iter().map(|h| h.weight * h.expected.through).sum::<f64>() / self.total;
        Expected {
            sparks: number(|e| e.sparks, best.sparks),
            peak: number(|e| e.peak, best.peak),
            inward: number(|e| e.inward, best.inward),
            visible: number(|e| e.visible, best.visible),
            through: if through.is_finite() { through } else { best.through },
            gain: option(|e| e.gain).or(best.gain),
            edge: option(|e| e.edge).or(best.edge),
            ..best
        }
    }

    /// Median and nine in ten of a number over all runs.
    fn number(&self, of: impl Fn(&Expected<'a>) -> Option<Doubtful>) -> Option<Doubtful> {
        let parts: Option<Vec<_>> = self.runs.iter().map(|h| Some((h.weight, of(&h.expected)?))).collect();
        let range = Mixture::of(parts?.into_iter())?.nine_in_ten((f64::NEG_INFINITY, f64::INFINITY))?;
        Some(Doubtful::of(&range))
    }
}
