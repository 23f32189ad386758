use super::effective_count;
use nalgebra::{Cholesky, DMatrix};

/// A sum of numbers that was read: each of them times its share, what the sum came to, and the variance of that reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// What each number counts in the sum.
    pub of: Vec<f64>,
    /// What it came to.
    pub value: f64,
    /// Variance of the reading itself, above 0; infinity: nothing was read.
    pub variance: f64,
}

/// Numbers that follow a normal curve together.
#[derive(Debug, Clone, PartialEq)]
pub struct JointNormal {
    /// Mean of each.
    pub mean: Vec<f64>,
    /// Covariance of each with each, row by row.
    pub covariance: Vec<Vec<f64>>,
}

/// Variance under which a number counts as known, as a share of the standard curve's (judgement: far under what drawn
/// runs resolve).
const LEAST_VARIANCE: f64 = 1e-6;
/// Variance that Cholesky's root takes for a number without any, as a share of the standard curve's.
const KNOWN_VARIANCE: f64 = 1e-12;

impl JointNormal {
    /// So many, each by the standard curve and independent of the others.
    pub fn standard(count: usize) -> Self {
        let row = |i| (0..count).map(|j| f64::from(u8::from(i == j))).collect();
        Self { mean: vec![0.0; count], covariance: (0..count).map(row).collect() }
    }

    /// Of weighted samples, as far as so many tell: their mean, and their covariance by (n + 1) / (n - 1) wider, n as
    /// [`effective_count`] counts, for what mean and covariance of n are off by. `None`: no two weigh anything, or something
    /// is no number. Source: A. Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), normal data, the next one (from memory).
    pub fn of(samples: &[(Vec<f64>, f64)]) -> Option<Self> {
        let total: f64 = samples.iter().map(|(_, weight)| weight).sum();
        let count = samples.first()?.0.len();
        let over = |number: &dyn Fn(&[f64]) -> f64| {
            samples.iter().map(|(sample, weight)| weight * number(sample)).sum::<f64>() / total
        };
        let mean: Vec<f64> = (0..count).map(|i| over(&|s| s[i])).collect();
        let n = effective_count(samples.iter().map(|(_, weight)| *weight));
        let wider = if n > 1.0 { (n + 1.0) / (n - 1.0) } else { f64::INFINITY };
        let row =
            |i: usize| (0..count).map(|j| wider * over(&|s| (s[i] - mean[i]) * (s[j] - mean[j]))).collect();
        let covariance: Vec<Vec<f64>> = (0..count).map(row).collect();
        let finite = mean.iter().chain(covariance.iter().flatten()).all(|x| x.is_finite());
        finite.then_some(Self { mean, covariance })
    }

    /// Those at these places alone, in their order.
    #[must_use]
    pub fn only(&self, places: &[usize]) -> Self {
        let row = |i: &usize| places.iter().map(|j| self.covariance[*i][*j]).collect();
        Self {
            mean: places.iter().map(|i| self.mean[*i]).collect(),
            covariance: places.iter().map(row).collect(),
        }
    }

    /// These and others that know nothing of them.
    #[must_use]
    pub fn beside(&self, others: &Self) -> Self {
        let (own, all) = (self.mean.len(), self.mean.len() + others.mean.len());
        let covariance = |i: usize, j: usize| match (i < own, j < own) {
            (true, true) => self.covariance[i][j],
            (false, false) => others.covariance[i - own][j - own],
            _ => 0.0,
        };
        Self {
            mean: self.mean.iter().chain(&others.mean).copied().collect(),
            covariance: (0..all).map(|i| (0..all).map(|j| covariance(i, j)).collect()).collect(),
        }
    }

    /// What is known of them once a sum was read. Source: A. Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), normal
    /// data with a known variance (from memory).
    pub fn observe(&mut self, reading: &Reading) {
        let dot = |a: &[f64]| a.iter().zip(&reading.of).map(|(x, y)| x * y).sum::<f64>();
        let moved: Vec<f64> = self.covariance.iter().map(|row| dot(row)).collect();
        let variance = dot(&moved) + reading.variance;
        let off = reading.value - dot(&self.mean);
        for (i, mean) in self.mean.iter_mut().enumerate() {
            *mean += moved[i] / variance * off;
            for (j, covariance) in self.covariance[i].iter_mut().enumerate() {
                *covariance -= moved[i] / variance * moved[j];
            }
        }
    }

    /// What was read of numbers that had the standard curve before and have this one now: independent readings, one for
    /// each direction in which they are surer than before.
    pub fn learned(&self) -> Vec<Reading> {
        let read = |(variance, of): (f64, Vec<f64>)| {
            let variance = variance.max(LEAST_VARIANCE);
            let precision = 1.0 / variance - 1.0;
            let mean = of.iter().zip(&self.mean).map(|(x, m)| x * m).sum::<f64>();
            let value = mean / variance / precision;
            (precision > 0.0).then(|| Reading { of, value, variance: 1.0 / precision })
        };
        // directions that know nothing of each other, each with its variance
        let axes = self.matrix().symmetric_eigen();
        let columns = axes.eigenvectors.column_iter().map(|axis| axis.iter().copied().collect());
        axes.eigenvalues.iter().copied().zip(columns).filter_map(read).collect()
    }

    /// The lower triangle that turns independent standard numbers into these, their mean left out: the root of the
    /// covariance by Cholesky. What is known exactly moves by a millionth of the standard curve's width at most.
    pub fn root(&self) -> Vec<Vec<f64>> {
        let root = Cholesky::new_with_substitute(self.matrix(), KNOWN_VARIANCE);
        let root = root.map_or_else(|| DMatrix::zeros(self.mean.len(), self.mean.len()), Cholesky::unpack);
        root.row_iter().map(|row| row.iter().copied().collect()).collect()
    }

    fn matrix(&self) -> DMatrix<f64> {
        let count = self.mean.len();
        DMatrix::from_fn(count, count, |i, j| self.covariance[i][j])
    }
}

#[cfg(test)]
mod tests {
    // A test fails by panicking.
    #![allow(clippy::unwrap_used)]

    use super::*;

    fn near(got: f64, want: f64) {
        assert!((got - want).abs() < 1e-9, "{got}, want {want}");
    }

    fn reading(of: &[f64], value: f64, variance: f64) -> Reading {
        Reading { of: of.to_vec(), value, variance }
    }

    /// One number read twice: precisions add, means weigh by them. Source: A. Gelman et al., Bayesian Data Analysis, 3rd
    /// ed. (2013), normal data with a known variance (from memory).
    #[test]
    fn precisions_add() {
        let mut one = JointNormal::standard(1);
        one.observe(&reading(&[1.0], 2.0, 0.5));
        one.observe(&reading(&[1.0], -1.0, 0.25));
        near(one.covariance[0][0], 1.0 / (1.0 + 2.0 + 4.0));
        near(one.mean[0], (2.0 * 2.0 - 4.0) / 7.0);
        let before = one.clone();
        one.observe(&reading(&[1.0], 9.0, f64::INFINITY));
        assert_eq!(one, before);
    }

    /// What was read of a standard curve comes back out of what it became.
    #[test]
    fn what_was_learned_makes_the_same_curve_again() {
        let mut first = JointNormal::standard(3);
        first.observe(&reading(&[1.0, 0.6, 0.0], 1.2, 0.3));
        first.observe(&reading(&[0.0, -0.2, 1.0], -0.4, 0.8));
        let mut again = JointNormal::standard(3);
        let learned = first.learned();
        // nothing is learned across the two directions that were read
        assert_eq!(learned.iter().filter(|r| r.variance < 1e6).count(), 2);
        for reading in &learned {
            again.observe(reading);
        }
        for i in 0..3 {
            near(again.mean[i], first.mean[i]);
            for j in 0..3 {
                near(again.covariance[i][j], first.covariance[i][j]);
            }
        }
    }

    #[test]
    fn a_wider_curve_teaches_nothing() {
        let wide = JointNormal { mean: vec![0.7], covariance: vec![vec![1.2]] };
        assert_eq!(wide.learned(), []);
    }

    #[test]
    fn its_root_makes_the_covariance() {
        let mut joint = JointNormal::standard(3);
        joint.observe(&reading(&[1.0, 1.0, 0.5], 1.0, 0.01));
        let root = joint.root();
        for i in 0..3 {
            for j in 0..3 {
                near((0..3).map(|k| root[i][k] * root[j][k]).sum(), joint.covariance[i][j]);
            }
        }
        let known = JointNormal { mean: vec![1.0; 2], covariance: vec![vec![0.0; 2]; 2] };
        assert!(known.root().iter().flatten().all(|x| x.abs() <= 1e-6));
    }

    #[test]
    fn samples_by_weight() {
        let samples = [(vec![1.0, 0.0], 1.0), (vec![3.0, 4.0], 3.0)];
        let joint = JointNormal::of(&samples).unwrap();
        near(joint.mean[0], 2.5);
        // weights of 1 and 3 count as 1.6
        near(joint.covariance[0][1], (0.25 * -1.5 * -3.0 + 0.75 * 0.5 * 1.0) * 2.6 / 0.6);
        assert_eq!(JointNormal::of(&[(vec![1.0], 2.0), (vec![5.0], 0.0)]), None);
        assert_eq!(JointNormal::of(&[(vec![1.0], 0.0)]), None);
        assert_eq!(JointNormal::of(&[(vec![f64::NAN], 1.0)]), None);
        assert_eq!(JointNormal::of(&[(vec![1.0], f64::NAN)]), None);
    }
}
