use super::not_steel::{NotSteel, not_plain_carbon};
use super::spark_doubt::{SparkDoubt, doubts};
use super::spark_reader::SparkReader;
use super::stated::KnownBehind;
use crate::features::{FeatureName, SparkFeatures};
use crate::known::bands_with;
use crate::steel::CarbonBand;
use crate::tree::{Row, Side, Training, Turn, WalkError};
use crate::units::Interval;

/// Fewest features that an answer is given for.
const FEWEST: usize = 1;
/// Draws inside the ranges of the features.
const DRAWS: usize = 64;
/// Its multiples spread evenly.
const GOLDEN: f64 = 0.618_033_988_749_895;
/// Rows that are so much farther than the nearest agree as well as it does, in widths of a column
/// (judgement: about the step that an eye reads to).
const ALIKE: f64 = 0.03;
/// The likely bands hold at least this share of the votes.
pub(super) const LIKELY_SHARE: f64 = 0.8;
/// Weight of a band that a steel of the same look speaks against (judgement).
const LIKENESS_WRONG: f64 = 0.05;

/// What sparks say about carbon.
#[derive(Debug, Clone, PartialEq)]
pub enum SparkAnswer {
    /// A band.
    Bands(SparkEstimate),
    /// Not a plain carbon steel, as far as sparks tell: no carbon figure.
    NotPlainCarbon(NotSteel),
    /// Nothing like it was seen: it fits no carbon content at this rig.
    Unlike {
        /// What is farthest off.
        name: FeatureName,
        /// How far, in standard deviations of what such a rig shows at the likeliest carbon content.
        off: f64,
    },
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
    /// The known steels behind it, if it was read by those of a rig.
    pub known: Option<KnownBehind>,
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

/// Reads the features with a tree. What was not said is filled, draw by draw, from the training row that agrees best
/// with what was. Fails only if tree or rows are not for these features.
pub fn read_sparks(features: &SparkFeatures, reader: &SparkReader<'_>) -> Result<SparkAnswer, WalkError> {
    let known = features.known();
    if let Some(other) = not_plain_carbon(features) {
        return Ok(SparkAnswer::NotPlainCarbon(other));
    }
    if known < FEWEST {
        return Ok(SparkAnswer::CannotTell { known, needed: FEWEST });
    }
    let columns = reader.columns();
    let rows = reader.fills().map(|rows| (rows, widths(rows)));
    let mut votes = [0.0; 6];
    for draw in 0..DRAWS {
        let values: Vec<Option<f64>> =
            columns.iter().enumerate().map(|(i, name)| drawn(features, i, *name, draw)).collect();
        let values = match &rows {
            Some((rows, widths)) => filled(&values, rows, widths, draw),
            None => values,
        };
        let walk = reader.tree().walk(&values)?;
        for (sum, share) in votes.iter_mut().zip(&walk.shares) {
            *sum += share / DRAWS as f64;
        }
    }
    if let Some(alike) = features.get(FeatureName::LooksLike) {
        weigh(&mut votes, &alike.value);
    }
    let best: Vec<Option<f64>> =
        columns.iter().map(|name| features.get(*name).map(|f| f.value.best())).collect();
    let steps = reader.tree().walk(&best)?.steps;
    let path = steps.iter().filter_map(|step| {
        let answer = match step.turn {
            Turn::To { value, side } => Some((value, side == Side::Above)),
            Turn::Both { .. } => None,
        };
        let feature = *columns.get(step.feature)?;
        Some(Reason { feature, threshold: step.threshold, answer })
    });
    let path = path.collect();
    let band = most(&votes);
    Ok(SparkAnswer::Bands(SparkEstimate {
        votes,
        band,
        likely: bands_with(&votes, LIKELY_SHARE),
        path,
        missing: reader.missing(features),
        doubts: doubts(features, reader.at_rig()),
        known: None,
    }))
}

/// A value inside its range: an even spread over the range's triangle, every feature shifted against the others by a
/// multiple of the golden ratio.
fn drawn(features: &SparkFeatures, column: usize, name: FeatureName, draw: usize) -> Option<f64> {
    let range = features.get(name)?.value;
    let shift = GOLDEN * (column + 1) as f64 * draw as f64;
    Some(triangle(&range, ((draw as f64 + 0.5) / DRAWS as f64 + shift).fract()))
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

/// `values` with what is missing taken from a row that agrees with what is there: for every draw another one
/// of those that agree as well as any, so that a lone answer leaves open what it leaves open.
fn filled(values: &[Option<f64>], training: &Training, widths: &[f64], draw: usize) -> Vec<Option<f64>> {
    if values.iter().all(Option::is_some) {
        return values.to_vec();
    }
    let distance = |row: &Row| -> f64 {
        let told = values.iter().zip(&row.values).zip(widths);
        told.filter_map(|((v, r), w)| Some(((*v)? - r) / w)).map(|d| d * d).sum()
    };
    let distances: Vec<f64> = training.rows.iter().map(distance).collect();
    let nearest = distances.iter().copied().fold(f64::INFINITY, f64::min);
    let alike: Vec<&Row> = training
        .rows
        .iter()
        .zip(&distances)
        .filter(|(_, d)| d.sqrt() <= nearest.sqrt() + ALIKE)
        .map(|(row, _)| row)
        .collect();
    // an even spread over them, whatever their order and number
    let at = ((GOLDEN * draw as f64).fract() * alike.len() as f64) as usize;
    let row = alike.get(at.min(alike.len().saturating_sub(1)));
    values.iter().enumerate().map(|(i, v)| v.or_else(|| row?.values.get(i).copied())).collect()
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

pub(super) fn most(votes: &[f64; 6]) -> CarbonBand {
    let mut band = CarbonBand::UpTo010;
    for candidate in CarbonBand::ALL {
        if votes[candidate.index()] > votes[band.index()] {
            band = candidate;
        }
    }
    band
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
        assert_eq!(bands_with(&votes, LIKELY_SHARE), (CarbonBand::From025, CarbonBand::From045));
        let sure = [0.0, 0.0, 0.0, 0.0, 0.0, 1.0];
        assert_eq!(bands_with(&sure, LIKELY_SHARE), (CarbonBand::From085, CarbonBand::From085));
    }
}
