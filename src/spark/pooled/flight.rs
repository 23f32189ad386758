use super::tally::{Tally, Touches};
use crate::stats::{NINE_IN_TEN, rate_bounds};
use crate::units::Interval;

/// Share of the sparks that burst on their whole way. Sparks leave the wheel at a rate R and fly for a time t along a
/// path L; the shutter is open for a time T. A spark shows if it flies at any moment of T: R (t + T) of them. The
/// path recorded is that of R t sparks at any moment, each at a speed of L / t: R T L. If a spark bursts once at most,
/// by a chance p, those show that burst in T: R T p. So p is (carriers that burst for each pixel of carrier seen)
/// times L, whatever T, while carriers that burst of all seen is p T / (t + T) and falls with the shutter.
///
/// If bursts follow each other on one way by chance, a share q of the carriers seen bursts on what was seen of them,
/// and p is 1 - (1 - q)^n for a way n times as long: less than q n. The range reaches over both; the best value lies
/// between them as the bursts of one carrier do, from one each to as many as chance would give.
pub(super) fn in_flight(
    touches: Touches<'_>,
    bursting: &Tally,
    flight: &Interval<f64>,
) -> Option<Interval<f64>> {
    if flight.low() <= 0.0 {
        return None;
    }
    let length = flight.best();
    let sd = (flight.high() / flight.low()).ln() / (2.0 * NINE_IN_TEN);
    let value = bursting.pooled.value * length;
    let variance = bursting.pooled.variance * length * length + (value * sd).powi(2);
    let once = rate_bounds(value, variance, bursting.event * length, NINE_IN_TEN)?;
    let seen = Bursting::seen(touches);
    let chance = seen.by_chance();
    let best = (1.0 - chance) * once.best().min(1.0) + chance * seen.several(once.best());
    Interval::new(seen.several(once.low()).min(best), best, once.high().min(1.0).max(best))
}

/// How carriers burst on what was seen of them.
struct Bursting {
    /// Share that bursts.
    share: f64,
    /// Bursts of those that do; 1 and more.
    each: f64,
}

impl Bursting {
    fn seen(touches: Touches<'_>) -> Self {
        let frames = || touches.iter().copied().flatten();
        let all: f64 = frames().map(|f| f.carriers().0).sum();
        let some = |f: &super::Frame| -> f64 {
            f.photo.carriers.iter().map(|c| c.certainty * f.bursts_at_all(c)).sum()
        };
        let some: f64 = frames().map(some).sum();
        let bursts: f64 = frames().map(|f| f.primary_bursts().0).sum();
        let over = |a: f64, b: f64| if b > 0.0 { a / b } else { 0.0 };
        Self { share: over(some, all).min(MOST), each: over(bursts, some).max(1.0) }
    }

    /// 0: one burst each at most; 1: as many as chance gives, m / (1 - e^-m) for a mean of m on what was seen.
    fn by_chance(&self) -> f64 {
        if self.share <= 0.0 {
            return 0.0;
        }
        let mean = -(1.0 - self.share).ln();
        ((self.each - 1.0) / (mean / self.share - 1.0)).clamp(0.0, 1.0)
    }

    /// Share of sparks that burst if `once` is what it would be with one burst each.
    fn several(&self, once: f64) -> f64 {
        if self.share <= 0.0 { 1.0 - (-once).exp() } else { 1.0 - (1.0 - self.share).powf(once / self.share) }
    }
}

/// A share of all is taken as this: nobody has seen enough of them to say that none is spared.
const MOST: f64 = 0.99;
