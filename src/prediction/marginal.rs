use crate::stats::{NINE_IN_TEN, normal_below, normal_place};
use crate::units::Interval;

/// Share beyond which nothing of a learned curve is followed, either way: seven standard deviations.
const FARTHEST: f64 = 1e-12;

/// How one number that is not known exactly is spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Marginal {
    /// Two half normal curves that meet at the best value, half of all below it; nine in ten lie in the range, and
    /// nothing beyond `least` and `most`.
    Normal {
        /// Nine in ten.
        range: Interval<f64>,
        /// Nothing lies below.
        least: f64,
        /// Nothing lies above.
        most: f64,
    },
    /// The same of the logarithm, for what is known to a factor.
    Factor(Interval<f64>),
    /// 1 with this chance, else 0.
    Chance(f64),
}

impl Marginal {
    /// A number that is not negative; known to a factor if its range does not reach 0.
    pub(super) fn positive(range: Interval<f64>) -> Self {
        if range.low() > 0.0 { Self::Factor(range) } else { Self::at_least(range, 0.0) }
    }

    pub(super) fn at_least(range: Interval<f64>, least: f64) -> Self {
        Self::Normal { range, least, most: f64::INFINITY }
    }

    /// The value that a share `u` of 0 to 1 lies below.
    pub fn at(&self, u: f64) -> f64 {
        match *self {
            Self::Normal { range, least, most } => {
                let (low, high) = (below(&range, least), 1.0 - above(&range, most));
                let inside = low + u * (high - low);
                place(&range, inside).clamp(least, most)
            }
            Self::Factor(range) => logarithms(&range).map_or(range.best(), |logs| libm::exp(place(&logs, u))),
            Self::Chance(chance) => f64::from(u8::from(u > 1.0 - chance)),
        }
    }

    /// The value that a share `u` lies below where its scores are spread around `mean` by `sd`, and not as the standard
    /// curve is; limits stay limits.
    pub(super) fn learned(&self, (mean, sd): (f64, f64), u: f64) -> f64 {
        let (least, most) = match *self {
            Self::Normal { least, most, .. } => (least, most),
            Self::Factor(_) | Self::Chance(_) => (f64::NEG_INFINITY, f64::INFINITY),
        };
        let [from, to] = [least, most].map(|limit| self.score(limit));
        let [low, high] = [from, to].map(|score| normal_below((score - mean) / sd.max(f64::MIN_POSITIVE)));
        let inside = (low + u * (high - low)).clamp(FARTHEST, 1.0 - FARTHEST);
        self.at_score((mean + sd * normal_place(inside)).clamp(from, to)).clamp(least, most)
    }

    /// Where a value lies on the standard curve, whatever the limits: 0 is the best value.
    pub(super) fn score(&self, value: f64) -> f64 {
        let on = |range: &Interval<f64>, value: f64| {
            let ((down, up), off) = (spread(range), value - range.best());
            if off == 0.0 { 0.0 } else { off / if off < 0.0 { down } else { up } }
        };
        match *self {
            Self::Normal { range, .. } => on(&range, value),
            Self::Factor(range) => match logarithms(&range) {
                Some(logs) if value > 0.0 && value.is_finite() => on(&logs, libm::log(value)),
                _ => value.signum() * f64::INFINITY,
            },
            Self::Chance(_) => 0.0,
        }
    }

    /// The value at this place of the standard curve, whatever the limits.
    fn at_score(&self, score: f64) -> f64 {
        let from = |range: &Interval<f64>| {
            let (down, up) = spread(range);
            range.best() + score * if score < 0.0 { down } else { up }
        };
        match *self {
            Self::Normal { range, .. } => from(&range),
            Self::Factor(range) => logarithms(&range).map_or(range.best(), |logs| libm::exp(from(&logs))),
            Self::Chance(_) => self.at(normal_below(score)),
        }
    }

    /// Both ends of nine in ten. A chance has both of its values.
    pub fn ends(&self) -> (f64, f64) {
        match *self {
            Self::Normal { range, least, most } => (range.low().max(least), range.high().min(most)),
            Self::Factor(range) => (range.low(), range.high()),
            Self::Chance(_) => (0.0, 1.0),
        }
    }
}

fn logarithms(range: &Interval<f64>) -> Option<Interval<f64>> {
    let log = |x: f64| libm::log(x);
    Interval::new(log(range.low()), log(range.best()), log(range.high()))
}

/// Standard deviations of a range, downward and upward.
fn spread(range: &Interval<f64>) -> (f64, f64) {
    ((range.best() - range.low()) / NINE_IN_TEN, (range.high() - range.best()) / NINE_IN_TEN)
}

/// Share that lies below `x`, and not at it.
fn below(range: &Interval<f64>, x: f64) -> f64 {
    let (down, up) = spread(range);
    let off = x - range.best();
    match if off <= 0.0 { down } else { up } {
        sd if sd > 0.0 => normal_below(off / sd),
        _ => f64::from(u8::from(off > 0.0)),
    }
}

/// Share that lies above `x`, and not at it.
fn above(range: &Interval<f64>, x: f64) -> f64 {
    let (down, up) = spread(range);
    let off = x - range.best();
    match if off < 0.0 { down } else { up } {
        sd if sd > 0.0 => normal_below(-off / sd),
        _ => f64::from(u8::from(off < 0.0)),
    }
}

fn place(range: &Interval<f64>, share: f64) -> f64 {
    let (down, up) = spread(range);
    let sd = if share < 0.5 { down } else { up };
    if sd > 0.0 { range.best() + sd * normal_place(share) } else { range.best() }
}

#[cfg(test)]
mod tests {
    // A test fails by panicking.
    #![allow(clippy::unwrap_used)]

    use super::*;

    fn range(low: f64, best: f64, high: f64) -> Interval<f64> {
        Interval::new(low, best, high).unwrap()
    }

    #[test]
    fn ends_of_a_range_hold_nine_in_ten() {
        let carbon = Marginal::at_least(range(0.1, 0.2, 0.5), 0.0);
        // what lies below nothing is cut off and shared out: less than a thousandth here
        for (u, want) in [(0.05, 0.1), (0.5, 0.2), (0.95, 0.5)] {
            assert!((carbon.at(u) - want).abs() < 1e-3, "{u}: {}", carbon.at(u));
        }
        let pore = Marginal::positive(range(0.5e-3, 1e-3, 3e-3));
        for (u, want) in [(0.05, 0.5e-3), (0.5, 1e-3), (0.95, 3e-3)] {
            assert!((pore.at(u) / want - 1.0).abs() < 1e-9, "{u}");
        }
    }

    #[test]
    fn nothing_lies_beyond_the_limits() {
        let shift = Marginal::Normal { range: range(-20.0, 0.0, 20.0), least: -5.0, most: 30.0 };
        assert_eq!((shift.at(0.0), shift.at(1.0)), (-5.0, 30.0));
        // half of what is left lies below the place that halves it
        let (low, high) = (normal_below(-5.0 * NINE_IN_TEN / 20.0), normal_below(30.0 * NINE_IN_TEN / 20.0));
        let middle = 20.0 / NINE_IN_TEN * normal_place(f64::midpoint(low, high));
        assert!((shift.at(0.5) - middle).abs() < 1e-9, "{}", shift.at(0.5));
    }

    #[test]
    fn a_value_without_doubt_and_one_that_only_goes_up() {
        assert_eq!(Marginal::at_least(Interval::exact(0.18), 0.0).at(0.01), 0.18);
        let resistance = Marginal::at_least(range(0.0, 0.0, 5e6), 0.0);
        assert_eq!(resistance.at(0.3), 0.0);
        assert!((resistance.at(0.95) - 5e6).abs() < 1.0);
    }

    /// Scores by the standard curve are what it was without any.
    #[test]
    fn learned_by_nothing_it_stays_as_it_is() {
        for marginal in [
            Marginal::at_least(range(0.75, 0.9, 1.0), 0.0),
            Marginal::Normal { range: range(-20.0, 0.0, 30.0), least: -5.0, most: 30.0 },
            Marginal::positive(range(0.5e-3, 1e-3, 3e-3)),
        ] {
            for u in [0.001, 0.05, 0.3, 0.5, 0.7, 0.95, 0.999] {
                let (got, want) = (marginal.learned((0.0, 1.0), u), marginal.at(u));
                assert!((got / want - 1.0).abs() < 1e-9, "{marginal:?} {u}: {got} {want}");
                assert!((marginal.at_score(marginal.score(want)) / want - 1.0).abs() < 1e-9);
            }
        }
    }

    /// A curve learned far beyond a limit stays at the limit.
    #[test]
    fn what_was_learned_moves_it_and_passes_no_limit() {
        let shift = Marginal::Normal { range: range(-20.0, 0.0, 20.0), least: -5.0, most: f64::INFINITY };
        let sd = 20.0 / NINE_IN_TEN;
        let free = Marginal::at_least(range(-20.0, 0.0, 20.0), f64::NEG_INFINITY);
        assert!((free.learned((0.5, 0.4), 0.95) - sd * (0.5 + 0.4 * NINE_IN_TEN)).abs() < 1e-9);
        for u in [0.0, 0.5, 1.0] {
            assert!((shift.learned((-40.0, 0.5), u) + 5.0).abs() < 1e-9);
            assert!(shift.learned((40.0, 0.0), u).is_finite());
        }
        assert!(shift.learned((-1.0, 0.5), 1e-9) >= -5.0);
    }

    #[test]
    fn a_chance_comes_as_often() {
        let late = Marginal::Chance(0.15);
        let often = (0..1000).filter(|i| late.at((f64::from(*i) + 0.5) / 1000.0) > 0.5).count();
        assert_eq!(often, 150);
        assert_eq!(Marginal::Chance(0.0).at(0.999), 0.0);
    }
}
