use crate::units::Interval;

/// Standard deviations from the best value to either end of a range that holds nine in ten.
const NINE_IN_TEN: f64 = 1.645;
const INV_SQRT_TWO_PI: f64 = 0.398_942_280_401_432_7;

/// Share of a standard normal curve below `z`.
pub(super) fn below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// A number with its doubt: two half normal curves that meet at the best value, half of all below it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doubtful {
    /// The best value, in the reading's unit.
    pub best: f64,
    /// One standard deviation downward, not negative.
    pub down: f64,
    /// One standard deviation upward, not negative.
    pub up: f64,
}

impl Doubtful {
    /// From a range that holds nine in ten.
    pub(super) fn of(range: &Interval<f64>) -> Self {
        Self::of_three(range.low(), range.best(), range.high())
    }

    /// From the ends and the best value of such a range.
    pub(super) fn of_three(low: f64, best: f64, high: f64) -> Self {
        Self { best, down: (best - low) / NINE_IN_TEN, up: (high - best) / NINE_IN_TEN }
    }

    /// The range that holds nine in ten.
    pub fn nine_in_ten(&self) -> (f64, f64) {
        (self.best - NINE_IN_TEN * self.down, self.best + NINE_IN_TEN * self.up)
    }

    /// With an independent error of `sd` either way on top.
    #[must_use]
    pub(super) fn read_to(&self, sd: f64) -> Self {
        Self { best: self.best, down: self.down.hypot(sd), up: self.up.hypot(sd) }
    }

    /// Against an observation with its own doubt: how far it may lie from the observed value.
    #[must_use]
    pub(super) fn against(&self, seen: &Self) -> Self {
        Self { best: self.best, down: self.down.hypot(seen.up), up: self.up.hypot(seen.down) }
    }

    /// Share below `x`.
    pub(super) fn below(&self, x: f64) -> f64 {
        let sd = if x < self.best { self.down } else { self.up };
        if sd > 0.0 { below((x - self.best) / sd) } else { f64::from(u8::from(x >= self.best)) }
    }

    /// Density at `x`, per unit.
    pub(super) fn density(&self, x: f64) -> f64 {
        let sd = if x < self.best { self.down } else { self.up };
        let z = (x - self.best) / sd;
        INV_SQRT_TWO_PI / sd * libm::exp(-0.5 * z * z)
    }
}

/// Several numbers with their doubts, each as likely as its weight.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mixture(Vec<(f64, Doubtful)>);

impl Mixture {
    /// Of weights and numbers; weights need not sum to 1. `None` if there is nothing with weight.
    pub(super) fn of(parts: impl Iterator<Item = (f64, Doubtful)>) -> Option<Self> {
        let parts: Vec<_> = parts.filter(|p| p.0 > 0.0).collect();
        let total: f64 = parts.iter().map(|p| p.0).sum();
        (total > 0.0).then(|| Self(parts.into_iter().map(|(w, d)| (w / total, d)).collect()))
    }

    /// Share below `x`.
    pub fn below(&self, x: f64) -> f64 {
        self.0.iter().map(|(weight, part)| weight * part.below(x)).sum()
    }

    /// The value that a share `p` lies below; between 0 and `most`.
    pub fn quantile(&self, p: f64, most: f64) -> f64 {
        let (mut low, mut high) = (0.0, most);
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if self.below(middle) < p { low = middle } else { high = middle }
        }
        f64::midpoint(low, high)
    }

    /// From the twentieth to the nineteen-twentieths: nine in ten, with the median.
    pub fn nine_in_ten(&self, most: f64) -> Option<Interval<f64>> {
        Interval::new(self.quantile(0.05, most), self.quantile(0.5, most), self.quantile(0.95, most))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Points of the normal curve. Source: any table of the normal distribution; common knowledge.
    #[test]
    fn follows_the_table_of_the_normal_curve() {
        for (z, share) in [(0.0, 0.5), (1.0, 0.841_345), (-1.645, 0.049_985), (1.96, 0.975_002)] {
            assert!((below(z) - share).abs() < 1e-6, "{z}");
        }
    }

    #[test]
    fn halves_meet_at_the_best_value() {
        let lopsided = Doubtful::of(&Interval::new(0.2, 0.5, 0.6).unwrap());
        assert!((lopsided.below(0.5) - 0.5).abs() < 1e-12);
        assert!((lopsided.below(0.2) - 0.05).abs() < 1e-3);
        assert!((lopsided.below(0.6) - 0.95).abs() < 1e-3);
        let exact = Doubtful { best: 1.0, down: 0.0, up: 0.0 };
        assert_eq!((exact.below(0.99), exact.below(1.0)), (0.0, 1.0));
    }
}
