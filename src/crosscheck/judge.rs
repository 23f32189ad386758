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

impl Judge<'_, '_> {
    /// Share at either end of what should be seen that counts as outside, for so many observations: what may be called a
    /// mismatch, shared out among them.
    pub(super) fn even_tail(&self, observations: usize) -> f64 {
        self.need.false_alarms.value / (2.0 * observations.max(1) as f64)
    }

    /// Of an observation with its place among what sound runs show.
    pub(super) fn agreement(&self, seen: Observation, place: f64, tail: f64) -> Agreement {
        Agreement { expected: seen.expected(self.expected), seen, place, side: Side::of(place, tail) }
    }

    /// What they come to; `unusual`: whether a run without fault keeps too small a share.
    pub(super) fn fits(&self, agreements: &[Agreement], unusual: bool) -> Fits {
        let seen: Vec<Observation> = agreements.iter().map(|agreement| agreement.seen).collect();
        Fits::of(agreements, self.exclude(&seen), unusual)
    }

    /// Whether sparks and hardness exclude each other, wherever they lie.
    pub(super) fn exclude(&self, seen: &[Observation]) -> bool {
        exclude(seen, self.expected, &self.causes.eyes)
    }
}

/// Whether sparks and hardness exclude each other, whatever the soak was: rich sparks of a case that shows
/// no rim or that a file bites, or plain sparks of one that is plainly there.
fn exclude(observations: &[Observation], expected: &Expected<'_>, eyes: &Eyes) -> bool {
    /// Share of the votes that must lie on one side (judgement).
    const SURE: f64 = 0.8;
    /// First band of sparks that are rich beyond doubt, and of those that are not plain: 0.45, 0.25 %C.
    const RICH: usize = 3;
    const NOT_PLAIN: usize = 2;
    /// A stroke, or a rim that is missing, counts only where as rich a steel would surely have shown otherwise (judgement).
    const UNLIKELY: f64 = 0.1;
    /// Carbon of sparks that are rich beyond doubt, wt%.
    const RICH_CARBON: Doubtful = Doubtful { best: 0.75, down: 0.1, up: 0.1 };
    let sparks = observations.iter().find_map(|o| match o {
        Observation::Sparks(votes) => Some(votes),
        _ => None,
    });
    let Some(votes) = sparks else { return false };
    let rich = votes[RICH..].iter().sum::<f64>() >= SURE;
    let plain = votes[..NOT_PLAIN].iter().sum::<f64>() >= SURE;
    let least = eyes.least_rim.value.high();
    let says_case = |o: &Observation| match o {
        Observation::Rim { class, depth, .. } => match class {
            // a case that was never hardened shows no rim either, nor does one so thin that an eye may miss it
            CaseClass::None => Some(false).filter(|_| {
                matches!(expected.hardness_of(&RICH_CARBON), Hard::At(_))
                    && chance_of_no_rim(expected, eyes) < UNLIKELY
            }),
            CaseClass::Through => Some(true),
            CaseClass::Partial | CaseClass::AllRound => depth.map(|d| d.best > least).filter(|deep| *deep),
        },
        Observation::File { turns, skates, depth_mm } if *depth_mm <= least => {
            let skating = expected.hardened * expected.skating(&RICH_CARBON, turns, eyes);
            if *skates { Some(true) } else { Some(false).filter(|_| 1.0 - skating < UNLIKELY) }
        }
        _ => None,
    };
    observations.iter().filter_map(says_case).any(|case| if case { plain } else { rich })
}
