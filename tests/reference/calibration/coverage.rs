use super::drawn_run::DrawnRun;
use super::wrong::Wrong;
use serde::{Deserialize, Serialize};
use snapspark::prediction::{Distribution, Reading, Stories};

/// What is looked at, with its name and unit.
pub(super) const READINGS: [(Reading, &str); 5] = [
    (Reading::Surface, "surface carbon, wt%"),
    (Reading::Visible, "visible case depth, mm"),
    (Reading::Total, "total case depth, mm"),
    (Reading::MassGain, "mass gain, g/m²"),
    (Reading::Edge, "edge carbon, wt%"),
];

/// How often ranges hold the truth, and what that costs: one reading, truths of one kind.
///
/// A range is closed. A depth that is the whole section, or none, has a share of the truths in one number; a range that
/// ends there holds all of them, and so more than it says. `apart` counts what lies in ranges that end at no such number.
///
/// Score: mean interval score, width + 2/α times what the truth lies outside by. Source: T. Gneiting and A. E. Raftery,
/// Strictly proper scoring rules, prediction, and estimation, Journal of the American Statistical Association 102 (2007)
/// 359, equation 43; from memory.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Coverage {
    pub(super) truth: String,
    pub(super) reading: String,
    pub(super) truths: usize,
    /// Of the range of nine in ten: share held, truths in ranges that end at no such number, share held of those, mean
    /// width and mean score in the reading's unit.
    pub(super) held_90: f64,
    pub(super) apart_90: usize,
    pub(super) held_apart_90: f64,
    pub(super) width_90: f64,
    pub(super) score_90: f64,
    /// The same of the range of a half.
    pub(super) held_50: f64,
    pub(super) apart_50: usize,
    pub(super) held_apart_50: f64,
    pub(super) width_50: f64,
    pub(super) score_50: f64,
}

/// Sums of one range.
#[derive(Debug, Clone, Copy, Default)]
struct Sums {
    truths: usize,
    held: usize,
    apart: usize,
    held_apart: usize,
    width: f64,
    score: f64,
}

/// Rounding of a number that many truths share, in the reading's unit.
const ROUNDING: f64 = 1e-9;

impl Sums {
    /// `share` is what the range should hold.
    fn add(&mut self, of: &Distribution, share: f64, truth: f64) {
        let range = if share > 0.7 { &of.nine_in_ten } else { &of.half };
        let (low, high) = (range.low(), range.high());
        let beyond = (1.0 - share) / 2.0;
        // stories without a case have a depth of 0, and a bared surface has no carbon
        let apart = low.abs() > ROUNDING && of.through < beyond;
        let outside = (low - truth).max(truth - high);
        let held = outside <= ROUNDING;
        self.truths += 1;
        self.held += usize::from(held);
        self.apart += usize::from(apart);
        self.held_apart += usize::from(apart && held);
        self.width += high - low;
        self.score += high - low + outside.max(0.0) / beyond;
    }
}

/// Coverage of every reading and every kind of truth, over so many sheets with so many truths each.
pub(super) fn coverage(seeds: std::ops::Range<u64>, draws: usize, truths: usize) -> Vec<Coverage> {
    let mut sums = [[[Sums::default(); 2]; READINGS.len()]; Wrong::ALL.len()];
    for seed in seeds {
        DrawnRun::look(seed, Some(draws), |mut drawn| {
            let inputs = drawn.truths(truths);
            // solved as finely as one story is: the ranges come of coarser ones
            let stories = Stories::of(drawn.run, drawn.physics);
            let prediction = drawn.prediction;
            let last = prediction.stages.len() - 1;
            for (wrong, sums) in Wrong::ALL.into_iter().zip(&mut sums) {
                let inputs: Vec<_> = inputs.iter().map(|truth| wrong.made(*truth)).collect();
                let values = stories.look_at_all(&inputs, |story| {
                    READINGS.map(|(which, _)| stories.read(story, which, last, prediction.ground))
                });
                for values in values.into_iter().flatten() {
                    for (((which, _), value), [nine, half]) in READINGS.iter().zip(values).zip(&mut *sums) {
                        let spread = prediction.last().readings.get(which);
                        let (Some(value), Some(of)) = (value, spread.and_then(|s| s.drawn.as_ref())) else {
                            continue;
                        };
                        nine.add(of, 0.9, value.number);
                        half.add(of, 0.5, value.number);
                    }
                }
            }
        });
    }
    let mut rows = Vec::new();
    for (wrong, sums) in Wrong::ALL.into_iter().zip(sums) {
        rows.extend(READINGS.iter().zip(sums).map(|((_, reading), [nine, half])| {
            let mean = |sum: f64| super::rounded(sum / nine.truths as f64);
            let of = |some: usize, all: usize| super::rounded(some as f64 / all as f64);
            Coverage {
                truth: wrong.name().to_string(),
                reading: (*reading).to_string(),
                truths: nine.truths,
                held_90: of(nine.held, nine.truths),
                apart_90: nine.apart,
                held_apart_90: of(nine.held_apart, nine.apart),
                width_90: mean(nine.width),
                score_90: mean(nine.score),
                held_50: of(half.held, half.truths),
                apart_50: half.apart,
                held_apart_50: of(half.held_apart, half.apart),
                width_50: mean(half.width),
                score_50: mean(half.score),
            }
        }));
    }
    rows
}
