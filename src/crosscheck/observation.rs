use super::{Doubtful, Expected, Eyes, Hard, Mistaken};
use crate::estimate::{CaseClass, CaseEstimate, DepthBand};
use crate::spark::OverTime;
use crate::stats::normal_below;
use crate::steel::CarbonBand;

/// One thing that was seen, to be held against what a hypothesis says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Observation {
    /// Votes of the carbon bands from sparks, in the order of [`CarbonBand::ALL`].
    Sparks([f64; 6]),
    /// How sparks changed while grinding inward.
    Inward(OverTime),
    /// The fracture face.
    Rim {
        /// How far round.
        class: CaseClass,
        /// Depth, mm, if it was measured.
        depth: Option<Doubtful>,
        /// Votes of the bands of depth, in the order of [`DepthBand::ALL`], if it was not.
        votes: Option<[f64; 6]>,
    },
    /// Mass gain weighed, mg.
    Gain(Doubtful),
    /// A stroke of a file.
    File {
        /// HRC at which the file changes from biting to skating.
        turns: Doubtful,
        /// Whether it skated.
        skates: bool,
        /// Depth ground off before, mm.
        depth_mm: f64,
    },
}

impl Observation {
    /// From a reading of a face.
    pub(super) fn rim(case: &CaseEstimate) -> Self {
        let depth = case.depth_mm.as_ref().map(Doubtful::of);
        Self::Rim { class: case.class, depth, votes: case.votes }
    }

    /// How likely this is to be seen, under what is expected; densities per mm or mg where it is a number.
    pub fn likelihood(&self, expected: &Expected, eyes: &Eyes) -> f64 {
        let slip = eyes.slip.value;
        let with_slip = |fits: f64, wrong: f64| (1.0 - slip) * fits + slip * wrong;
        match self {
            Self::Sparks(votes) => {
                let bands = bands(expected, eyes);
                let fits = votes.iter().zip(&bands).map(|(v, p)| v * p).sum();
                with_slip(fits, 1.0 / 6.0)
            }
            Self::Inward(seen) => with_slip(inward(*seen, expected, eyes), 0.25),
            Self::Rim { class, depth, votes } => {
                let chances = classes(expected, eyes);
                let fits = chances[*class as usize];
                let edge = match class {
                    CaseClass::Partial | CaseClass::AllRound => {
                        depth_fit(expected, depth.as_ref(), votes.as_ref(), eyes)
                    }
                    CaseClass::None | CaseClass::Through => 1.0,
                };
                let slip_mm = eyes.slip_mm.value;
                let wrong = if depth.is_some() { 0.25 / slip_mm } else { 0.25 };
                // a rim that may meet its opposite may as well be a case right through
                let through = if reaches_middle(*class, depth.as_ref(), expected) {
                    chances[CaseClass::Through as usize] / slip_mm
                } else {
                    0.0
                };
                with_slip(fits * edge + through, wrong)
            }
            Self::Gain(seen) => match &expected.gain {
                Some(gain) => {
                    let gain = gain.against(seen);
                    with_slip(gain.density(seen.best), 0.1 * gain.density(gain.best))
                }
                None => 1.0,
            },
            Self::File { turns, skates, depth_mm } => {
                let chance = skating(expected, turns, *depth_mm, eyes);
                with_slip(if *skates { chance } else { 1.0 - chance }, 0.5)
            }
        }
    }

    /// What should have been, in the unit of the observation; `None`: it is no number.
    pub(super) fn expected(&self, expected: &Expected) -> Option<Doubtful> {
        match self {
            Self::Sparks(_) => Some(expected.sparks),
            Self::Rim { .. } => Some(expected.visible),
            Self::Gain(_) => expected.gain,
            Self::File { depth_mm, .. } => match expected.hardness(*depth_mm) {
                Hard::At(hrc) if expected.hardened > 0.0 => Some(hrc),
                Hard::At(_) | Hard::Soft | Hard::Unknown => None,
            },
            Self::Inward(_) => None,
        }
    }

    /// Where it lies among what should be seen: near 0 poorer, shallower or softer than nearly all of it,
    /// near 1 richer, deeper or harder. `None`: nothing was predicted for it.
    pub(super) fn place(&self, expected: &Expected, eyes: &Eyes) -> Option<f64> {
        Some(match self {
            Self::Sparks(votes) => {
                let bands = bands(expected, eyes);
                let mut below = 0.0;
                let mut place = 0.0;
                for (vote, chance) in votes.iter().zip(&bands) {
                    place += vote * (below + 0.5 * chance);
                    below += chance;
                }
                place
            }
            Self::Inward(seen) => {
                let Richness { first, peak, far } = Richness::of(expected, eyes);
                // whichever part of it is the less likely says on which side it lies
                let between = |richer: f64, poorer: f64| {
                    if richer < poorer { 1.0 - 0.5 * richer } else { 0.5 * poorer }
                };
                match seen {
                    OverTime::RichThroughout => 1.0 - 0.5 * far,
                    OverTime::RichThenPlain => between(first, 1.0 - far),
                    OverTime::PlainThenRichThenPlain => between(peak, 1.0 - first),
                    OverTime::PlainThroughout => 0.5 * (1.0 - first) * (1.0 - peak),
                }
            }
            Self::Rim { class, depth, votes } => {
                let [none, partial, round, through] = classes(expected, eyes);
                let shallower = |mm: f64| expected.visible.below(mm);
                match class {
                    CaseClass::None => 0.5 * none,
                    CaseClass::Through => 1.0 - 0.5 * through,
                    CaseClass::Partial | CaseClass::AllRound => match (depth, votes) {
                        (Some(seen), _) => {
                            let shallower = (1.0 - through) * expected.visible.against(seen).below(seen.best);
                            let meets = reaches_middle(*class, Some(seen), expected);
                            if meets { shallower + 0.5 * through } else { shallower }
                        }
                        (None, Some(votes)) => {
                            let middle = |band: usize| {
                                let (low, high) = DEPTHS[band];
                                0.5 * (shallower(low) + shallower(high))
                            };
                            (1.0 - through) * (0..6).map(|band| votes[band] * middle(band)).sum::<f64>()
                        }
                        (None, None) => none + 0.5 * (partial + round),
                    },
                }
            }
            Self::Gain(seen) => expected.gain.as_ref()?.against(seen).below(seen.best),
            Self::File { turns, skates, depth_mm } => {
                let chance = skating(expected, turns, *depth_mm, eyes);
                if *skates { 1.0 - 0.5 * chance } else { 0.5 * (1.0 - chance) }
            }
        })
    }
}

/// Edges of [`DepthBand::ALL`], mm; none and through have no width.
const DEPTHS: [(f64, f64); 6] = [(0.0, 0.0), (0.0, 0.2), (0.2, 0.5), (0.5, 1.0), (1.0, 10.0), (10.0, 10.0)];
const _: () = assert!(DepthBand::ALL.len() == DEPTHS.len());

/// Chance of each carbon band being read.
fn bands(expected: &Expected, eyes: &Eyes) -> [f64; 6] {
    let carbon = &expected.sparks;
    let read = carbon.read_to(eyes.spark.value + eyes.spark_per_carbon.value * carbon.best.max(0.0));
    CarbonBand::ALL.map(|band| {
        let (low, high) = band.edges();
        // nothing is read below none
        let from = if low > 0.0 { read.below(low) } else { 0.0 };
        high.map_or(1.0, |high| read.below(high)) - from
    })
}

/// Chance of sparks being called rich, 0 to 1.
struct Richness {
    /// At the first touch.
    first: f64,
    /// Where the carbon is highest below it.
    peak: f64,
    /// As deep as somebody grinds.
    far: f64,
}

impl Richness {
    fn of(expected: &Expected, eyes: &Eyes) -> Self {
        let called = Doubtful::of(&eyes.rich.value);
        let rich = |carbon: &Doubtful| 1.0 - carbon.against(&called).below(called.best);
        Self { first: rich(&expected.sparks), peak: rich(&expected.peak), far: rich(&expected.inward) }
    }
}

/// Chance of the sparks changing like that.
fn inward(seen: OverTime, expected: &Expected, eyes: &Eyes) -> f64 {
    let Richness { first, peak, far } = Richness::of(expected, eyes);
    match seen {
        OverTime::RichThroughout => first * far,
        OverTime::RichThenPlain => first * (1.0 - far),
        OverTime::PlainThenRichThenPlain => (1.0 - first) * peak,
        OverTime::PlainThroughout => (1.0 - first) * (1.0 - peak),
    }
}

/// Chance of each class of rim.
fn classes(expected: &Expected, eyes: &Eyes) -> [f64; 4] {
    match expected.mistaken {
        Some(Mistaken::NoBorder) => return eyes.no_border.value,
        Some(Mistaken::Lip) => return eyes.lip.value,
        None => {}
    }
    let least = Doubtful::of(&eyes.least_rim.value);
    let through = expected.through;
    let none = (1.0 - through) * expected.visible.against(&least).below(least.best);
    let rim = 1.0 - through - none;
    let hard = [none, rim * eyes.one_sided.value, rim * (1.0 - eyes.one_sided.value), through];
    // a coupon that was not hardened after all shows what any soft break shows
    [0, 1, 2, 3].map(|i| expected.hardened * hard[i] + (1.0 - expected.hardened) * eyes.soft_break.value[i])
}

/// Chance that no rim is seen.
pub(super) fn chance_of_no_rim(expected: &Expected, eyes: &Eyes) -> f64 {
    classes(expected, eyes)[CaseClass::None as usize]
}

/// Whether a rim all round may reach the middle, as far as it can be read.
fn reaches_middle(class: CaseClass, depth: Option<&Doubtful>, expected: &Expected) -> bool {
    let middle_mm = expected.profile.extent() * 1e3;
    class == CaseClass::AllRound && depth.is_some_and(|d| d.nine_in_ten().1 >= middle_mm)
}

/// How well a depth fits: density per mm if it was measured, else the chance of its bands.
fn depth_fit(expected: &Expected, depth: Option<&Doubtful>, votes: Option<&[f64; 6]>, eyes: &Eyes) -> f64 {
    let visible =
        if expected.mistaken.is_some() { Doubtful::of(&eyes.lip_mm.value) } else { expected.visible };
    match (depth, votes) {
        (Some(seen), _) => visible.against(seen).density(seen.best),
        (None, Some(votes)) => {
            let inside = |(low, high): (f64, f64)| visible.below(high) - visible.below(low);
            votes.iter().zip(DEPTHS).map(|(vote, band)| vote * inside(band)).sum()
        }
        (None, None) => 1.0,
    }
}

/// Chance that the file skates.
fn skating(expected: &Expected, turns: &Doubtful, depth_mm: f64, eyes: &Eyes) -> f64 {
    let hard = expected.skating(&expected.carbon(depth_mm), turns, eyes);
    expected.hardened * hard + (1.0 - expected.hardened) * eyes.skates_on_soft.value
}

impl Expected<'_> {
    /// Chance that a file that turns at this HRC skates on steel of this carbon, hardened as the coupon was.
    pub(super) fn skating(&self, carbon: &Doubtful, turns: &Doubtful, eyes: &Eyes) -> f64 {
        skates(self.hardness_of(carbon), turns, eyes)
    }
}

/// Chance that a file that turns at this HRC skates on steel so hard.
pub(super) fn skates(hard: Hard, turns: &Doubtful, eyes: &Eyes) -> f64 {
    match hard {
        Hard::At(hrc) => normal_below((hrc.best - turns.best) / hrc.down.max(hrc.up).hypot(turns.down)),
        Hard::Soft => eyes.skates_on_soft.value,
        Hard::Unknown => 0.5,
    }
}

#[cfg(test)]
mod tests;
