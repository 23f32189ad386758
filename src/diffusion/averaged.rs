//! Diffusivity as a polynomial in carbon whose coefficients can be integrated over time, so that
//! a step sees the whole log inside it and not one temperature.

use super::Form;
use crate::transport::Conduction;
use std::sync::LazyLock;

/// Terms of the polynomial in carbon. Eight keep every shipped law within 2e-4 of itself up to
/// 2 %C (tested); the truncation error falls about tenfold per term.
pub(super) const TERMS: usize = 8;
/// Carbon at which progress is measured, wt%: with it a case depth depends on ∫ D dt alone to
/// better than 1 % (computed, `reference` tests).
pub(super) const REFERENCE_WT: f64 = 0.5;
/// Spacing of the table in temperature, K; cubic interpolation in it is good to 1e-5 (tested).
const SPACING_K: f64 = 5.0;

/// Polynomial coefficients of a law over a range of temperature, for carbon 0 to `high` wt%.
#[derive(Debug, Clone)]
pub(super) struct DiffusivityTable {
    rows: Vec<[f64; TERMS]>,
    /// D at [`REFERENCE_WT`] for the same temperatures.
    reference: Vec<f64>,
    lowest_kelvin: f64,
    high: f64,
}

impl DiffusivityTable {
    /// Tabulates `form` (times `factor`) for temperatures `from..=to` kelvin.
    pub(super) fn new(form: &Form, factor: f64, (from, to): (f64, f64), high: f64) -> Self {
        // one spare row on each side for the cubic
        let lowest_kelvin = from - SPACING_K;
        let rows = ((to - from) / SPACING_K).ceil() as usize + 4;
        let d = |i: usize, wt: f64| factor * form.at(lowest_kelvin + i as f64 * SPACING_K, wt);
        Self {
            rows: (0..rows).map(|i| fit(|wt| d(i, wt), high)).collect(),
            reference: (0..rows).map(|i| d(i, REFERENCE_WT)).collect(),
            lowest_kelvin,
            high,
        }
    }

    /// Coefficients at `kelvin`, by cubic Lagrange interpolation.
    pub(super) fn at(&self, kelvin: f64) -> [f64; TERMS] {
        let (first, weights) = self.place(kelvin);
        let mut sum = [0.0; TERMS];
        for (w, row) in weights.iter().zip(&self.rows[first..first + 4]) {
            for (s, c) in sum.iter_mut().zip(row) {
                *s += w * c;
            }
        }
        sum
    }

    /// D at `kelvin` and [`REFERENCE_WT`], m²/s, by the same interpolation.
    pub(super) fn reference(&self, kelvin: f64) -> f64 {
        let (first, weights) = self.place(kelvin);
        weights.iter().zip(&self.reference[first..first + 4]).map(|(w, d)| w * d).sum()
    }

    /// First of the four rows around `kelvin`, and their weights.
    fn place(&self, kelvin: f64) -> (usize, [f64; 4]) {
        let place = ((kelvin - self.lowest_kelvin) / SPACING_K).max(0.0);
        let i = (place as usize).clamp(1, self.rows.len() - 3);
        let u = place - i as f64;
        let weights = [
            -u * (u - 1.0) * (u - 2.0) / 6.0,
            (u + 1.0) * (u - 1.0) * (u - 2.0) / 2.0,
            -(u + 1.0) * u * (u - 2.0) / 2.0,
            (u + 1.0) * u * (u - 1.0) / 6.0,
        ];
        (i - 1, weights)
    }

    /// Highest carbon of the polynomials, wt%.
    pub(super) fn high(&self) -> f64 {
        self.high
    }
}

/// ∫ D dt over a step as a polynomial in s = 2 wt / high - 1, m².
#[derive(Debug, Clone, Copy)]
pub(super) struct StepDiffusivity {
    pub(super) coefficients: [f64; TERMS],
    pub(super) high: f64,
}

impl Conduction for StepDiffusivity {
    /// wt%. D of the shipped laws doubles within 0.7 wt% at most: 5e-5 wt% are left.
    const SETTLED: f64 = 1e-2;

    fn faces(&self, u: &[f64], drop: &mut [f64], left: &mut [f64], right: &mut [f64]) {
        // ∫ D dC = high/2 ∫ D ds: the polynomial with each coefficient over its power
        let half = 0.5 * self.high;
        let integral: [f64; TERMS] = std::array::from_fn(|i| half * self.coefficients[i] / (i + 1) as f64);
        let at = |wt: f64| {
            let s = scaled(wt, self.high);
            let k = value(&self.coefficients, s);
            // beyond the polynomial's range D holds its end value
            (s * value(&integral, s) + (wt - half * (s + 1.0)) * k, k)
        };
        // every node by itself, several at once: `right` holds the potential until the differences are made
        let n = u.len();
        let (drop, left, right) = (&mut drop[..n - 1], &mut left[..n - 1], &mut right[..n - 1]);
        for ((wt, k), potential) in u[..n - 1].iter().zip(&mut *left).zip(&mut *right) {
            (*potential, *k) = at(*wt);
        }
        let (mut next, mut k_next) = at(u[n - 1]);
        for i in (0..n - 1).rev() {
            drop[i] = right[i] - next;
            next = right[i];
            right[i] = k_next;
            k_next = left[i];
        }
    }
}

/// Carbon on the polynomials' scale -1 to 1; beyond it the end value holds.
fn scaled(wt: f64, high: f64) -> f64 {
    (2.0 * wt / high - 1.0).clamp(-1.0, 1.0)
}

fn value(coefficients: &[f64; TERMS], s: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * s + c)
}

/// Polynomial in s through `f` at the Chebyshev points of 0..high wt%.
fn fit(f: impl Fn(f64) -> f64, high: f64) -> [f64; TERMS] {
    let Chebyshev { points, powers } = &*CHEBYSHEV;
    let samples = points.map(|s| f(0.5 * high * (1.0 + s)));
    powers.map(|row| row.iter().zip(&samples).map(|(p, sample)| p * sample).sum())
}

/// Chebyshev points on -1 to 1, and what each sample at them adds to each coefficient of the polynomial in s.
struct Chebyshev {
    points: [f64; TERMS],
    powers: [[f64; TERMS]; TERMS],
}

static CHEBYSHEV: LazyLock<Chebyshev> = LazyLock::new(Chebyshev::new);

impl Chebyshev {
    /// Source: discrete Chebyshev orthogonality, any numerical analysis text (common practice).
    fn new() -> Self {
        let n = TERMS as f64;
        let angle: [f64; TERMS] = std::array::from_fn(|j| std::f64::consts::PI * (j as f64 + 0.5) / n);
        let mut powers = [[0.0; TERMS]; TERMS];
        // T_k in powers of s, by T_k+1 = 2 s T_k - T_k-1
        let (mut older, mut t) = ([0.0; TERMS], [0.0; TERMS]);
        t[0] = 1.0;
        for k in 0..TERMS {
            let scale = if k == 0 { 1.0 } else { 2.0 } / n;
            for (row, power) in powers.iter_mut().zip(&t) {
                for (sum, angle) in row.iter_mut().zip(&angle) {
                    *sum += power * scale * libm::cos(k as f64 * angle);
                }
            }
            let mut next = [0.0; TERMS];
            for i in 0..TERMS {
                let up = if i == 0 { 0.0 } else { t[i - 1] };
                next[i] = if k == 0 { up } else { 2.0 * up - older[i] };
            }
            (older, t) = (t, next);
        }
        Self { points: angle.map(libm::cos), powers }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Agren's constants; source in `models/diffusivity.toml`.
    const AGREN: Form = Form::Agren { d0: 4.53e-7, w: 8339.9, t0: 2.221e-4, q: 17767.0, p: 26436.0 };
    const SLYCKE: Form = Form::Slycke { d0: 4.84e-5, a: 38.0, b: 5.0, q: 155_000.0, p: 570_000.0 };

    #[test]
    fn polynomial_and_table_follow_the_law() {
        for form in [AGREN, SLYCKE] {
            let table = DiffusivityTable::new(&form, 1.0, (1000.15, 1400.15), 2.0);
            for i in 0..=400 {
                let kelvin = 1000.15 + f64::from(i);
                let coefficients = table.at(kelvin);
                for j in 0..=100 {
                    let wt = 0.02 * f64::from(j);
                    let want = form.at(kelvin, wt);
                    let got = value(&coefficients, scaled(wt, 2.0));
                    assert!((got / want - 1.0).abs() < 2e-4, "{kelvin} K {wt} %C: {got} {want}");
                }
            }
        }
    }

    #[test]
    fn a_drop_is_the_integral_of_the_diffusivity() {
        let table = DiffusivityTable::new(&AGREN, 1.0, (1173.15, 1173.15), 1.4);
        let step = StepDiffusivity { coefficients: table.at(1173.15), high: table.high() };
        let d = |wt: f64| value(&step.coefficients, scaled(wt, step.high));
        // the last value lies beyond the polynomial, where D holds its end value
        let u = [0.2, 0.9, 1.5];
        let (mut drop, mut left, mut right) = ([0.0; 2], [0.0; 2], [0.0; 2]);
        step.faces(&u, &mut drop, &mut left, &mut right);
        for i in 0..2 {
            let slices = 2000;
            let h = (u[i] - u[i + 1]) / f64::from(slices);
            let sum: f64 = (0..slices).map(|j| d(u[i + 1] + (f64::from(j) + 0.5) * h) * h).sum();
            assert!((drop[i] / sum - 1.0).abs() < 1e-6, "{} {sum}", drop[i]);
            assert_eq!((left[i], right[i]), (d(u[i]), d(u[i + 1])));
        }
    }
}
