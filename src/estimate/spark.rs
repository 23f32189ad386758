use super::not_steel::{NotSteel, not_plain_carbon};
use super::spark_doubt::{SparkDoubt, doubts};
use crate::features::{FeatureName, SparkFeatures};
use crate::steel::CarbonBand;
use crate::tree::{Row, Side, Training, Tree, Turn, WalkError};
use crate::units::Interval;

/// Fewest features that an answer is given for.
const FEWEST: usize = 2;
/// Draws inside the ranges of the features.
const DRAWS: usize = 64;
/// The likely bands hold at least this share of the votes.
const LIKELY_SHARE: f64 = 0.8;
/// Weight of a band that a steel of the same look speaks against (judgement).
const LIKENESS_WRONG: f64 = 0.05;

/// What sparks say about carbon.
#[derive(Debug, Clone, PartialEq)]
pub enum SparkAnswer {
    /// A band.
    Bands(SparkEstimate),
    /// Not a plain carbon steel, as far as sparks tell: no carbon figure.
    NotPlainCarbon(NotSteel),
    /// Too little was said.
    CannotTell {
        /// Features known.
        known: usize,
        /// Features needed.
        needed: usize,
    },
}

/// Carbon band with votes.
#[derive(Debug, Clone, PartialEq)]
pub struct SparkEstimate {
    /// Share of the votes of each band, in the order of [`CarbonBand::ALL`].
    pub votes: [f64; 6],
    /// The band with most votes; a tie goes to the leaner one.
    pub band: CarbonBand,
    /// Neighbouring bands around it that hold four fifths of the votes. They are votes of drawn rows:
    /// no probability is known for them.
    pub likely: (CarbonBand, CarbonBand),
    /// The questions asked of the best values, in order.
    pub path: Vec<Reason>,
    /// What the tree could ask for and nobody told.
    pub missing: Vec<FeatureName>,
    /// What makes the answer doubtful.
    pub doubts: Vec<SparkDoubt>,
}

/// One question on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reason {
    /// What was asked.
    pub feature: FeatureName,
    /// What it was compared with.
    pub threshold: f64,
    /// The value, and whether it lies above; `None`: not said, so both ways were followed.
    pub answer: Option<(f64, bool)>,
}

/// Reads the features with the shipped tree. What was not said is filled, draw by draw, from the training
/// row that agrees best with what was. Fails only if tree or rows are not for these features.
pub fn read_sparks(
    features: &SparkFeatures,
    tree: &Tree,
    training: &Training,
) -> Result<SparkAnswer, WalkError> {
    let known = features.known();
    if let Some(other) = not_plain_carbon(features) {
        return Ok(SparkAnswer::NotPlainCarbon(other));
    }
    if known < FEWEST {
        return Ok(SparkAnswer::CannotTell { known, needed: FEWEST });
    }
    let widths = widths(training);
    let mut votes = [0.0; 6];
    for draw in 0..DRAWS {
        let walk = tree.walk(&filled(&drawn(features, draw), training, &widths))?;
        for (sum, share) in votes.iter_mut().zip(&walk.shares) {
            *sum += share / DRAWS as f64;
        }
    }
    if let Some(alike) = features.get(FeatureName::LooksLike) {
        weigh(&mut votes, &alike.value);
    }
    let best: Vec<Option<f64>> =
        FeatureName::TREE.iter().map(|n| features.get(*n).map(|f| f.value.best())).collect();
    let steps = tree.walk(&best)?.steps;
    let path = steps.iter().filter_map(|step| {
        let answer = match step.turn {
            Turn::To { value, side } => Some((value, side == Side::Above)),
            Turn::Both { .. } => None,
        };
        let feature = *FeatureName::TREE.get(step.feature)?;
        Some(Reason { feature, threshold: step.threshold, answer })
    });
    let path = path.collect();
    let band = most(&votes);
    Ok(SparkAnswer::Bands(SparkEstimate {
        votes,
        band,
        likely: likely(&votes, band),
        path,
        missing: features.missing(),
        doubts: doubts(features),
    }))
}

/// One set of values inside the ranges: an even spread over each range's triangle, every feature
/// shifted against the others by a multiple of the golden ratio.
fn drawn(features: &SparkFeatures, draw: usize) -> Vec<Option<f64>> {
    const GOLDEN: f64 = 0.618_033_988_749_895;
    let value = |(column, name): (usize, &FeatureName)| {
        let range = features.get(*name)?.value;
        let shift = GOLDEN * (column + 1) as f64 * draw as f64;
        Some(triangle(&range, ((draw as f64 + 0.5) / DRAWS as f64 + shift).fract()))
    };
    FeatureName::TREE.iter().enumerate().map(value).collect()
}

/// Spread of each column of the training rows.
fn widths(training: &Training) -> Vec<f64> {
    let column = |i: usize| training.rows.iter().filter_map(move |r| r.values.get(i).copied());
    let width = |i| {
        let (low, high) =
            (column(i).fold(f64::INFINITY, f64::min), column(i).fold(f64::NEG_INFINITY, f64::max));
        (high - low).max(f64::MIN_POSITIVE)
    };
    (0..training.features.len()).map(width).collect()
}

/// `values` with what is missing taken from the nearest row by what is there.
fn filled(values: &[Option<f64>], training: &Training, widths: &[f64]) -> Vec<Option<f64>> {
    let told: Vec<(usize, f64, f64)> =
        values.iter().zip(widths).enumerate().filter_map(|(i, (v, w))| Some((i, (*v)?, *w))).collect();
    let distance = |row: &Row| -> f64 {
        let apart = told.iter().filter_map(|(i, v, w)| Some((v - row.values.get(*i)?) / w));
        apart.map(|d| d * d).sum()
    };
    let rows = training.rows.iter().map(|row| (distance(row), row));
    let nearest = rows.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, row)| row);
    values.iter().enumerate().map(|(i, v)| v.or_else(|| nearest?.values.get(i).copied())).collect()
}

/// Quantile `p` of the triangle from low over best to high.
pub(super) fn triangle(range: &Interval<f64>, p: f64) -> f64 {
    let (low, best, high) = (range.low(), range.best(), range.high());
    let width = high - low;
    if width <= 0.0 {
        return best;
    }
    let rise = (best - low) / width;
    if p < rise {
        low + (p * width * (best - low)).sqrt()
    } else {
        high - ((1.0 - p) * width * (high - best)).sqrt()
    }
}

/// Multiplies the votes by what a steel that looks the same says: the part of its carbon's triangle
/// that lies in each band, and a little everywhere, since the likeness may be wrong.
fn weigh(votes: &mut [f64; 6], carbon: &Interval<f64>) {
    let mut inside = [LIKENESS_WRONG; 6];
    for draw in 0..DRAWS {
        let wt = triangle(carbon, (draw as f64 + 0.5) / DRAWS as f64);
        let above = CarbonBand::ALL.iter().rposition(|b| b.edges().0 <= wt).unwrap_or(0);
        inside[above] += 1.0 / DRAWS as f64;
    }
    let total: f64 = votes.iter().zip(&inside).map(|(v, w)| v * w).sum();
    for (vote, weight) in votes.iter_mut().zip(&inside) {
        *vote *= weight / total;
    }
}

fn most(votes: &[f64; 6]) -> CarbonBand {
    let mut band = CarbonBand::UpTo010;
    for candidate in CarbonBand::ALL {
        if votes[candidate.index()] > votes[band.index()] {
            band = candidate;
        }
    }
    band
}

/// Grows from the best band towards the richer side in votes until the share is reached.
fn likely(votes: &[f64; 6], band: CarbonBand) -> (CarbonBand, CarbonBand) {
    let (mut low, mut high) = (band.index(), band.index());
    let mut share = votes[low];
    while share < LIKELY_SHARE && (low > 0 || high < 5) {
        let below = if low > 0 { votes[low - 1] } else { -1.0 };
        let above = if high < 5 { votes[high + 1] } else { -1.0 };
        if below >= above {
            low -= 1;
            share += votes[low];
        } else {
            high += 1;
            share += votes[high];
        }
    }
    (CarbonBand::ALL[low], CarbonBand::ALL[high])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn triangle_keeps_its_range_and_middle() {
        let range = Interval::new(1.0, 2.0, 5.0).unwrap();
        assert_eq!(triangle(&range, 0.0), 1.0);
        assert!((triangle(&range, 0.25) - 2.0).abs() < 1e-12);
        assert!((triangle(&range, 1.0) - 5.0).abs() < 1e-12);
        let mean: f64 = (0..1000).map(|i| triangle(&range, (f64::from(i) + 0.5) / 1000.0)).sum::<f64>() / 1e3;
        assert!((mean - 8.0 / 3.0).abs() < 1e-3);
    }

    #[test]
    fn likely_bands_are_neighbours_and_hold_the_share() {
        let votes = [0.0, 0.1, 0.5, 0.35, 0.05, 0.0];
        assert_eq!(likely(&votes, most(&votes)), (CarbonBand::From025, CarbonBand::From045));
        let sure = [0.0, 0.0, 0.0, 0.0, 0.0, 1.0];
        assert_eq!(likely(&sure, most(&sure)), (CarbonBand::From085, CarbonBand::From085));
    }
}
