use super::observation::chance_of_no_rim;
use super::{Agreement, Causes, Doubtful, Expected, Eyes, Fits, Hard, Need, Observation, Side};
use crate::estimate::CaseClass;

/// Holds observations against what sound runs should show.
#[derive(Clone, Copy)]
pub(super) struct Judge<'j, 'a> {
    /// What they should, all of them together.
    pub(super) expected: &'j Expected<'a>,
    pub(super) causes: &'a Causes,
    pub(super) need: &'a Need,
}

/// From where on what was seen does not fit a run without fault.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Limits {
    /// Share at either end of what sound runs show that counts as outside.
    pub(super) tail: f64,
    /// Share of a run without fault under which some cause explains all of it far better.
    pub(super) least_usual: f64,
    /// Chance of such hardness with such sparks under which the two exclude each other.
    pub(super) exclude: f64,
}

impl Judge<'_, '_> {
    /// For so many observations of which nobody knows how they come out together: what may be called a mismatch, shared out
    /// among both ends of each.
    pub(super) fn limits(&self, observations: usize) -> Limits {
        let Need { false_alarms, least_usual, exclude, .. } = self.need;
        let tail = false_alarms.value / (2.0 * observations.max(1) as f64);
        Limits { tail, least_usual: least_usual.value, exclude: exclude.value }
    }

    /// Of an observation with its place among what sound runs show.
    pub(super) fn agreement(&self, seen: Observation, place: f64, tail: f64) -> Agreement {
        Agreement { expected: seen.expected(self.expected), seen, place, side: Side::of(place, tail) }
    }

    /// What they come to, a run without fault having this share.
    pub(super) fn fits(&self, agreements: &[Agreement], usual: f64, limits: &Limits) -> Fits {
        let seen: Vec<Observation> = agreements.iter().map(|agreement| agreement.seen).collect();
        Fits::of(agreements, self.together(&seen) < limits.exclude, usual < limits.least_usual)
    }

    /// Chance that a steel with such sparks shows such hardness, 0 to 1, whatever the soak was.
    pub(super) fn together(&self, seen: &[Observation]) -> f64 {
        together(seen, self.expected, &self.causes.eyes)
    }
}

/// The least likely of what hardness shows beside such sparks: rich ones of a case that shows no rim or that a file bites, or
/// plain ones of one that is plainly there, which is never. 1: nothing of that.
fn together(observations: &[Observation], expected: &Expected<'_>, eyes: &Eyes) -> f64 {
    /// Share of the votes that must lie on one side (judgement).
    const SURE: f64 = 0.8;
    /// First band of sparks that are rich beyond doubt, and of those that are not plain: 0.45, 0.25 %C.
    const RICH: usize = 3;
    const NOT_PLAIN: usize = 2;
    /// Carbon of sparks that are rich beyond doubt, wt%.
    const RICH_CARBON: Doubtful = Doubtful { best: 0.75, down: 0.1, up: 0.1 };
    let sparks = observations.iter().find_map(|o| match o {
        Observation::Sparks(votes) => Some(votes),
        _ => None,
    });
    let Some(votes) = sparks else { return 1.0 };
    let rich = votes[RICH..].iter().sum::<f64>() >= SURE;
    let plain = votes[..NOT_PLAIN].iter().sum::<f64>() >= SURE;
    let least = eyes.least_rim.value.high();
    let with =
        |o: &Observation| match o {
            // a case that was never hardened shows no rim either, nor does one so thin that an eye may miss it
            Observation::Rim { class: CaseClass::None, .. } if rich => {
                let hard = matches!(expected.hardness_of(&RICH_CARBON), Hard::At(_));
                if hard { chance_of_no_rim(expected, eyes) } else { 1.0 }
            }
            Observation::Rim { class: CaseClass::Through, .. } if plain => 0.0,
            Observation::Rim {
                class: CaseClass::Partial | CaseClass::AllRound, depth: Some(depth), ..
            } if plain && depth.best > least => 0.0,
            Observation::File { turns, skates, depth_mm } if *depth_mm <= least => match skates {
                true if plain => 0.0,
                false if rich => 1.0 - expected.hardened * expected.skating(&RICH_CARBON, turns, eyes),
                _ => 1.0,
            },
            _ => 1.0,
        };
    observations.iter().map(with).fold(1.0, f64::min)
}
