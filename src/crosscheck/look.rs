use super::expected::Quenched;
use super::hypothesis::Hypothesis;
use super::observation::skates;
use super::{Causes, Doubtful, Observation, Sign, Signs};
use crate::estimate::{CaseClass, DepthBand};
use crate::spark::OverTime;
use crate::stats::normal_below;
use crate::steel::CarbonBand;
use crate::units::Temperature;

/// Stretches that a depth or a mass is told apart in: as many stories in each.
const STRETCHES: usize = 24;
/// Most places in a stretch at which it is asked how likely it is; one for each standard deviation of the reading.
const MOST_PLACES: usize = 8;
/// Standard deviations beyond the outermost story that a reading may still lie (judgement).
const BEYOND: f64 = 2.5;

/// A way to look at a coupon, or at the next soak like this one, before anybody looked.
#[derive(Debug, Clone, PartialEq)]
pub enum Look {
    /// A touch on the wheel beside untreated stock.
    Sparks,
    /// Sparks while it is ground inward.
    Inward,
    /// The rim of a broken face, its depth read to this, mm (one standard deviation).
    Rim {
        /// mm.
        sd: f64,
    },
    /// The same by bands of depth only.
    RimByBand,
    /// The rim of its other half, quenched in water so that all of the case hardens.
    RimInWater {
        /// mm.
        sd: f64,
    },
    /// Mass before and after the next soak, to this, mg (one standard deviation).
    Gain {
        /// mg.
        sd: f64,
    },
    /// A file drawn over it with so much ground off.
    File {
        /// HRC at which the file turns from biting to skating.
        turns: Doubtful,
        /// mm.
        depth: f64,
    },
    /// A file drawn over the skin of its other half, hardened anew in water from just past magnetic.
    FileAnew {
        /// HRC at which the file turns from biting to skating.
        turns: Doubtful,
    },
    /// Whether it shows this.
    Sign(Sign),
    /// Whether a metal that melts at so much melts beside the steel in the next soak.
    Melts(Temperature),
}

/// One way that a look may come out.
#[derive(Debug, Clone, Copy)]
enum Outcome {
    /// This is seen.
    Seen(Observation),
    /// A number is read in this stretch, to so much, mm or mg.
    Read(Number, (f64, f64), f64),
    /// The rim is so deep where all of it hardened, mm.
    Deep((f64, f64)),
    /// A file that turns so skates on the skin hardened anew, or not.
    SkatesAnew(Doubtful, bool),
    /// The sign is there, or not.
    Shows(Sign, bool),
    /// The metal melted, or not; it does around this, K.
    Melts(f64, bool),
}

/// A number that is read.
#[derive(Debug, Clone, Copy)]
enum Number {
    /// Depth of a rim, mm.
    Rim,
    /// Mass gain, mg.
    Gain,
}

impl Number {
    fn seen(self, at: f64, sd: f64) -> Observation {
        let read = Doubtful { best: at, down: sd, up: sd };
        match self {
            Self::Rim => Observation::Rim { class: CaseClass::AllRound, depth: Some(read), votes: None },
            Self::Gain => Observation::Gain(read),
        }
    }
}

/// A look with all the ways that it may come out.
#[derive(Debug, Clone)]
pub(super) struct Outlook {
    outcomes: Vec<Outcome>,
}

impl Outlook {
    /// For stories such as these.
    pub(super) fn of(look: &Look, stories: &[&Hypothesis<'_>]) -> Self {
        let one_hot = |at: usize| std::array::from_fn(|i| f64::from(u8::from(i == at)));
        let rim = |class, depth, votes| Observation::Rim { class, depth, votes };
        let bare = [CaseClass::None, CaseClass::Through].map(|class| Outcome::Seen(rim(class, None, None)));
        let outcomes = match look {
            Look::Sparks => (0..CarbonBand::ALL.len())
                .map(|band| Outcome::Seen(Observation::Sparks(one_hot(band))))
                .collect(),
            Look::Inward => OverTime::ALL.map(|order| Outcome::Seen(Observation::Inward(order))).into(),
            Look::Rim { sd } => {
                let depths = stretches(stories.iter().map(|h| h.expected.visible.best), *sd, 0.0);
                let depth = |stretch| Outcome::Read(Number::Rim, stretch, *sd);
                bare.into_iter().chain(depths.into_iter().map(depth)).collect()
            }
            Look::RimByBand => {
                let rims = 1..DepthBand::ALL.len() - 1;
                let band = |at| Outcome::Seen(rim(CaseClass::AllRound, None, Some(one_hot(at))));
                bare.into_iter().chain(rims.map(band)).collect()
            }
            Look::RimInWater { sd } => {
                let full = stories.iter().map(|h| h.expected.full.best);
                stretches(full, *sd, 0.0).into_iter().map(Outcome::Deep).collect()
            }
            Look::Gain { sd } => {
                let gains = stories.iter().filter_map(|h| h.expected.gain.map(|g| g.best));
                let gain = |stretch| Outcome::Read(Number::Gain, stretch, *sd);
                stretches(gains, *sd, f64::NEG_INFINITY).into_iter().map(gain).collect()
            }
            Look::File { turns, depth } => {
                let stroke = |skates| Observation::File { turns: *turns, skates, depth_mm: *depth };
                [true, false].map(|skates| Outcome::Seen(stroke(skates))).into()
            }
            Look::FileAnew { turns } => {
                [true, false].map(|skates| Outcome::SkatesAnew(*turns, skates)).into()
            }
            Look::Sign(sign) => [true, false].map(|shows| Outcome::Shows(*sign, shows)).into(),
            Look::Melts(at) => [true, false].map(|melted| Outcome::Melts(at.kelvin(), melted)).into(),
        };
        Self { outcomes }
    }

    /// Chance of each outcome in one story; they sum to 1.
    pub(super) fn chances(&self, story: &Hypothesis<'_>, causes: &Causes) -> Vec<f64> {
        let eyes = &causes.eyes;
        let signs = causes.chances_with(story.cause);
        // some sides only count as all round
        let sides = 1.0 / (1.0 - eyes.one_sided.value);
        let likelihood = |seen: &Observation| {
            let whole =
                if matches!(seen, Observation::Rim { class: CaseClass::AllRound, .. }) { sides } else { 1.0 };
            whole * seen.likelihood(&story.expected, eyes)
        };
        let chance = |outcome: &Outcome| match outcome {
            Outcome::Seen(seen) => likelihood(seen),
            Outcome::Read(number, (low, high), sd) => {
                let places = (((high - low) / sd).ceil() as usize).clamp(1, MOST_PLACES);
                let step = (high - low) / places as f64;
                let at = |i: usize| low + (i as f64 + 0.5) * step;
                (0..places).map(|i| step * likelihood(&number.seen(at(i), *sd))).sum()
            }
            Outcome::Deep((low, high)) => {
                let full = story.expected.full;
                full.below(*high) - full.below(*low)
            }
            Outcome::SkatesAnew(turns, skates) => {
                let (heat, martensite) = (eyes.past_magnet.value, eyes.water_martensite.value);
                let quench = Quenched { heat, martensite, ..story.expected.quench };
                let chance = self::skates(quench.hardness(&story.expected.carbon(0.0)), turns, eyes);
                if *skates { chance } else { 1.0 - chance }
            }
            Outcome::Shows(sign, true) => signs.get(*sign),
            Outcome::Shows(sign, false) => 1.0 - signs.get(*sign),
            Outcome::Melts(kelvin, melted) => {
                let off = story.conditions.top_celsius + 273.15 - kelvin;
                let melts = normal_below(off / eyes.metal_kelvin.value);
                if *melted { melts } else { 1.0 - melts }
            }
        };
        let mut chances: Vec<f64> = self.outcomes.iter().map(chance).collect();
        let total: f64 = chances.iter().sum();
        if total > 0.0 {
            for chance in &mut chances {
                *chance /= total;
            }
        } else {
            chances.fill(1.0 / self.outcomes.len() as f64);
        }
        chances
    }

    /// What is seen in each, where it is something that is held against a soak.
    pub(super) fn observations(&self) -> impl Iterator<Item = Observation> + '_ {
        self.outcomes.iter().filter_map(|outcome| match outcome {
            Outcome::Seen(observation) => Some(*observation),
            Outcome::Read(number, (low, high), sd) => Some(number.seen(f64::midpoint(*low, *high), *sd)),
            _ => None,
        })
    }

    /// What each outcome is, where it is a number: mm or mg.
    pub(super) fn number(&self, outcome: usize) -> Option<f64> {
        match self.outcomes.get(outcome)? {
            Outcome::Read(_, (low, high), _) | Outcome::Deep((low, high)) => Some(f64::midpoint(*low, *high)),
            _ => None,
        }
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.outcomes.len()
    }
}

/// Stretches that hold as many of `numbers` each, the outer ones as far beyond them as a reading strays, none below `least`
/// and none narrower than half of what it is read to.
fn stretches(numbers: impl Iterator<Item = f64>, sd: f64, least: f64) -> Vec<(f64, f64)> {
    let mut sorted: Vec<f64> = numbers.collect();
    sorted.sort_by(f64::total_cmp);
    let (Some(first), Some(last)) = (sorted.first(), sorted.last()) else { return Vec::new() };
    let end = last + BEYOND * sd;
    let mut edges = vec![(first - BEYOND * sd).max(least)];
    for i in 1..STRETCHES {
        let at = sorted[i * sorted.len() / STRETCHES];
        if at - edges[edges.len() - 1] >= 0.5 * sd && end - at >= 0.5 * sd {
            edges.push(at);
        }
    }
    edges.push(end);
    edges.windows(2).map(|edge| (edge[0], edge[1])).collect()
}

impl Look {
    /// As one of these was made.
    pub(super) fn of(seen: &Observation) -> Self {
        let sd = |read: &Doubtful| f64::midpoint(read.down, read.up);
        match seen {
            Observation::Sparks(_) => Self::Sparks,
            Observation::Inward(_) => Self::Inward,
            Observation::Rim { depth: Some(depth), .. } => Self::Rim { sd: sd(depth) },
            Observation::Rim { depth: None, .. } => Self::RimByBand,
            Observation::Gain(gain) => Self::Gain { sd: sd(gain) },
            Observation::File { turns, depth_mm, .. } => Self::File { turns: *turns, depth: *depth_mm },
        }
    }

    /// Whether it is worth a look after these: nobody looked, or a number may be read better.
    pub(super) fn is_open(&self, observations: &[Observation], signs: &Signs) -> bool {
        /// Strokes this near to each other are one, mm (judgement).
        const SAME_MM: f64 = 0.05;
        let any = |like: &dyn Fn(&Self) -> bool| observations.iter().map(Self::of).any(|look| like(&look));
        match self {
            Self::Sign(sign) => signs.get(*sign).is_none(),
            Self::Sparks => !any(&|look| *look == Self::Sparks),
            Self::Inward => !any(&|look| *look == Self::Inward),
            Self::Rim { sd } => !any(&|look| matches!(look, Self::Rim { sd: was } if was <= sd)),
            Self::RimByBand => !any(&|look| matches!(look, Self::Rim { .. } | Self::RimByBand)),
            Self::Gain { .. } => !any(&|look| matches!(look, Self::Gain { .. })),
            Self::File { depth, .. } => {
                !any(&|look| matches!(look, Self::File { depth: was, .. } if (was - depth).abs() < SAME_MM))
            }
            // one that was quenched in water showed all of it
            Self::RimInWater { .. } => signs.get(Sign::Oil) != Some(false),
            Self::FileAnew { .. } => {
                signs.get(Sign::Oil) != Some(false) || signs.get(Sign::QuenchedHot) != Some(false)
            }
            Self::Melts(_) => true,
        }
    }
}
