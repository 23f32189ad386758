use super::engine::{Cut, best_cut};
use super::side::between;
use super::{FitError, Row, Side};
use ndarray::{Array2, Axis};

/// The rows of one node, coded so that the engine can do nothing but right.
///
/// A column is one feature, and a code counts the allowed thresholds at or below a drawn value. Codes are
/// whole numbers, so they are never closer than the engine's tolerance unless they are equal, and the
/// engine sees the rows of this node alone, so that every cut between neighbours is tried.
pub(super) struct Coded {
    columns: Vec<Column>,
    codes: Array2<f64>,
    labels: Vec<usize>,
    weights: Vec<f32>,
}

struct Column {
    feature: usize,
    thresholds: Vec<f64>,
}

/// A question that parts the rows of a node.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Split {
    pub(super) feature: usize,
    pub(super) threshold: f64,
}

/// One row of a node with its draws.
pub(super) type Drawn<'a> = (&'a Row, &'a [Vec<f64>]);

impl Coded {
    /// Units that the weight of all rows is shared out in: half of the 24 bits of an `f32`, since no draw
    /// gets less than one.
    const UNITS: f64 = (1 << 23) as f64;
    /// Least gain, of the sum of all weights: a few times what rounding makes of none.
    const LEAST_GAIN: f64 = 1e-9;

    pub(super) fn new(rows: &[Drawn<'_>], min_leaf: usize) -> Self {
        let features = rows.first().map_or(0, |(row, _)| row.values.len());
        let column = |feature| Column { feature, thresholds: thresholds(rows, feature, min_leaf) };
        let columns: Vec<Column> =
            (0..features).map(column).filter(|column| !column.thresholds.is_empty()).collect();
        let draws: Vec<(&Row, &Vec<f64>)> =
            rows.iter().flat_map(|(row, draws)| draws.iter().map(move |draw| (*row, draw))).collect();
        let codes = Array2::from_shape_fn((draws.len(), columns.len()), |(at, column)| {
            let Column { feature, thresholds } = &columns[column];
            thresholds.partition_point(|t| Side::of(draws[at].1[*feature], *t) == Side::Above) as f64
        });
        let whole: f64 = draws.iter().map(|(row, _)| row.weight).sum();
        let weight = |row: &Row| (row.weight / whole * Self::UNITS).round().max(1.0) as f32;
        Self {
            columns,
            codes,
            labels: draws.iter().map(|(row, _)| row.label).collect(),
            weights: draws.iter().map(|(row, _)| weight(row)).collect(),
        }
    }

    /// The best split, `None` if none gains.
    ///
    /// The engine is asked questions of two classes: the lower classes against the higher for every place
    /// between, then each class in the middle against all others. Of the cuts that it finds, the one with
    /// the greatest decrease of the Gini impurity over all classes is taken, the first of equals. With two
    /// classes that is the best cut there is; with more, it nearly always is.
    pub(super) fn split(&self) -> Result<Option<Split>, FitError> {
        let mut present = self.labels.clone();
        present.sort_unstable();
        present.dedup();
        let mut best: Option<(Cut, f64)> = None;
        for yes in questions(&present) {
            let answers: Vec<bool> = self.labels.iter().map(|label| yes.contains(label)).collect();
            if let Some(cut) = best_cut(self.codes.view(), &answers, &self.weights)? {
                let gain = self.gain(cut);
                if gain > best.map_or(Self::LEAST_GAIN, |(_, most)| most) {
                    best = Some((cut, gain));
                }
            }
        }
        let Some((Cut { column, last }, _)) = best else { return Ok(None) };
        let found = self.columns.get(column).and_then(|c| Some((c.feature, *c.thresholds.get(last)?)));
        let problem = || format!("cut after code {last} of column {column}, which is not there");
        let (feature, threshold) = found.ok_or_else(|| FitError::Engine { problem: problem() })?;
        Ok(Some(Split { feature, threshold }))
    }

    /// Decrease of the Gini impurity over all classes, of the weight of all rows.
    fn gain(&self, cut: Cut) -> f64 {
        let classes = self.labels.iter().max().map_or(0, |most| most + 1);
        let (mut below, mut above) = (vec![0.0; classes], vec![0.0; classes]);
        let column = self.codes.index_axis(Axis(1), cut.column);
        for ((code, label), weight) in column.iter().zip(&self.labels).zip(&self.weights) {
            let side = if *code <= cut.last as f64 { &mut below } else { &mut above };
            side[*label] += f64::from(*weight);
        }
        let all: Vec<f64> = below.iter().zip(&above).map(|(b, a)| b + a).collect();
        (purity(&below) + purity(&above) - purity(&all)) / all.iter().sum::<f64>()
    }
}

/// Sum of squared shares, times the weight: what is left of the weight when the impurity is taken off.
fn purity(weights: &[f64]) -> f64 {
    let sum: f64 = weights.iter().sum();
    if sum > 0.0 { weights.iter().map(|w| w * w).sum::<f64>() / sum } else { 0.0 }
}

/// The classes that answer yes, for each question of two classes.
fn questions(present: &[usize]) -> Vec<&[usize]> {
    let higher = (1..present.len()).map(|at| &present[at..]);
    let middle = (1..present.len().saturating_sub(1)).map(|at| &present[at..=at]);
    higher.chain(middle).collect()
}

/// Midpoints between the distinct values of a feature, dither aside, that leave enough rows on each side.
fn thresholds(rows: &[Drawn<'_>], feature: usize, min_leaf: usize) -> Vec<f64> {
    let mut values: Vec<f64> = rows.iter().map(|(row, _)| row.values[feature]).collect();
    values.sort_by(f64::total_cmp);
    let pairs = values.windows(2).enumerate().filter(|(at, pair)| {
        let below = at + 1;
        pair[0] < pair[1] && below >= min_leaf && values.len() - below >= min_leaf
    });
    pairs.map(|(_, pair)| between(pair[0], pair[1])).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_class_is_parted_from_its_neighbours_and_from_all_others() {
        assert_eq!(questions(&[4]), Vec::<&[usize]>::new());
        assert_eq!(questions(&[0, 3]), [&[3]]);
        let wanted: [&[usize]; 5] = [&[1, 2, 5], &[2, 5], &[5], &[1], &[2]];
        assert_eq!(questions(&[0, 1, 2, 5]), wanted);
    }

    #[test]
    fn thresholds_lie_between_distinct_values_and_leave_enough_rows() {
        let rows: Vec<Row> = [1.0, 1.0, 2.0, 4.0, 4.0, 8.0]
            .map(|value| Row { values: vec![value], label: 0, weight: 1.0 })
            .into();
        let drawn: Vec<Drawn<'_>> = rows.iter().map(|row| (row, [].as_slice())).collect();
        assert_eq!(thresholds(&drawn, 0, 1), [1.5, 3.0, 6.0]);
        assert_eq!(thresholds(&drawn, 0, 2), [1.5, 3.0]);
        assert_eq!(thresholds(&drawn, 0, 3), [3.0]);
        assert_eq!(thresholds(&drawn, 0, 4), [0.0; 0]);
    }

    /// 4, 2 and 0 of three classes below, 1, 2 and 3 above. Sums of squares over the weight of their side:
    /// (16 + 4)/6 + (1 + 4 + 9)/6 - (25 + 16 + 9)/12 = 1.5; of a weight of 12 that is 0.125.
    #[test]
    fn gain_by_hand() {
        let counts = [(0.0, [4, 2, 0]), (1.0, [1, 2, 3])];
        let mut coded =
            Coded { columns: vec![], codes: Array2::zeros((12, 1)), labels: vec![], weights: vec![] };
        for (code, of_class) in counts {
            for (label, count) in of_class.into_iter().enumerate() {
                for _ in 0..count {
                    coded.codes[(coded.labels.len(), 0)] = code;
                    coded.labels.push(label);
                    coded.weights.push(1.0);
                }
            }
        }
        assert!((coded.gain(Cut { column: 0, last: 0 }) - 0.125).abs() < 1e-12);
    }
}
