use super::hypothesis::{Ground, Hypothesis};
use super::learned::{Learned, Worth, ranges};
use super::next_check::{Check, NextCheck};
use super::power::{Power, Powers};
use super::weighed::Weighed;
use super::{Alone, Causes, Observation, Signs};
use crate::diffusion::Form;
use crate::stats::effective_count;

/// What many drawn stories of a run tell, beside the two answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Inference<'a> {
    /// How many stories were weighed.
    pub stories: usize,
    /// How many even ones they are worth once they are weighed.
    pub carrying: f64,
    /// Share of a run without fault before anything was seen of the coupon, 0 to 1.
    pub usual_before: f64,
    /// What each thing that was seen says by itself.
    pub alone: Vec<Alone<'a>>,
    /// What the run must have been.
    pub learned: Vec<Learned>,
    /// Steady soaks that would have carried carbon as far.
    pub worth: Vec<Worth>,
    /// The cheapest check between the two best stories, if any is worth it.
    pub check: Option<NextCheck<'a>>,
    /// How well what was looked at can show each cause, in their order in `models/causes.toml`.
    pub powers: Vec<Power<'a>>,
    /// Share of sound runs with such readings that are called a mismatch, 0 to 1.
    pub alarms: f64,
}

/// Heats that a soak is told at lie on full steps of so many K, this one and the next two above it.
const STEP_CELSIUS: f64 = 25.0;
/// Carbon that diffusivity is told at, wt%: as of [`crate::prediction::Conditions::reach`].
const REFERENCE_WT: f64 = 0.5;

impl<'a> Inference<'a> {
    /// Of stories that were drawn and weighed by what was seen.
    pub(super) fn of(
        ground: &Ground<'a>,
        weighed: &Weighed<'a>,
        (observations, signs): (&[Observation], &Signs),
        powers: &Powers<'a>,
    ) -> Self {
        let causes: &'a Causes = ground.causes;
        let stories = weighed.stories();
        Self {
            stories: stories.len(),
            carrying: effective_count(stories.iter().map(|(_, weight)| *weight)),
            usual_before: Alone::before(stories, causes),
            alone: Alone::each(stories, observations, signs, causes),
            learned: Learned::all(stories),
            worth: worth(stories, &ground.physics.law.form.value),
            check: next_check(weighed, observations, signs, causes),
            powers: (0..causes.list.len()).filter_map(|cause| powers.of(cause)).collect(),
            alarms: powers.alarms(),
        }
    }
}

/// At the full step of heat nearest to the steel's own, and one above it.
fn worth(stories: &[(Hypothesis<'_>, f64)], form: &Form) -> Vec<Worth> {
    let own = ranges(stories, |h| h.conditions.top_celsius).map(|[_, after]| after.best());
    let nearest = own.map(|celsius| (celsius / STEP_CELSIUS).round() * STEP_CELSIUS);
    let heats = nearest.into_iter().flat_map(|celsius| [celsius, celsius + 2.0 * STEP_CELSIUS]);
    let at = |celsius: f64| {
        let diffusivity = form.at(celsius + 273.15, REFERENCE_WT);
        let [before, after] = ranges(stories, |h| h.conditions.reach / diffusivity / 60.0)?;
        Some(Worth { celsius, before, after }).filter(|worth| worth.after.best() > 0.0)
    };
    heats.filter_map(at).collect()
}

/// Between the two groups of stories that weigh most.
fn next_check<'a>(
    weighed: &Weighed<'a>,
    observations: &[Observation],
    signs: &Signs,
    causes: &'a Causes,
) -> Option<NextCheck<'a>> {
    let [first, second] = weighed.best_two()?;
    let open: Vec<&'a Check> =
        causes.checks.iter().filter(|check| check.look.is_open(observations, signs)).collect();
    let group = |cause: Option<usize>| -> Vec<(&Hypothesis<'a>, f64)> {
        let own = weighed.stories().iter().filter(|(h, weight)| h.cause == cause && *weight > 0.0);
        own.map(|(h, weight)| (h, *weight)).collect()
    };
    let (first, second) = (group(first), group(second));
    NextCheck::of(&open, [&first, &second], causes)
}
