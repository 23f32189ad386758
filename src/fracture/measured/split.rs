use super::strip::{Cell, Strip};
use super::texture::FEATURES;

/// Most that one cell may say for case or core (judgement: no bad patch moves a border).
const MOST: f64 = 3.0;
/// Least variance of a feature.
const LEAST_SPREAD: f64 = 1e-6;
/// Share of the common spread in that of each region (judgement).
const SHARED: f64 = 0.3;

type Vector = [f64; FEATURES];
type Matrix = [[f64; FEATURES]; FEATURES];

/// What case and core look like on this face.
pub(super) struct Split {
    /// Plane of light over the face: per px in x and in y.
    slope: [f64; 2],
    regions: [Region; 2],
    /// How much better two regions describe the cells than one, natural logarithm a cell.
    pub(super) gain: f64,
}

struct Region {
    mean: Vector,
    /// Inverse of the covariance, and the logarithm of its determinant.
    inverse: Matrix,
    log_det: f64,
}

impl Split {
    /// From cells and the weight with which each is case; both weights together are at most one.
    pub(super) fn of<'c>(cells: impl Iterator<Item = (&'c Cell, [f64; 2])> + Clone) -> Option<Self> {
        let slope = slope(cells.clone());
        let mut sums = [Sums::default(), Sums::default()];
        for (cell, weights) in cells {
            let f = level(cell, slope);
            for (sum, w) in sums.iter_mut().zip(weights) {
                sum.add(&f, w);
            }
        }
        let least = 4.0 * FEATURES as f64;
        if sums.iter().any(|s| s.weight < least) {
            return None;
        }
        let all = sums[0].with(&sums[1]);
        let covs = [sums[0].covariance(), sums[1].covariance()];
        let shares = sums.map(|s| s.weight / all.weight);
        let region = |k: usize| {
            let cov = matrix(|i, j| {
                let within = shares[0] * covs[0][i][j] + shares[1] * covs[1][i][j];
                (1.0 - SHARED) * covs[k][i][j] + SHARED * within
            });
            let (inverse, log_det) = inverse(raised(cov))?;
            Some(Region { mean: sums[k].mean(), inverse, log_det })
        };
        let (case, core) = (region(0)?, region(1)?);
        let (_, one) = inverse(raised(all.covariance()))?;
        let gain = 0.5 * (one - shares[0] * case.log_det - shares[1] * core.log_det);
        Some(Self { slope, regions: [case, core], gain })
    }

    /// How much more a cell looks like case than like core, natural logarithm, limited.
    pub(super) fn favours_case(&self, cell: &Cell) -> f64 {
        let f = level(cell, self.slope);
        let [case, core] = &self.regions;
        (case.log_density(&f) - core.log_density(&f)).clamp(-MOST, MOST)
    }

    pub(super) fn means(&self) -> [Vector; 2] {
        [self.regions[0].mean, self.regions[1].mean]
    }
}

impl Region {
    fn log_density(&self, f: &Vector) -> f64 {
        let d: Vector = std::array::from_fn(|i| f[i] - self.mean[i]);
        let mut square = 0.0;
        for i in 0..FEATURES {
            for j in 0..FEATURES {
                square += d[i] * self.inverse[i][j] * d[j];
            }
        }
        -0.5 * (square + self.log_det)
    }
}

/// A cell's features with the slope of the light taken out.
fn level(cell: &Cell, slope: [f64; 2]) -> Vector {
    let mut f = cell.features.map(f64::from);
    f[0] -= slope[0] * f64::from(cell.at[0]) + slope[1] * f64::from(cell.at[1]);
    f
}

/// Slope of the light over the face, apart from the step between case and core: least squares with a level for each.
fn slope<'c>(cells: impl Iterator<Item = (&'c Cell, [f64; 2])> + Clone) -> [f64; 2] {
    // each region's own means first, then the pooled regression
    let mut means = [[0.0; 4]; 2];
    for (cell, weights) in cells.clone() {
        for (m, w) in means.iter_mut().zip(weights) {
            m[0] += w;
            m[1] += w * f64::from(cell.at[0]);
            m[2] += w * f64::from(cell.at[1]);
            m[3] += w * f64::from(cell.features[0]);
        }
    }
    let (mut xx, mut xy, mut yy, mut xl, mut yl) = (1e-6, 0.0, 1e-6, 0.0, 0.0);
    for (cell, weights) in cells {
        for (m, w) in means.iter().zip(weights) {
            if m[0] > 0.0 {
                let x = f64::from(cell.at[0]) - m[1] / m[0];
                let y = f64::from(cell.at[1]) - m[2] / m[0];
                let l = f64::from(cell.features[0]) - m[3] / m[0];
                xx += w * x * x;
                xy += w * x * y;
                yy += w * y * y;
                xl += w * x * l;
                yl += w * y * l;
            }
        }
    }
    let det = xx * yy - xy * xy;
    if det <= 0.0 { [0.0, 0.0] } else { [(xl * yy - yl * xy) / det, (yl * xx - xl * xy) / det] }
}

#[derive(Default, Clone, Copy)]
struct Sums {
    weight: f64,
    first: Vector,
    second: Matrix,
}

impl Sums {
    fn add(&mut self, f: &Vector, w: f64) {
        if w <= 0.0 {
            return;
        }
        self.weight += w;
        for i in 0..FEATURES {
            self.first[i] += w * f[i];
            for j in 0..FEATURES {
                self.second[i][j] += w * f[i] * f[j];
            }
        }
    }

    fn with(&self, other: &Self) -> Self {
        Self {
            weight: self.weight + other.weight,
            first: std::array::from_fn(|i| self.first[i] + other.first[i]),
            second: std::array::from_fn(|i| std::array::from_fn(|j| self.second[i][j] + other.second[i][j])),
        }
    }

    fn mean(&self) -> Vector {
        self.first.map(|v| v / self.weight)
    }

    fn covariance(&self) -> Matrix {
        let m = self.mean();
        std::array::from_fn(|i| std::array::from_fn(|j| self.second[i][j] / self.weight - m[i] * m[j]))
    }
}

fn matrix(of: impl Fn(usize, usize) -> f64) -> Matrix {
    std::array::from_fn(|i| std::array::from_fn(|j| of(i, j)))
}

/// With a little more spread, so that it has an inverse.
fn raised(mut cov: Matrix) -> Matrix {
    for (i, row) in cov.iter_mut().enumerate() {
        row[i] += LEAST_SPREAD;
    }
    cov
}

/// Inverse and logarithm of the determinant of a symmetric positive matrix (Gauss-Jordan).
fn inverse(mut a: Matrix) -> Option<(Matrix, f64)> {
    let mut b: Matrix = std::array::from_fn(|i| std::array::from_fn(|j| f64::from(u8::from(i == j))));
    let mut log_det = 0.0;
    for k in 0..FEATURES {
        let pivot = a[k][k];
        if pivot.is_nan() || pivot <= 1e-12 {
            return None;
        }
        log_det += pivot.ln();
        for j in 0..FEATURES {
            a[k][j] /= pivot;
            b[k][j] /= pivot;
        }
        for i in 0..FEATURES {
            if i != k {
                let times = a[i][k];
                for j in 0..FEATURES {
                    a[i][j] -= times * a[k][j];
                    b[i][j] -= times * b[k][j];
                }
            }
        }
    }
    Some((b, log_det))
}

/// Every readable cell of strips, with its strip's number, column and row.
pub(super) fn readable(strips: &[Strip]) -> impl Iterator<Item = (usize, usize, usize, &Cell)> + Clone {
    strips.iter().enumerate().flat_map(|(s, strip)| {
        (0..strip.columns).flat_map(move |c| {
            (0..strip.rows).filter_map(move |r| strip.at(c, r).map(|cell| (s, c, r, cell)))
        })
    })
}
