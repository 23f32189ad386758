//! From a temperature history to the integrals that each time step needs.

use super::averaged::{DiffusivityTable, StepDiffusivity, TERMS};
use super::exchange::{Exchange, Potential};
use crate::steel::Quadratic;

/// Longest temperature change inside one quadrature piece, K. Two-point Gauss over it is good to
/// 1e-6 of the integral (common practice, no source).
const PIECE_K: f64 = 12.0;
/// Carbon at which progress is measured, wt%: with it a case depth depends on ∫ D dt alone to
/// better than 1 % (computed, `reference` tests).
pub(super) const REFERENCE_WT: f64 = 0.5;

/// A straight stretch of temperature above A1.
#[derive(Debug, Clone, Copy)]
struct Piece {
    seconds: f64,
    from: f64,
    to: f64,
    /// ∫ D dt at the reference carbon, m².
    progress: f64,
}

/// Within this of the leg's top, the steel counts as at heat, K: what comes before and after is
/// cut into steps of its own.
const AT_HEAT_K: f64 = 30.0;

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

/// A stretch of a leg, in pieces above A1.
#[derive(Debug, Clone, Default)]
pub(super) struct Stretch {
    pieces: Vec<Piece>,
    /// ∫ D dt at the reference carbon, m².
    pub(super) progress: f64,
    seconds: f64,
}

impl Stretch {
    /// Cuts `points` (seconds, kelvin) above `a1` kelvin into heating, at heat, cooling; empty
    /// stretches are left out.
    pub(super) fn of(points: &[(f64, f64)], a1: f64, table: &DiffusivityTable) -> Vec<Self> {
        let pieces = pieces(points, a1, table);
        let top = pieces.iter().map(|p| p.from.max(p.to)).fold(0.0, f64::max);
        let hot = |p: &Piece| p.from.max(p.to) > top - AT_HEAT_K;
        let first = pieces.iter().position(hot).unwrap_or(0);
        let last = pieces.iter().rposition(hot).map_or(0, |i| i + 1);
        [&pieces[..first], &pieces[first..last], &pieces[last..]]
            .into_iter()
            .filter(|p| !p.is_empty())
            .map(|p| Self {
                progress: p.iter().map(|p| p.progress).sum(),
                seconds: p.iter().map(|p| p.seconds).sum(),
                pieces: p.to_vec(),
            })
            .collect()
    }

    /// Mean temperature in K and length in s of each piece.
    pub(super) fn spells(&self) -> impl Iterator<Item = (f64, f64)> {
        self.pieces.iter().map(|p| (f64::midpoint(p.from, p.to), p.seconds))
    }

    /// Lowest diffusivity at the reference carbon, m²/s.
    pub(super) fn coldest(&self, table: &DiffusivityTable) -> f64 {
        let kelvin = self.pieces.iter().map(|p| p.from.min(p.to)).fold(f64::INFINITY, f64::min);
        table.step(kelvin, 1.0).at(REFERENCE_WT)
    }

    /// `n` steps, short at both ends: at the start the surface jumps, and what the surface did
    /// last is still seen at the end. Cut points lie at smootherstep(i/n) of the mean of the
    /// share of progress and the share of time.
    pub(super) fn steps(
        &self,
        n: usize,
        exchange: &Exchange,
        acm: &Quadratic,
        table: &DiffusivityTable,
    ) -> Vec<StepPlan> {
        let mut steps = Vec::with_capacity(n);
        let mut sum = Sums::default();
        let mut done = 0.0;
        for piece in &self.pieces {
            let share = 0.5 * (piece.progress / self.progress + piece.seconds / self.seconds);
            let mut used = 0.0; // share of this piece's time
            while steps.len() + 1 < n {
                let upto = used + (cut(steps.len() + 1, n) - done) / share;
                if upto >= 1.0 {
                    break;
                }
                sum.add(piece, (used, upto), exchange.potential, acm, table);
                steps.push(std::mem::take(&mut sum).finish(table.high()));
                done += (upto - used) * share;
                used = upto;
            }
            sum.add(piece, (used, 1.0), exchange.potential, acm, table);
            done += (1.0 - used) * share;
        }
        if sum.seconds > 0.0 {
            steps.push(sum.finish(table.high()));
        }
        steps
    }
}

/// Smootherstep: the i-th of n cuts of 0..1.
fn cut(i: usize, n: usize) -> f64 {
    let z = i as f64 / n as f64;
    z * z * z * (z * (6.0 * z - 15.0) + 10.0)
}

fn pieces(points: &[(f64, f64)], a1: f64, table: &DiffusivityTable) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for w in points.windows(2) {
        let ((t0, k0), (t1, k1)) = (w[0], w[1]);
        let Some((from, to, share)) = above(k0, k1, a1) else { continue };
        let seconds = (t1 - t0) * share;
        if seconds <= 0.0 {
            continue;
        }
        let parts = ((to - from).abs() / PIECE_K).ceil().max(1.0);
        for i in 0..parts as usize {
            let at = |i: usize| from + (to - from) * i as f64 / parts;
            let mut piece = Piece { seconds: seconds / parts, from: at(i), to: at(i + 1), progress: 0.0 };
            piece.progress =
                gauss(&piece, (0.0, 1.0), |kelvin, weight| table.step(kelvin, weight).at(REFERENCE_WT));
            pieces.push(piece);
        }
    }
    pieces
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
        acm: &Quadratic,
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
            let p = potential.at(kelvin, acm);
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

/// First Gauss point of two on 0..1: (1 - 1/√3) / 2.
const GAUSS_LOW: f64 = 0.211_324_865_405_187_13;

/// Two-point Gauss of f(kelvin, seconds of weight) over the share `span` of a piece's time.
fn gauss(piece: &Piece, span: (f64, f64), mut f: impl FnMut(f64, f64) -> f64) -> f64 {
    let width = span.1 - span.0;
    let mut at = |share: f64| {
        let s = span.0 + share * width;
        f(piece.from + s * (piece.to - piece.from), 0.5 * width * piece.seconds)
    };
    at(GAUSS_LOW) + at(1.0 - GAUSS_LOW)
}

/// The part of a straight stretch `k0 → k1` that is not below `limit`: its ends and its share.
fn above(k0: f64, k1: f64, limit: f64) -> Option<(f64, f64, f64)> {
    match (k0 >= limit, k1 >= limit) {
        (true, true) => Some((k0, k1, 1.0)),
        (true, false) => Some((k0, limit, (k0 - limit) / (k0 - k1))),
        (false, true) => Some((limit, k1, (k1 - limit) / (k1 - k0))),
        (false, false) => None,
    }
}
