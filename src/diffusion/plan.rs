//! The integrals that each time step of a stretch needs.

use super::averaged::{DiffusivityTable, StepDiffusivity, TERMS};
use super::exchange::{Exchange, Potential};
use super::stretch::{GAUSS_LOW, Piece, Stretch, gauss};
use crate::steel::PhaseLimits;

/// What one step of the solver integrates over.
#[derive(Debug, Clone, Copy)]
pub(super) struct StepPlan {
    /// ∫ D dt.
    pub(super) diffusivity: StepDiffusivity,
    /// Seconds above A1.
    pub(super) seconds: f64,
    /// Potential over the step as its best straight line in progress: start, end; for a held surface.
    pub(super) held: (f64, f64),
    /// The same in time; for a transfer coefficient.
    pub(super) outside: (f64, f64),
}

impl StepPlan {
    /// The step as two, each with half of the integrals and its half of the straight lines.
    pub(super) fn halves(&self) -> [Self; 2] {
        let half = |first: bool| {
            let cut = |(start, end): (f64, f64)| {
                let middle = f64::midpoint(start, end);
                if first { (start, middle) } else { (middle, end) }
            };
            let StepDiffusivity { coefficients, high } = self.diffusivity;
            Self {
                diffusivity: StepDiffusivity { coefficients: coefficients.map(|c| 0.5 * c), high },
                seconds: 0.5 * self.seconds,
                held: cut(self.held),
                outside: cut(self.outside),
            }
        };
        [half(true), half(false)]
    }
}

/// `n` steps over a stretch, short at both ends: at the start the surface jumps, and what the surface
/// did last is still seen at the end. Cut points lie at smootherstep(i/n) of the mean of the share of
/// progress and the share of time.
pub(super) fn steps(
    stretch: &Stretch,
    n: usize,
    exchange: &Exchange,
    phase: &PhaseLimits,
    table: &DiffusivityTable,
) -> Vec<StepPlan> {
    let mut steps = Vec::with_capacity(n);
    let mut sum = Sums::default();
    let mut done = 0.0;
    for piece in &stretch.pieces {
        let share = 0.5 * (piece.progress / stretch.progress + piece.seconds / stretch.seconds);
        let mut used = 0.0; // share of this piece's time
        while steps.len() + 1 < n {
            let upto = used + (cut(steps.len() + 1, n) - done) / share;
            if upto >= 1.0 {
                break;
            }
            sum.add(piece, (used, upto), exchange.potential, phase, table);
            steps.push(std::mem::take(&mut sum).finish(table.high()));
            done += (upto - used) * share;
            used = upto;
        }
        sum.add(piece, (used, 1.0), exchange.potential, phase, table);
        done += (1.0 - used) * share;
    }
    if sum.seconds > 0.0 {
        steps.push(sum.finish(table.high()));
    }
    steps
}

/// Smootherstep: the i-th of n cuts of 0..1.
fn cut(i: usize, n: usize) -> f64 {
    let z = i as f64 / n as f64;
    z * z * z * (z * (6.0 * z - 15.0) + 10.0)
}

/// Running integrals over a step.
#[derive(Default)]
struct Sums {
    coefficients: [f64; TERMS],
    seconds: f64,
    progress: f64,
    /// ∫ P dq and ∫ P q dq, q = progress.
    held: (f64, f64),
    /// The same with q = time.
    outside: (f64, f64),
}

impl Sums {
    fn add(
        &mut self,
        piece: &Piece,
        span: (f64, f64),
        potential: Potential,
        phase: &PhaseLimits,
        table: &DiffusivityTable,
    ) {
        if span.1 <= span.0 {
            return;
        }
        let (t0, q0) = (self.seconds, self.progress);
        let width = span.1 - span.0;
        let (seconds, progress) = (piece.seconds * width, piece.progress * width);
        let mut place = [GAUSS_LOW, 1.0 - GAUSS_LOW].into_iter();
        gauss(piece, span, |kelvin, weight| {
            let here = place.next().unwrap_or(1.0);
            for (s, c) in self.coefficients.iter_mut().zip(table.at(kelvin)) {
                *s += weight * c;
            }
            let p = potential.at(kelvin, phase);
            let (dt, dq) = (0.5 * seconds, 0.5 * progress);
            self.held.0 += p * dq;
            self.held.1 += p * (q0 + here * progress) * dq;
            self.outside.0 += p * dt;
            self.outside.1 += p * (t0 + here * seconds) * dt;
            0.0
        });
        self.seconds += seconds;
        self.progress += progress;
    }

    fn finish(&self, high: f64) -> StepPlan {
        StepPlan {
            diffusivity: StepDiffusivity { coefficients: self.coefficients, high },
            seconds: self.seconds,
            held: line(self.held, self.progress),
            outside: line(self.outside, self.seconds),
        }
    }
}

/// Least-squares straight line with moments ∫ P dq, ∫ P q dq over 0..`length`: its two ends.
fn line(moments: (f64, f64), length: f64) -> (f64, f64) {
    if length <= 0.0 {
        return (0.0, 0.0);
    }
    let (m0, m1) = (moments.0 / length, moments.1 / (length * length));
    (4.0 * m0 - 6.0 * m1, 6.0 * m1 - 2.0 * m0)
}
