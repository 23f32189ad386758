use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};

/// Seeded draws: the same on every platform.
pub(in crate::reference) struct Draw(Pcg64Mcg);

impl Draw {
    pub(in crate::reference) fn seeded(seed: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed))
    }

    /// From 0 to below 1.
    pub(in crate::reference) fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(in crate::reference) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Even in the logarithm.
    pub(in crate::reference) fn between_log(&mut self, low: f64, high: f64) -> f64 {
        libm::exp(self.between(libm::log(low), libm::log(high)))
    }

    pub(in crate::reference) fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }

    /// Normal curve, cut at two and a half standard deviations.
    pub(in crate::reference) fn normal(&mut self, mean: f64, sd: f64) -> f64 {
        loop {
            let (a, b) = (1.0 - self.unit(), self.unit());
            let z = (-2.0 * libm::log(a)).sqrt() * libm::cos(std::f64::consts::TAU * b);
            if z.abs() <= 2.5 {
                return mean + sd * z;
            }
        }
    }

    /// Triangle from the lowest over the usual to the highest value.
    pub(in crate::reference) fn triangle(&mut self, [low, usual, high]: [f64; 3]) -> f64 {
        let p = self.unit();
        let whole = high - low;
        if whole <= 0.0 {
            return usual;
        }
        let left = (usual - low) / whole;
        if p < left {
            low + (p * whole * (usual - low)).sqrt()
        } else {
            high - ((1.0 - p) * whole * (high - usual)).sqrt()
        }
    }

    /// One of several, by weight.
    pub(in crate::reference) fn pick<T: Copy>(&mut self, choices: &[(T, f64)]) -> T {
        let total: f64 = choices.iter().map(|c| c.1).sum();
        let mut left = self.unit() * total;
        for (choice, weight) in choices {
            left -= weight;
            if left < 0.0 {
                return *choice;
            }
        }
        choices[choices.len() - 1].0
    }
}
