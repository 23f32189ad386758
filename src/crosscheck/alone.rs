use super::hypothesis::Hypothesis;
use super::{Cause, Causes, Observation, Signs};
use std::collections::BTreeMap;

/// What one thing that was seen says by itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Alone<'a> {
    /// What was seen; `None`: all signs together.
    pub seen: Option<Observation>,
    /// Share of a run without fault by this alone, 0 to 1.
    pub usual: f64,
    /// The likeliest cause by this alone, with its share.
    pub cause: Option<(&'a Cause, f64)>,
}

impl<'a> Alone<'a> {
    /// Of everything that was seen, one by one.
    pub(super) fn each(
        stories: &[(Hypothesis<'a>, f64)],
        observations: &[Observation],
        signs: &Signs,
        causes: &'a Causes,
    ) -> Vec<Self> {
        let observed = observations.iter().map(|seen| {
            Self::of(Some(*seen), stories, causes, |h| seen.likelihood(&h.expected, &causes.eyes))
        });
        let by_signs = || Self::of(None, stories, causes, |h| signs.likelihood(causes.chances_with(h.cause)));
        let signs_seen = signs.0.iter().any(Option::is_some);
        observed.chain(signs_seen.then(by_signs)).collect()
    }

    /// Share of a run without fault before anything was seen, 0 to 1.
    pub(super) fn before(stories: &[(Hypothesis<'a>, f64)], causes: &'a Causes) -> f64 {
        Self::of(None, stories, causes, |_| 1.0).usual
    }

    /// By what each story weighed before, times this likelihood.
    fn of(
        seen: Option<Observation>,
        stories: &[(Hypothesis<'a>, f64)],
        causes: &'a Causes,
        likelihood: impl Fn(&Hypothesis<'a>) -> f64,
    ) -> Self {
        let mut weights: BTreeMap<Option<usize>, f64> = BTreeMap::new();
        for (h, _) in stories {
            *weights.entry(h.cause).or_default() += h.weight * likelihood(h);
        }
        let total: f64 = weights.values().sum();
        let share = |weight: f64| if total > 0.0 { weight / total } else { 0.0 };
        let faults = weights.iter().filter_map(|(cause, weight)| Some((&causes.list[(*cause)?], *weight)));
        let cause = faults.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(cause, weight)| (cause, share(weight)));
        Self { seen, usual: share(weights.get(&None).copied().unwrap_or_default()), cause }
    }
}
