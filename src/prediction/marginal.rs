use crate::stats::{NINE_IN_TEN, normal_below, normal_place};
use crate::units::Interval;

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
            Self::Factor(range) => {
                let log = |x: f64| libm::log(x);
                let logs = Interval::new(log(range.low()), log(range.best()), log(range.high()));
                logs.map_or(range.best(), |logs| libm::exp(place(&logs, u)))
            }
            Self::Chance(chance) => f64::from(u8::from(u > 1.0 - chance)),
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

    #[test]
    fn a_chance_comes_as_often() {
        let late = Marginal::Chance(0.15);
        let often = (0..1000).filter(|i| late.at((f64::from(*i) + 0.5) / 1000.0) > 0.5).count();
        assert_eq!(often, 150);
        assert_eq!(Marginal::Chance(0.0).at(0.999), 0.0);
    }
}
