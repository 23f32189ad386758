//! Straight lines through the points of a table, and intervals of made numbers.

use crate::units::{Interval, OutOfRange};

/// Value at `x` on the straight lines through `points` (x rising). `None` outside them.
pub(super) fn between(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let (first, last) = (points.first()?, points.last()?);
    if !(first.0..=last.0).contains(&x) {
        return None;
    }
    let above = points.partition_point(|p| p.0 < x);
    if above == 0 {
        return Some(first.1);
    }
    let ((x0, y0), (x1, y1)) = (points[above - 1], points[above]);
    // exact at both nodes
    let t = (x - x0) / (x1 - x0);
    Some(y0 * (1.0 - t) + y1 * t)
}

/// Three numbers, least first, as an interval of a quantity. `None` where it cannot be one.
pub(super) fn interval<T: Copy + PartialOrd>(
    [low, best, high]: [f64; 3],
    make: impl Fn(f64) -> Result<T, OutOfRange>,
) -> Option<Interval<T>> {
    Interval::new(make(low).ok()?, make(best).ok()?, make(high).ok()?)
}

/// The three numbers of an interval.
pub(super) fn three<T: Copy + PartialOrd>(of: &Interval<T>, number: impl Fn(T) -> f64) -> [f64; 3] {
    [number(of.low()), number(of.best()), number(of.high())]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_meet_their_points_and_end_with_them() {
        let points = [(1.0, 10.0), (2.0, 30.0), (4.0, 0.0)];
        for (x, y) in points {
            assert_eq!(between(&points, x), Some(y));
        }
        assert_eq!(between(&points, 1.5), Some(20.0));
        assert_eq!(between(&points, 0.99), None);
        assert_eq!(between(&points, 4.01), None);
        assert_eq!(between(&points, f64::NAN), None);
        assert_eq!(between(&[], 1.0), None);
    }
}
