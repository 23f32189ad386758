//! An exact search written apart from the engine, for tests: class sums in `f64`, every cut of every
//! feature, ties to the first feature and the lowest cut.

use super::side::between;
use super::{Row, Side};

/// The best split of these rows and its decrease of the Gini impurity, of their weight; `None` if every
/// feature is constant or every cut leaves too few rows.
pub(super) fn best(rows: &[&Row], min_leaf: usize) -> Option<(usize, f64, f64)> {
    let mut best: Option<(usize, f64, f64)> = None;
    for feature in 0..rows[0].values.len() {
        let mut values: Vec<f64> = rows.iter().map(|row| row.values[feature]).collect();
        values.sort_by(f64::total_cmp);
        values.dedup();
        for pair in values.windows(2) {
            let threshold = between(pair[0], pair[1]);
            let below = rows.iter().filter(|row| row.values[feature] < threshold).count();
            if below < min_leaf || rows.len() - below < min_leaf {
                continue;
            }
            let gain = gain(rows, feature, threshold);
            if best.is_none_or(|(_, _, most)| gain > most) {
                best = Some((feature, threshold, gain));
            }
        }
    }
    best
}

/// Decrease of the Gini impurity by a split, of the weight of the rows.
pub(super) fn gain(rows: &[&Row], feature: usize, threshold: f64) -> f64 {
    let (below, above) = part(rows, feature, threshold);
    let whole: f64 = rows.iter().map(|row| row.weight).sum();
    let weighted = |rows: &[&Row]| rows.iter().map(|row| row.weight).sum::<f64>() / whole * impurity(rows);
    impurity(rows) - weighted(&below) - weighted(&above)
}

/// The rows below and above a threshold.
pub(super) fn part<'a>(rows: &[&'a Row], feature: usize, threshold: f64) -> (Vec<&'a Row>, Vec<&'a Row>) {
    rows.iter().partition(|row| Side::of(row.values[feature], threshold) == Side::Below)
}

/// Chance that two rows, drawn by weight with replacement, are of different classes.
fn impurity(rows: &[&Row]) -> f64 {
    let whole: f64 = rows.iter().map(|row| row.weight).sum();
    let classes = rows.iter().map(|row| row.label).max().map_or(0, |most| most + 1);
    let of_class =
        |c: usize| rows.iter().filter(|row| row.label == c).map(|row| row.weight).sum::<f64>() / whole;
    1.0 - (0..classes).map(|c| of_class(c).powi(2)).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(value: f64, label: usize) -> Row {
        Row { values: vec![value], label, weight: 1.0 }
    }

    /// Impurity of 2:2 is 1/2. A cut at 1.5 leaves 1:0 and 1:2: 1/2 - 3/4 x 4/9 = 1/6; at 2.5 it leaves 2:0
    /// and 0:2, gain 1/2.
    #[test]
    fn gains_by_hand() {
        let rows = [row(1.0, 0), row(2.0, 0), row(3.0, 1), row(4.0, 1)];
        let rows: Vec<&Row> = rows.iter().collect();
        assert!((gain(&rows, 0, 1.5) - 1.0 / 6.0).abs() < 1e-15);
        assert_eq!(best(&rows, 1), Some((0, 2.5, 0.5)));
        assert_eq!(best(&rows, 3), None);
    }
}
