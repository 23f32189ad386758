use super::{Logistic, quantile};

/// Points of a line, at most.
const POINTS: usize = 5;

/// Odds of one answer against another as a sum of bent lines, one for each value: what a value says may rise and fall.
/// Source: Hastie and Tibshirani, Generalized Additive Models, 1990, with linear splines (from memory).
#[derive(Debug, Clone, PartialEq)]
pub struct Additive {
    /// What is added to the lines.
    pub offset: f64,
    /// For each value points with its amount, rising, and what that adds to the logarithm of the odds; straight between
    /// them, level beyond the first and the last.
    pub lines: Vec<Vec<[f64; 2]>>,
}

impl Additive {
    /// Natural logarithm of the odds; as many values as lines.
    pub fn log_odds(&self, values: &[f64]) -> f64 {
        self.offset + self.lines.iter().zip(values).map(|(line, v)| along(line, *v)).sum::<f64>()
    }

    /// The most likely lines for rows of values and answers, bent at five quantiles of each value. Each row tells how near
    /// its value lies to each of those; weights of that are held back by `ridge` as in [`Logistic::fitted`], and `None` as there.
    pub fn fitted(rows: &[(Vec<f64>, bool)], ridge: f64) -> Option<Self> {
        let width = rows.first()?.0.len();
        if rows.iter().any(|(values, _)| values.len() != width || !values.iter().all(|v| v.is_finite())) {
            return None;
        }
        let bends: Vec<Vec<f64>> =
            (0..width).map(|k| bends(&rows.iter().map(|r| r.0[k]).collect::<Vec<_>>())).collect();
        let tents: Vec<Vec<Vec<[f64; 2]>>> = bends.iter().map(|bends| tents(bends)).collect();
        let told = |values: &[f64]| {
            let of_each = values.iter().zip(&tents);
            of_each.flat_map(|(v, tents)| tents.iter().map(|tent| along(tent, *v))).collect()
        };
        let near: Vec<_> = rows.iter().map(|(values, answer)| (told(values), *answer)).collect();
        let found = Logistic::fitted(&near, ridge)?;
        let mut weights = found.weights.into_iter();
        let lines =
            bends.iter().map(|line| line.iter().copied().zip(&mut weights).map(|(x, w)| [x, w]).collect());
        Some(Self { offset: found.offset, lines: lines.collect() })
    }
}

/// The height of a line.
fn along(line: &[[f64; 2]], value: f64) -> f64 {
    let above = line.partition_point(|p| p[0] <= value);
    match (above.checked_sub(1).map(|below| line[below]), line.get(above)) {
        (Some([x, y]), Some([next_x, next_y])) => y + (next_y - y) * (value - x) / (next_x - x),
        (Some([_, y]), None) => y,
        (None, Some([_, y])) => *y,
        (None, None) => 0.0,
    }
}

/// For each bend the line that is 1 there and 0 at the others.
fn tents(bends: &[f64]) -> Vec<Vec<[f64; 2]>> {
    let tent =
        |top: usize| bends.iter().enumerate().map(|(k, x)| [*x, f64::from(u8::from(k == top))]).collect();
    (0..bends.len()).map(tent).collect()
}

/// Quantiles, evenly apart, from the least to the largest; those that are alike once.
fn bends(values: &[f64]) -> Vec<f64> {
    let at = |k: usize| quantile(values.to_vec(), k as f64 / (POINTS - 1) as f64);
    let mut bends: Vec<f64> = (0..POINTS).map(at).collect();
    bends.dedup();
    bends
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_straight_between_its_points_and_level_beyond_them() {
        let odds = Additive {
            offset: 0.5,
            lines: vec![vec![[0.0, 1.0], [2.0, 3.0], [3.0, -1.0]], vec![[7.0, 0.25]]],
        };
        for (value, height) in
            [(-9.0, 1.0), (0.0, 1.0), (0.5, 1.5), (2.0, 3.0), (2.5, 1.0), (3.0, -1.0), (8.0, -1.0)]
        {
            let got = odds.log_odds(&[value, 100.0]);
            assert!((got - height - 0.75).abs() < 1e-12, "{value}: {got}");
        }
    }

    #[test]
    fn lines_bend_once_where_quantiles_are_alike() {
        assert_eq!(bends(&[32.0, 1.0, 4.0, 2.0, 16.0, 8.0]), [1.0, 2.5, 6.0, 14.0, 32.0]);
        assert_eq!(bends(&[0.0, 0.0, 0.0, 0.0, 1.0]), [0.0, 1.0]);
        assert_eq!(bends(&[5.0]), [5.0]);
    }

    /// Yes in the middle alone: no straight line tells that.
    #[test]
    fn what_lies_between_is_found() {
        let rows: Vec<(Vec<f64>, bool)> =
            (0..100).map(|i| (vec![f64::from(i), 3.0], (35..65).contains(&i))).collect();
        let odds = Additive::fitted(&rows, 1.0).unwrap();
        for (value, yes) in [(5.0, false), (20.0, false), (50.0, true), (80.0, false), (95.0, false)] {
            assert_eq!(odds.log_odds(&[value, 3.0]) > 0.0, yes, "{value}");
        }
        assert_eq!(Additive::fitted(&[], 1.0), None);
        assert_eq!(Additive::fitted(&[(vec![f64::NAN], true), (vec![1.0], false)], 1.0), None);
        assert_eq!(Additive::fitted(&[(vec![1.0, 2.0], true), (vec![1.0], false)], 1.0), None);
    }
}
