use super::cross_check::Blamed;
use super::hypothesis::Hypothesis;
use super::normal::{Doubtful, Mixture};
use super::{Causes, Expected, Observation, Signs};
use crate::stats::weighted_quantiles;
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
            h.weight * seen * signs.likelihood(causes.chances_with(h.cause))
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

    /// Each hypothesis with what it weighs.
    pub(super) fn stories(&self) -> &[(Hypothesis<'a>, f64)] {
        &self.0
    }

    /// The two causes that weigh most, the heavier first; `None` among them: a run without fault. `None`: there are no two.
    pub(super) fn best_two(&self) -> Option<[Option<usize>; 2]> {
        let causes: BTreeSet<Option<usize>> = self.0.iter().map(|(h, _)| h.cause).collect();
        let mut shares: Vec<_> = causes.into_iter().map(|cause| (cause, self.share(cause))).collect();
        shares.sort_by(|a, b| b.1.total_cmp(&a.1));
        Some([shares.first()?.0, shares.get(1)?.0])
    }

    /// The hypothesis that weighs most.
    pub(super) fn likeliest(&self) -> Option<&Hypothesis<'a>> {
        self.0.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map(|(h, _)| h)
    }

    /// Of many drawn hypotheses the one in the middle of the likeliest cause, or of the runs without fault: nearest to the
    /// middle of their depth, of their sparks and of what lies under those. The one that weighs most would be an accident
    /// of the draws.
    pub(super) fn typical(&self) -> Option<&Hypothesis<'a>> {
        let [likeliest, _] = self.best_two()?;
        let group: Vec<_> = self.0.iter().filter(|(h, w)| h.cause == likeliest && *w > 0.0).collect();
        let numbers = |e: &Expected<'_>| [e.visible.best, e.sparks.best, e.peak.best];
        let middle = |i: usize| {
            let pairs: Vec<_> = group.iter().map(|(h, w)| (numbers(&h.expected)[i], *w)).collect();
            let [low, middle, high] = weighted_quantiles(&pairs, [0.25, 0.5, 0.75])?;
            Some((middle, (high - low).max(f64::MIN_POSITIVE)))
        };
        let middles = [middle(0)?, middle(1)?, middle(2)?];
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
