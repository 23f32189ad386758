use super::drawn::PARTS;
use super::reading::Value;
use super::story::on_all_cores;
use super::{Doubt, Draws, Physics, Prediction, Prior, Reading, Run, Spread, Stories};
use crate::stats::weighted_quantiles;
use crate::units::Interval;
use std::collections::BTreeMap;

/// Fewest draws that a distribution is made of: fewer leave its ends open (judgement).
const LEAST_DRAWS: usize = 256;
/// A reading over many drawn stories.
#[derive(Debug, Clone, PartialEq)]
pub struct Distribution {
    /// Median, with the range that holds half of all.
    pub half: Interval<f64>,
    /// The same with the range that holds nine in ten.
    pub nine_in_ten: Interval<f64>,
    /// Standard error of the least certain of those five numbers, in the reading's unit: how far from converged they
    /// are.
    pub error: f64,
    /// Share of stories in which a depth is through.
    pub through: f64,
    /// What each doubt does, the largest first.
    pub shares: Vec<Share>,
}

/// What one doubt does to a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// The doubt.
    pub doubt: Doubt,
    /// Share of the variance that it makes by itself, 0 to 1. What is left over to 1 comes of several together.
    pub of_variance: f64,
}

impl Share {
    /// How wide the reading would stay if this doubt were gone, as a share of how wide it is: root of the variance left.
    pub fn left_without(&self) -> f64 {
        (1.0 - self.of_variance).max(0.0).sqrt()
    }
}

impl Prediction {
    /// The same with so many stories drawn of the run, its ranges as they are.
    #[must_use]
    pub fn with_stories(mut self, run: &Run, physics: &Physics, count: usize) -> Self {
        self.drawn = Draws::of(&self.prior, count).solve(&Stories::of(run, physics));
        self
    }

    /// The same with so many stories drawn of the run, and every range from them. Where too few of them come to
    /// anything, a range stays as it is.
    #[must_use]
    pub fn drawn(self, run: &Run, physics: &Physics, count: usize) -> Self {
        let stories = Stories::of(run, physics).drawn();
        let Self { mut stages, prior, drawn: solved, .. } = self.clone().with_stories(run, physics, count);
        let draws = Draws::of(&prior, count);
        let all: Vec<(usize, Reading)> = stages
            .iter()
            .enumerate()
            .flat_map(|(at, s)| s.readings.keys().map(move |which| (at, *which)))
            .collect();
        // reading by reading: what is done for one over all draws is a sort or two for each doubt
        let made = on_all_cores(all.len(), |i| {
            let (stage, which) = all[i];
            let read = |story: &Option<_>| stories.read(story.as_ref()?, which, stage, self.ground);
            let values: Vec<Option<Value>> = solved.iter().map(read).collect();
            Distribution::of(&draws, &prior, &values)
        });
        for ((stage, which), distribution) in all.into_iter().zip(made) {
            if let (Some(spread), Some(told)) = (stages[stage].readings.get_mut(&which), distribution) {
                spread.take(told);
            }
        }
        Self { stages, drawn: solved, ..self }
    }
}

impl Spread {
    fn take(&mut self, distribution: Distribution) {
        self.interval = distribution.nine_in_ten;
        self.through.best = distribution.through >= 0.5;
        self.through.high = distribution.through >= 0.05;
        self.drawn = Some(distribution);
    }
}

impl Distribution {
    /// Of the values of all draws, in their order. `None`: too few have one.
    fn of(draws: &Draws<'_>, prior: &Prior, values: &[Option<Value>]) -> Option<Self> {
        let known: Vec<(usize, Value)> =
            values.iter().enumerate().filter_map(|(draw, value)| Some((draw, (*value)?))).collect();
        if known.len() < LEAST_DRAWS {
            return None;
        }
        let whole = quantiles(known.iter().map(|(_, value)| value.number))?;
        let part = |part| known.iter().filter(move |(draw, _)| draws.part(*draw) == part);
        let of_parts = (0..PARTS).filter_map(|p| quantiles(part(p).map(|(_, value)| value.number)));
        let of_parts: Vec<[f64; 5]> = of_parts.collect();
        let error =
            (0..whole.len()).map(|i| error_of_mean(of_parts.iter().map(|q| q[i]))).fold(0.0, f64::max);
        let through = known.iter().filter(|(_, value)| value.through).count();
        let [low, quarter, median, three_quarters, high] = whole;
        Some(Self {
            half: Interval::new(quarter, median, three_quarters)?,
            nine_in_ten: Interval::new(low, median, high)?,
            error,
            through: through as f64 / known.len() as f64,
            shares: shares(draws, prior, &known),
        })
    }
}

/// The places below which 5, 25, 50, 75 and 95 % lie. `None`: there are no numbers.
fn quantiles(numbers: impl Iterator<Item = f64>) -> Option<[f64; 5]> {
    let even: Vec<(f64, f64)> = numbers.map(|number| (number, 1.0)).collect();
    weighted_quantiles(&even, [0.05, 0.25, 0.5, 0.75, 0.95])
}

/// Standard error of the mean of independent numbers; 0 of a single one.
fn error_of_mean(numbers: impl Iterator<Item = f64> + Clone) -> f64 {
    let n = numbers.clone().count() as f64;
    if n < 2.0 {
        return 0.0;
    }
    let mean = numbers.clone().sum::<f64>() / n;
    (numbers.map(|x| (x - mean) * (x - mean)).sum::<f64>() / (n - 1.0) / n).sqrt()
}

/// First-order shares of the variance: how much of it one coordinate makes alone. What is left between neighbours in
/// that coordinate, half the mean square of their difference, is made by the others. Doubts of several coordinates have
/// the sum of theirs. Source: I. M. Sobol, Mathematics and Computers in Simulation 55 (2001) 271, first-order indices; J.
/// von Neumann, Annals of Mathematical Statistics 12 (1941) 367, mean square of successive differences (both from
/// memory).
fn shares(draws: &Draws<'_>, prior: &Prior, known: &[(usize, Value)]) -> Vec<Share> {
    let n = known.len() as f64;
    let mean = known.iter().map(|(_, v)| v.number).sum::<f64>() / n;
    let variance = known.iter().map(|(_, v)| (v.number - mean) * (v.number - mean)).sum::<f64>() / n;
    if variance <= 0.0 {
        return Vec::new();
    }
    let points: Vec<Vec<f64>> = known.iter().map(|(draw, _)| draws.point(*draw)).collect();
    let mut shares: BTreeMap<Doubt, f64> = BTreeMap::new();
    let mut order: Vec<usize> = (0..known.len()).collect();
    for (coordinate, doubt) in prior.doubts().enumerate() {
        order.sort_by(|a, b| points[*a][coordinate].total_cmp(&points[*b][coordinate]));
        let square = |pair: &[usize]| (known[pair[1]].1.number - known[pair[0]].1.number).powi(2);
        let by_others = 0.5 * order.windows(2).map(square).sum::<f64>() / (n - 1.0);
        *shares.entry(doubt).or_default() += (1.0 - by_others / variance).max(0.0);
    }
    let mut shares: Vec<Share> =
        shares.into_iter().map(|(doubt, share)| Share { doubt, of_variance: share.min(1.0) }).collect();
    shares.sort_by(|a, b| b.of_variance.total_cmp(&a.of_variance));
    shares
}
