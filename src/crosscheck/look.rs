use super::expected::Quenched;
use super::hypothesis::Hypothesis;
use super::observation::skates;
use super::{Causes, Doubtful, Observation, Sign, Signs};
use crate::estimate::{CaseClass, DepthBand};
use crate::spark::OverTime;
use crate::stats::normal_below;
use crate::steel::CarbonBand;
use crate::units::Temperature;

/// Steps that a depth or a mass is told apart in, over all that any story makes of it.
const STEPS: usize = 24;
/// Standard deviations beyond the outermost story that a reading may still lie (judgement).
const BEYOND: f64 = 2.5;
/// How far from its melting range a metal is still taken for melted or whole, K (judgement).
const MELTS_K: f64 = 5.0;

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
    /// This is seen; for a number, all of a step that wide around it.
    Seen(Observation, f64),
    /// The rim is so deep where all of it hardened, by a step that wide, mm.
    Deep(f64, f64),
    /// A file that turns so skates on the skin hardened anew, or not.
    SkatesAnew(Doubtful, bool),
    /// The sign is there, or not.
    Shows(Sign, bool),
    /// The metal melted, or not; it does around this, K.
    Melts(f64, bool),
}

/// A look with all the ways that it may come out.
#[derive(Debug, Clone)]
pub(super) struct Outlook {
    outcomes: Vec<Outcome>,
}

impl Outlook {
    /// For stories such as these.
    pub(super) fn of(look: &Look, stories: &[&Hypothesis<'_>], causes: &Causes) -> Self {
        let seen = |observation| Outcome::Seen(observation, 1.0);
        let one_hot = |at: usize| std::array::from_fn(|i| f64::from(u8::from(i == at)));
        let rim = |class, depth, votes| Observation::Rim { class, depth, votes };
        let bare = [CaseClass::None, CaseClass::Through].map(|class| seen(rim(class, None, None)));
        // some sides only count as all round
        let sides = 1.0 / (1.0 - causes.eyes.one_sided.value);
        let outcomes = match look {
            Look::Sparks => {
                (0..CarbonBand::ALL.len()).map(|band| seen(Observation::Sparks(one_hot(band)))).collect()
            }
            Look::Inward => OverTime::ALL.map(|order| seen(Observation::Inward(order))).into(),
            Look::Rim { sd } => {
                let depths = steps(stories.iter().map(|h| h.expected.visible.best), *sd, 0.0);
                let depth = |(at, wide): (f64, f64)| {
                    let read = Doubtful { best: at, down: *sd, up: *sd };
                    Outcome::Seen(rim(CaseClass::AllRound, Some(read), None), wide * sides)
                };
                bare.into_iter().chain(depths.into_iter().map(depth)).collect()
            }
            Look::RimByBand => {
                let rims = 1..DepthBand::ALL.len() - 1;
                let band = |at| Outcome::Seen(rim(CaseClass::AllRound, None, Some(one_hot(at))), sides);
                bare.into_iter().chain(rims.map(band)).collect()
            }
            Look::RimInWater { sd } => {
                let full = stories.iter().map(|h| h.expected.full.best);
                steps(full, *sd, 0.0).into_iter().map(|(at, wide)| Outcome::Deep(at, wide)).collect()
            }
            Look::Gain { sd } => {
                let gains = stories.iter().filter_map(|h| h.expected.gain.map(|g| g.best));
                let gain = |(at, wide)| {
                    let read = Doubtful { best: at, down: *sd, up: *sd };
                    Outcome::Seen(Observation::Gain(read), wide)
                };
                steps(gains, *sd, f64::NEG_INFINITY).into_iter().map(gain).collect()
            }
            Look::File { turns, depth } => {
                let stroke = |skates| Observation::File { turns: *turns, skates, depth_mm: *depth };
                [true, false].map(|skates| seen(stroke(skates))).into()
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
        let signs = story.cause.map_or(&causes.chances.value, |i| &causes.list[i].chances);
        let chance = |outcome: &Outcome| match outcome {
            Outcome::Seen(observation, wide) => wide * observation.likelihood(&story.expected, eyes),
            Outcome::Deep(at, wide) => {
                let (full, half) = (story.expected.full, 0.5 * wide);
                full.below(at + half) - full.below(at - half)
            }
            Outcome::SkatesAnew(turns, skates) => {
                let (heat, martensite) = (eyes.past_magnet.value, eyes.water_martensite.value);
                let quench = Quenched { heat, martensite, ..story.expected.quench };
                let chance = self::skates(quench.hardness(&story.expected.carbon(0.0)), turns);
                if *skates { chance } else { 1.0 - chance }
            }
            Outcome::Shows(sign, true) => signs.get(*sign),
            Outcome::Shows(sign, false) => 1.0 - signs.get(*sign),
            Outcome::Melts(kelvin, melted) => {
                let melts = normal_below((story.conditions.top_celsius + 273.15 - kelvin) / MELTS_K);
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
            Outcome::Seen(observation, _) => Some(*observation),
            _ => None,
        })
    }

    /// What each outcome is, where it is a number: mm or mg.
    pub(super) fn number(&self, outcome: usize) -> Option<f64> {
        match self.outcomes.get(outcome)? {
            Outcome::Seen(Observation::Rim { depth: Some(depth), .. }, _) => Some(depth.best),
            Outcome::Seen(Observation::Gain(gain), _) => Some(gain.best),
            Outcome::Deep(at, _) => Some(*at),
            _ => None,
        }
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.outcomes.len()
    }
}

/// Middles and width of even steps over all `numbers` and as far beyond them as a reading strays, none below `least`.
fn steps(numbers: impl Iterator<Item = f64>, sd: f64, least: f64) -> Vec<(f64, f64)> {
    let (low, high) = numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)));
    if low > high {
        return Vec::new();
    }
    let (low, high) = ((low - BEYOND * sd).max(least), high + BEYOND * sd);
    let wide = (high - low).max(f64::MIN_POSITIVE) / STEPS as f64;
    (0..STEPS).map(|i| (low + (i as f64 + 0.5) * wide, wide)).collect()
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
