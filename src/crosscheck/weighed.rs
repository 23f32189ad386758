use super::cross_check::Blamed;
use super::hypothesis::Hypothesis;
use super::normal::{Doubtful, Mixture};
use super::{Causes, Expected, Observation, Signs};

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

    /// A number over all hypotheses.
    pub(super) fn mixture(&self, number: impl Fn(&Expected<'a>) -> Doubtful) -> Mixture {
        Mixture::of(self.0.iter().map(|(h, w)| (*w, number(&h.expected)))).unwrap_or_default()
    }
}
