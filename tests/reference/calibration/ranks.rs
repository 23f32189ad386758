use super::drawn_run::{DrawnRun, each_seed, melts_brass};
use super::question::sound;
use serde::{Deserialize, Serialize};
use snapspark::crosscheck::{Expected, weighed_runs};
use snapspark::prediction::{Inputs, Story};
use std::ops::Range;

/// Bins of a rank.
const BINS: usize = 20;
/// Chi-square of [`BINS`] - 1 degrees of freedom that one even table in a thousand exceeds. Source: NIST/SEMATECH
/// e-Handbook of Statistical Methods, table 1.3.6.7.4, upper tail 0.001; from memory.
pub(super) const MOST_CHI_SQUARE: f64 = 43.820;

/// What the truth is ranked by.
pub(super) const NUMBERS: [&str; 5] = [
    "temperature shift, K",
    "share of Acm",
    "visible edge, wt%",
    "visible case depth, mm",
    "surface carbon, wt%",
];

fn numbers(inputs: &Inputs, expected: &Expected<'_>) -> [f64; 5] {
    [
        inputs.temperature_shift,
        inputs.potential.number(),
        inputs.visible_edge,
        expected.visible.best,
        expected.carbon(0.0).best,
    ]
}

/// How the truth ranks among the weighed runs, over many runs: even, if they are weighed as they should be. Source: S.
/// Talts, M. Betancourt, D. Simpson, A. Vehtari, A. Gelman, Validating Bayesian inference algorithms with
/// simulation-based calibration, arXiv 1804.06788 (2018); from memory.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Ranks {
    pub(super) sheets: String,
    pub(super) number: String,
    pub(super) truths: usize,
    /// Of 20 bins.
    pub(super) chi_square: f64,
    /// Of the ranks; 0.5 if they are even.
    pub(super) mean: f64,
    /// Share in the lowest and in the highest two bins; 0.1 each if they are even, more if the runs that are left are too
    /// alike.
    pub(super) low: f64,
    pub(super) high: f64,
    /// How many equal runs the weighed ones are worth, as a share of those drawn: 5 % of coupons have less, and half.
    pub(super) worth_05: f64,
    pub(super) worth_50: f64,
}

/// What the run sheets tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Sheets {
    /// No witness.
    Plain,
    /// A piece of brass beside the steel, which melted or not as the truth has it.
    WithBrass,
}

impl Sheets {
    /// In the table.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Plain => "no witness",
            Self::WithBrass => "brass beside the steel",
        }
    }
}

/// Ranks over runs of these seeds, with so many truths of each.
pub(super) fn ranks(sheets: Sheets, seeds: Range<u64>, draws: usize, truths: usize) -> Vec<Ranks> {
    let of_seed = |seed| {
        let mut gathered = Gathered::default();
        match sheets {
            Sheets::Plain => DrawnRun::look(seed, Some(draws), |mut drawn| {
                let stories = drawn.true_stories(truths);
                gathered.add(&mut drawn, stories);
            }),
            Sheets::WithBrass => DrawnRun::look(seed, None, |mut drawn| {
                let stories = drawn.true_stories(truths).into_iter().flatten();
                let (melted, kept): (Vec<_>, Vec<_>) = stories.partition(melts_brass);
                for (melted, stories) in [(true, melted), (false, kept)] {
                    if !stories.is_empty() {
                        let stories = stories.into_iter().map(Some).collect();
                        drawn.with_brass(melted, draws, |mut drawn| gathered.add(&mut drawn, stories));
                    }
                }
            }),
        }
        gathered
    };
    let mut gathered = Gathered::default();
    for other in each_seed(seeds, of_seed) {
        gathered.worths.extend(other.worths);
        gathered.ranks.iter_mut().zip(other.ranks).for_each(|(ranks, other)| ranks.extend(other));
    }
    gathered.rows(sheets)
}

#[derive(Default)]
struct Gathered {
    ranks: [Vec<f64>; NUMBERS.len()],
    worths: Vec<f64>,
}

impl Gathered {
    fn add(&mut self, drawn: &mut DrawnRun<'_>, stories: Vec<Option<Story>>) {
        let sound = sound();
        drawn.each_truth(stories, |drawn, inputs, expected| {
            let unseen = drawn.unseen();
            let coupon = unseen.looked_at((drawn.draw, drawn.believed), expected, &sound.eyes);
            let seen = coupon.seen();
            let runs = weighed_runs(&drawn.question(drawn.prediction, &seen, &sound));
            let square: f64 = runs.iter().map(|run| run.weight * run.weight).sum();
            self.worths.push(1.0 / square / runs.len() as f64);
            let weighed: Vec<_> =
                runs.iter().map(|run| (numbers(&run.inputs, &run.expected), run.weight)).collect();
            for (i, truth) in numbers(inputs, expected).into_iter().enumerate() {
                let each = weighed.iter().map(|(numbers, weight)| (numbers[i], *weight));
                self.ranks[i].push(rank(truth, each, drawn.draw.unit()));
            }
        });
    }

    fn rows(mut self, sheets: Sheets) -> Vec<Ranks> {
        self.worths.sort_by(f64::total_cmp);
        let worth = |share: f64| super::rounded(self.worths[(share * self.worths.len() as f64) as usize]);
        let row = |(number, ranks): (&&str, &Vec<f64>)| {
            let share = |of: fn(&f64) -> bool| {
                super::rounded(ranks.iter().filter(|rank| of(rank)).count() as f64 / ranks.len() as f64)
            };
            Ranks {
                sheets: sheets.name().to_string(),
                number: (*number).to_string(),
                truths: ranks.len(),
                chi_square: super::rounded(chi_square(ranks)),
                mean: super::rounded(ranks.iter().sum::<f64>() / ranks.len() as f64),
                low: share(|rank| *rank < 0.1),
                high: share(|rank| *rank >= 0.9),
                worth_05: worth(0.05),
                worth_50: worth(0.5),
            }
        };
        NUMBERS.iter().zip(&self.ranks).map(row).collect()
    }
}

/// Share of the weight that lies below the truth. Of what lies at it, such as a depth that is the whole section, a share
/// drawn by chance.
fn rank(truth: f64, runs: impl Iterator<Item = (f64, f64)>, chance: f64) -> f64 {
    /// Rounding of equal numbers, as a share of them.
    const ROUNDING: f64 = 1e-9;
    let near = ROUNDING * truth.abs().max(1e-3);
    let (mut below, mut at) = (0.0, 0.0);
    for (number, weight) in runs {
        if number < truth - near {
            below += weight;
        } else if number <= truth + near {
            at += weight;
        }
    }
    (below + chance * at).clamp(0.0, 1.0)
}

fn chi_square(ranks: &[f64]) -> f64 {
    let mut counts = [0_usize; BINS];
    for rank in ranks {
        counts[((rank * BINS as f64) as usize).min(BINS - 1)] += 1;
    }
    let even = ranks.len() as f64 / BINS as f64;
    counts.iter().map(|count| (*count as f64 - even).powi(2) / even).sum()
}
