use crate::stats::{NINE_IN_TEN, normal_below};
use crate::units::Interval;

/// Standard deviations from which a reading says no more than that it is far out (judgement).
const FARTHEST: f64 = 2.5;
/// Standard deviations beyond which nothing of a number lies.
const FAR_OUT: f64 = 6.0;
/// Halvings of all that numbers span in which a place among them is found.
const STEPS: u32 = 20;
const INV_SQRT_TWO_PI: f64 = 0.398_942_280_401_432_7;

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
    pub fn of(range: &Interval<f64>) -> Self {
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

    /// This number once another one, that moves with it, was seen: `other` is what was expected of that,
    /// `correlation` from 0 to 1. The usual rule for two normal numbers; what lies farther out than
    /// [`FARTHEST`] moves it no more.
    #[must_use]
    pub(super) fn given(&self, other: &Self, seen: &Self, correlation: f64) -> Self {
        let above = seen.best > other.best;
        let (own, its) = if above { (self.up, other.up) } else { (self.down, other.down) };
        let reading = if above { seen.down } else { seen.up };
        let total = its.hypot(reading);
        if total <= 0.0 {
            return *self;
        }
        let trust = correlation * its / total;
        let off = ((seen.best - other.best) / total).clamp(-FARTHEST, FARTHEST);
        let left = (1.0 - trust * trust).sqrt();
        Self { best: self.best + trust * own * off, down: self.down * left, up: self.up * left }
    }

    /// Share below `x`.
    pub fn below(&self, x: f64) -> f64 {
        let sd = if x < self.best { self.down } else { self.up };
        if sd > 0.0 { normal_below((x - self.best) / sd) } else { f64::from(u8::from(x >= self.best)) }
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
        let share: f64 = self.0.iter().map(|(weight, part)| weight * part.below(x)).sum();
        // the weights sum to 1 but for rounding
        share.clamp(0.0, 1.0)
    }

    /// The value that a share `p` lies below, within a millionth of all that the numbers span.
    pub fn quantile(&self, p: f64) -> f64 {
        let ends =
            self.0.iter().map(|(_, part)| (part.best - FAR_OUT * part.down, part.best + FAR_OUT * part.up));
        let (mut low, mut high) =
            ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), end| (a.min(end.0), b.max(end.1)));
        if low > high {
            return 0.0;
        }
        for _ in 0..STEPS {
            let middle = f64::midpoint(low, high);
            if self.below(middle) < p { low = middle } else { high = middle }
        }
        f64::midpoint(low, high)
    }

    /// From the twentieth to the nineteen-twentieths: nine in ten, with the median, none of them outside `least` to `most`.
    pub fn nine_in_ten(&self, (least, most): (f64, f64)) -> Option<Interval<f64>> {
        let [low, best, high] = [0.05, 0.5, 0.95].map(|p| self.quantile(p).clamp(least, most));
        Interval::new(low, best, high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two normal numbers of correlation r: the mean moves by r s1/s2 times the difference, the variance keeps
    /// 1 - r². Source: any text on the bivariate normal distribution; common knowledge.
    #[test]
    fn what_is_seen_of_one_moves_the_other() {
        let (edge, depth) =
            (Doubtful { best: 0.5, down: 0.2, up: 0.2 }, Doubtful { best: 0.4, down: 0.1, up: 0.1 });
        let exactly = |mm| Doubtful { best: mm, down: 0.0, up: 0.0 };
        let deeper = edge.given(&depth, &exactly(0.5), 0.8);
        assert!((deeper.best - 0.66).abs() < 1e-12 && (deeper.up - 0.12).abs() < 1e-12, "{deeper:?}");
        assert!((edge.given(&depth, &exactly(0.3), 0.8).best - 0.34).abs() < 1e-12);
        // a reading without worth, or one that has nothing to do with it, moves nothing
        let vague = Doubtful { best: 0.9, down: 1e6, up: 1e6 };
        assert!((edge.given(&depth, &vague, 0.8).best - 0.5).abs() < 1e-6);
        assert_eq!(edge.given(&depth, &exactly(0.5), 0.0), edge);
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
