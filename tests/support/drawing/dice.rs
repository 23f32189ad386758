//! Seeded draws: the same picture from the same seed, everywhere.

use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};

/// A named generator with the few distributions that a picture needs.
pub(crate) struct Dice(Pcg64Mcg);

impl Dice {
    /// `part` keeps the draws of one part of a picture apart from those of another.
    pub(crate) fn new(seed: u64, part: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ part.rotate_left(32)))
    }

    /// Uniform in 0..1.
    pub(crate) fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Uniform in the logarithm.
    pub(crate) fn log_between(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    pub(crate) fn chance(&mut self, share: f64) -> bool {
        self.unit() < share
    }

    /// `low..=high`.
    pub(crate) fn whole(&mut self, low: usize, high: usize) -> usize {
        low + (self.unit() * (high - low + 1) as f64) as usize
    }

    /// Standard normal (Box and Muller 1958).
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.unit()).cos()
    }

    /// Nearly normal, fast: the sum of four uniform numbers; for pixels' noise.
    pub(crate) fn quick_normal(&mut self) -> f32 {
        let bits = self.0.next_u64();
        let sum: u64 = (0..4).map(|k| (bits >> (16 * k)) & 0xFFFF).sum();
        // mean 4 * 32767.5, standard deviation sqrt(4 (65536^2 - 1) / 12)
        (sum as f32 - 131_070.0) / 37_837.2
    }

    pub(crate) fn log_normal(&mut self, median: f64, sigma: f64) -> f64 {
        median * (sigma * self.normal()).exp()
    }

    /// Poisson by its waiting times; means here are below 100.
    pub(crate) fn poisson(&mut self, mean: f64) -> usize {
        let (mut time, mut count) = (0.0, 0);
        loop {
            time -= (1.0 - self.unit()).ln();
            if time > mean {
                return count;
            }
            count += 1;
        }
    }

    /// Triangular (low, typical, high).
    pub(crate) fn triangle(&mut self, low: f64, typical: f64, high: f64) -> f64 {
        if high <= low {
            return low;
        }
        let (u, cut) = (self.unit(), (typical - low) / (high - low));
        if u < cut {
            low + (u * (high - low) * (typical - low)).sqrt()
        } else {
            high - ((1.0 - u) * (high - low) * (high - typical)).sqrt()
        }
    }

    pub(crate) fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.whole(0, of.len() - 1)]
    }

    /// A direction, all round.
    pub(crate) fn sphere(&mut self) -> [f64; 3] {
        let z = self.between(-1.0, 1.0);
        let (sin, cos) = self.between(0.0, std::f64::consts::TAU).sin_cos();
        let r = (1.0 - z * z).sqrt();
        [r * cos, r * sin, z]
    }
}
