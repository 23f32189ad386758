/// How often weights are moved at most, and the largest move, standardised, after which they stand.
const STEPS: usize = 50;
const STILL: f64 = 1e-9;
/// Least spread of a value: one that never changes tells nothing.
const LEAST: f64 = 1e-9;

/// Odds of one answer against another as a weighted sum of values.
#[derive(Debug, Clone, PartialEq)]
pub struct Logistic {
    /// Logarithm of the odds where every value is 0.
    pub offset: f64,
    /// What one more of each value adds to it.
    pub weights: Vec<f64>,
}

impl Logistic {
    /// Natural logarithm of the odds; as many values as weights.
    pub fn log_odds(&self, values: &[f64]) -> f64 {
        self.offset + self.weights.iter().zip(values).map(|(w, v)| w * v).sum::<f64>()
    }

    /// The most likely weights for rows of values and answers, held back by `ridge` times half of the sum of the
    /// squared weights of standardised values. `None` without rows of both answers, all equally long and finite, or
    /// without an end.
    /// Source: Hastie, Tibshirani and Friedman, The Elements of Statistical Learning, 2nd ed. 2009, 4.4.1 (Newton's
    /// steps) and 3.4.1 (ridge; values standardised, offset free) (from memory).
    pub fn fitted(rows: &[(Vec<f64>, bool)], ridge: f64) -> Option<Self> {
        let width = rows.first()?.0.len();
        let good = |(v, _): &(Vec<f64>, bool)| v.len() == width && v.iter().all(|v| v.is_finite());
        if !rows.iter().all(good) || rows.iter().all(|r| r.1) || rows.iter().all(|r| !r.1) {
            return None;
        }
        let n = rows.len() as f64;
        let of = |k: usize, f: &dyn Fn(f64) -> f64| rows.iter().map(|(v, _)| f(v[k])).sum::<f64>() / n;
        let mean: Vec<f64> = (0..width).map(|k| of(k, &|v| v)).collect();
        let spread: Vec<f64> =
            (0..width).map(|k| of(k, &|v| (v - mean[k]) * (v - mean[k])).sqrt().max(LEAST)).collect();
        // the last is the offset
        let mut weights = vec![0.0; width + 1];
        for _ in 0..STEPS {
            let moved = step(rows, &mean, &spread, &weights, ridge)?;
            for (w, m) in weights.iter_mut().zip(&moved) {
                *w += m;
            }
            if moved.iter().all(|m| m.abs() < STILL) {
                let offset = weights.pop()?;
                let weights: Vec<f64> = weights.iter().zip(&spread).map(|(w, s)| w / s).collect();
                let offset = offset - weights.iter().zip(&mean).map(|(w, m)| w * m).sum::<f64>();
                return Some(Self { offset, weights });
            }
        }
        None
    }
}

/// Newton's step from weights of standardised values, the offset last.
fn step(
    rows: &[(Vec<f64>, bool)],
    mean: &[f64],
    spread: &[f64],
    weights: &[f64],
    ridge: f64,
) -> Option<Vec<f64>> {
    let width = weights.len();
    let mut slope = vec![0.0; width];
    let mut bend = vec![0.0; width * width];
    let mut x = vec![1.0; width];
    for (values, answer) in rows {
        for (k, v) in values.iter().enumerate() {
            x[k] = (v - mean[k]) / spread[k];
        }
        let odds: f64 = x.iter().zip(weights).map(|(x, w)| x * w).sum();
        let chance = 1.0 / (1.0 + libm::exp(-odds));
        let off = f64::from(u8::from(*answer)) - chance;
        let doubt = chance * (1.0 - chance);
        for i in 0..width {
            slope[i] += off * x[i];
            let by = doubt * x[i];
            for (b, x) in bend[i * width..=i * width + i].iter_mut().zip(&x) {
                *b += by * x;
            }
        }
    }
    for k in 0..width - 1 {
        slope[k] -= ridge * weights[k];
        bend[k * width + k] += ridge;
    }
    solved(bend, slope)
}

/// Solves a symmetric positive system of which the lower half is given (Cholesky).
fn solved(mut a: Vec<f64>, mut b: Vec<f64>) -> Option<Vec<f64>> {
    let n = b.len();
    for i in 0..n {
        for j in 0..=i {
            let dot: f64 = (0..j).map(|k| a[i * n + k] * a[j * n + k]).sum();
            let left = a[i * n + j] - dot;
            if i > j {
                a[i * n + j] = left / a[j * n + j];
            } else if left > 0.0 {
                a[i * n + i] = left.sqrt();
            } else {
                return None;
            }
        }
        let dot: f64 = (0..i).map(|k| a[i * n + k] * b[k]).sum();
        b[i] = (b[i] - dot) / a[i * n + i];
    }
    for i in (0..n).rev() {
        let dot: f64 = (i + 1..n).map(|k| a[k * n + i] * b[k]).sum();
        b[i] = (b[i] - dot) / a[i * n + i];
    }
    Some(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: scikit-learn 1.9.1, `LogisticRegression` on standardised values; tests/reference/logistic.py.
    /// Within 1e-5 of each weight, written before the first run: their steps end at 1e-10 of the slope.
    #[test]
    fn weights_are_those_of_scikit_learn() {
        let table = include_str!("../../tests/reference/logistic.csv");
        let lines = table.lines().filter(|l| !l.starts_with('#')).skip(1);
        let mut rows = Vec::new();
        let mut checked = 0;
        for line in lines {
            let mut fields = line.split(',');
            let what = fields.next().unwrap();
            let v: Vec<f64> = fields.map(|f| f.parse().unwrap()).collect();
            if what == "row" {
                rows.push((v[1..].to_vec(), v[0] == 1.0));
                continue;
            }
            let fitted =
                Logistic::fitted(&rows, what.strip_prefix("ridge ").unwrap().parse().unwrap()).unwrap();
            assert!((fitted.offset - v[0]).abs() < 1e-5, "{what}: {} and {}", fitted.offset, v[0]);
            for (own, theirs) in fitted.weights.iter().zip(&v[1..]) {
                assert!((own - theirs).abs() < 1e-5, "{what}: {own} and {theirs}");
            }
            checked += 1;
        }
        assert!(rows.len() == 60 && checked == 2);
    }

    #[test]
    fn rows_that_tell_nothing_are_not_fitted() {
        let row = |v: f64, answer| (vec![v], answer);
        assert_eq!(Logistic::fitted(&[], 1.0), None);
        assert_eq!(Logistic::fitted(&[row(1.0, true), row(2.0, true)], 1.0), None);
        assert_eq!(Logistic::fitted(&[row(1.0, true), row(f64::NAN, false)], 1.0), None);
        assert_eq!(Logistic::fitted(&[row(1.0, true), (vec![], false)], 1.0), None);
        let flat = Logistic::fitted(&[row(1.0, true), row(1.0, false)], 1.0).unwrap();
        assert!(flat.log_odds(&[1.0]).abs() < 1e-9);
    }
}
