use super::cross_check::Blamed;
use super::hypothesis::Hypothesis;
use super::normal::{Doubtful, Mixture};
use super::{Causes, Expected, Observation, Signs};
use std::collections::BTreeSet;

/// Hypotheses with what each weighs after everything was seen; the weights sum to 1.
pub(super) struct Weighed<'a>(Vec<(Hypothesis<'a>, f64)>);

impl<'a> Weighed<'a> {
    /// Weighs each by how likely it makes what was seen.
    pub(super) fn of(
        hypotheses: Vec<Hypothesis<'a>>,
        observations: &[Observation],
        signs: &Signs,
        causes: &Causes,
    ) -> Self {
        let weigh = |h: &Hypothesis<'_>| {
            let seen = observations.iter().map(|o| o.likelihood(&h.expected, &causes.eyes)).product::<f64>();
            let chances = h.cause.map_or(&causes.chances.value, |i| &causes.list[i].chances);
            h.weight * seen * signs.likelihood(chances)
        };
        let weights: Vec<f64> = hypotheses.iter().map(weigh).collect();
        let total: f64 = weights.iter().sum();
        let share = |weight: f64| if total > 0.0 { weight / total } else { 0.0 };
        Self(hypotheses.into_iter().zip(weights).map(|(h, w)| (h, share(w))).collect())
    }

    /// Each with its weight, in their order.
    pub(super) fn into_each(self) -> impl Iterator<Item = (Hypothesis<'a>, f64)> {
        self.0.into_iter()
    }

    /// Share of one cause, by its index, or of a run without fault.
    pub(super) fn share(&self, cause: Option<usize>) -> f64 {
        self.0.iter().filter(|(h, _)| h.cause == cause).map(|(_, w)| w).sum()
    }

    /// The causes that apply, the likeliest first, each with the change that explains most.
    pub(super) fn blamed(&self, causes: &'a Causes) -> Vec<Blamed<'a>> {
        let one = |(i, cause)| {
            let own = self.0.iter().filter(|(h, _)| h.cause == Some(i));
            let (best, _) = own.max_by(|a, b| a.1.total_cmp(&b.1))?;
            Some(Blamed { cause, share: self.share(Some(i)), change: best.change })
        };
        let mut blamed: Vec<Blamed<'a>> = causes.list.iter().enumerate().filter_map(one).collect();
        blamed.sort_by(|a, b| b.share.total_cmp(&a.share));
        blamed
    }

    /// The hypothesis that weighs most.
    pub(super) fn likeliest(&self) -> Option<&Hypothesis<'a>> {
        self.0.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map(|(h, _)| h)
    }

    /// Of many drawn hypotheses the one in the middle of the likeliest cause, or of the runs without fault: nearest to the
    /// middle of their depth, of their sparks and of what lies under those. The one that weighs most would be an accident
    /// of the draws.
    pub(super) fn typical(&self) -> Option<&Hypothesis<'a>> {
        let causes: BTreeSet<Option<usize>> = self.0.iter().map(|(h, _)| h.cause).collect();
        let likeliest = causes.into_iter().max_by(|a, b| self.share(*a).total_cmp(&self.share(*b)))?;
        let group: Vec<_> = self.0.iter().filter(|(h, w)| h.cause == likeliest && *w > 0.0).collect();
        let numbers = |e: &Expected<'_>| [e.visible.best, e.sparks.best, e.peak.best];
        let place = |i: usize, share: f64| {
            let mut sorted: Vec<(f64, f64)> =
                group.iter().map(|(h, w)| (numbers(&h.expected)[i], *w)).collect();
            sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut left = share * sorted.iter().map(|n| n.1).sum::<f64>();
            let at = sorted.iter().find(|n| {
                left -= n.1;
                left <= 0.0
            });
            at.or(sorted.last()).map_or(0.0, |n| n.0)
        };
        let middles: [(f64, f64); 3] = std::array::from_fn(|i| {
            (place(i, 0.5), (place(i, 0.75) - place(i, 0.25)).max(f64::MIN_POSITIVE))
        });
        let off = |e: &Expected<'_>| -> f64 {
            numbers(e).iter().zip(middles).map(|(x, (middle, width))| ((x - middle) / width).powi(2)).sum()
        };
        let nearest = group.iter().min_by(|a, b| off(&a.0.expected).total_cmp(&off(&b.0.expected)))?;
        Some(&nearest.0)
    }

    /// A number over all hypotheses.
    pub(super) fn mixture(&self, number: impl Fn(&Expected<'a>) -> Doubtful) -> Mixture {
        Mixture::of(self.0.iter().map(|(h, w)| (*w, number(&h.expected)))).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests;
