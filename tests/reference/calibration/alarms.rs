use super::drawn_run::{DrawnRun, each_seed};
use crate::support::models;
use serde::{Deserialize, Serialize};
use snapspark::crosscheck::{CrossCheck, Eyes, Fits, Observation, Side, cross_check};
use std::ops::Range;

/// How a run is held against its coupon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Way {
    /// The best story with each doubt at both its ends.
    Quick,
    /// So many drawn runs.
    Drawn(usize),
}

/// How often what was seen of a run without fault is called too little or too much, over many runs: all of it, and each
/// observation. The coupons are seen by the program's own likelihood, with its plain slips or without any.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Alarms {
    pub(super) way: String,
    /// By whom the coupons are seen.
    pub(super) eye: String,
    pub(super) what: String,
    /// Of how many it was seen.
    pub(super) seen: usize,
    pub(super) less: f64,
    pub(super) more: f64,
    /// Of all together: one says less, another more, or sparks and hardness exclude each other.
    pub(super) contradicts: f64,
    /// Most that may be called so, less and more and contradicting together.
    pub(super) stated: f64,
}

impl Alarms {
    /// Less, more and contradicting together.
    pub(super) fn share(&self) -> f64 {
        self.less + self.more + self.contradicts
    }
}

/// All together first, then why: the first that applies of these three. Then each by itself.
pub(super) const WHATS: [&str; 9] = [
    "all together",
    "for one that lies outside",
    "for causes alone that are far likelier",
    "for sparks and hardness alone that exclude each other",
    "sparks",
    "sparks inward",
    "rim",
    "file",
    "mass gain",
];

fn place(seen: &Observation) -> usize {
    match seen {
        Observation::Sparks(_) => 4,
        Observation::Inward(_) => 5,
        Observation::Rim { .. } => 6,
        Observation::File { .. } => 7,
        Observation::Gain(_) => 8,
    }
}

#[derive(Debug, Clone, Copy, Default)]
struct Count {
    seen: usize,
    less: usize,
    more: usize,
    contradicts: usize,
    stated: f64,
}

impl Count {
    fn add(&mut self, other: Self) {
        self.seen += other.seen;
        self.less += other.less;
        self.more += other.more;
        self.contradicts += other.contradicts;
        self.stated += other.stated;
    }
}

/// Runs of these seeds, one coupon each.
pub(super) fn alarms(seeds: Range<u64>, way: Way, slips: bool) -> Vec<Alarms> {
    let causes = &models().causes;
    let mut eyes: Eyes = causes.eyes.clone();
    if !slips {
        eyes.slip.value = 0.0;
    }
    let draws = match way {
        Way::Quick => None,
        Way::Drawn(count) => Some(count),
    };
    let of_seed = |seed| {
        let mut counts = [Count::default(); WHATS.len()];
        DrawnRun::look(seed, draws, |mut drawn| {
            let truth = drawn.true_stories(1);
            drawn.each_truth(truth, |drawn, _, expected| {
                let unseen = drawn.unseen();
                let coupon = unseen.looked_at((drawn.draw, drawn.believed), expected, &eyes);
                let seen = coupon.seen();
                add(&mut counts, &cross_check(&drawn.question(drawn.prediction, &seen, causes)));
            });
        });
        counts
    };
    let mut counts = [Count::default(); WHATS.len()];
    for other in each_seed(seeds, of_seed) {
        counts.iter_mut().zip(other).for_each(|(count, other)| count.add(other));
    }
    let row = |(what, count): (&&str, Count)| {
        let share = |n: usize| super::rounded(n as f64 / count.seen as f64);
        Alarms {
            way: match way {
                Way::Quick => "quick".to_string(),
                Way::Drawn(count) => format!("{count} drawn"),
            },
            eye: if slips { "own likelihood" } else { "own likelihood without slips" }.to_string(),
            what: (*what).to_string(),
            seen: count.seen,
            less: share(count.less),
            more: share(count.more),
            contradicts: share(count.contradicts),
            stated: super::rounded(count.stated / count.seen as f64),
        }
    };
    WHATS.iter().zip(counts).map(row).collect()
}

fn add(counts: &mut [Count; WHATS.len()], check: &CrossCheck<'_>) {
    let need = &models().need;
    let stated = check.inference.as_ref().map_or(need.false_alarms.value, |told| told.alarms);
    let why = if check.agreements.iter().any(|agreement| agreement.side != Side::Within) {
        1
    } else if check.usual < need.least_usual.value {
        2
    } else {
        3
    };
    for (i, count) in counts[..4].iter_mut().enumerate() {
        let counts = i == 0 || i == why;
        count.seen += 1;
        count.less += usize::from(counts && check.fits == Fits::Less);
        count.more += usize::from(counts && check.fits == Fits::More);
        count.contradicts += usize::from(counts && check.fits == Fits::Contradicts);
        count.stated += stated;
    }
    // what is stated is shared out among what was seen
    let each = stated / check.agreements.len() as f64;
    for agreement in &check.agreements {
        let own = &mut counts[place(&agreement.seen)];
        own.seen += 1;
        own.less += usize::from(agreement.side == Side::Less);
        own.more += usize::from(agreement.side == Side::More);
        own.stated += each;
    }
}
