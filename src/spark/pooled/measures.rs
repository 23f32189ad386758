use super::Frame;
use super::tally::Touches;
use crate::stats::{Group, NINE_IN_TEN, Pooled, pool};
use crate::units::Interval;

/// The scale on which measures of photos are averaged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Scale {
    /// As they are.
    Plain,
    /// Lengths and brightness: as ratios.
    Ratio,
    /// Degrees round a circle.
    Angle,
}

/// Pools what `measure` gives with a range on each photo; `spread` is expected from touch to touch, on the scale.
pub(super) fn pooled(
    touches: Touches<'_>,
    scale: Scale,
    spread: f64,
    measure: impl Fn(&Frame) -> Option<Interval<f64>>,
) -> Option<Interval<f64>> {
    let first = touches.iter().copied().flatten().find_map(&measure)?.best();
    let on_scale = |value: f64| match scale {
        Scale::Plain => Some(value),
        Scale::Ratio => (value > 0.0).then(|| value.ln()),
        Scale::Angle => Some(turned(value - first)),
    };
    let frame = |frame: &Frame| {
        let range = measure(frame)?;
        let value = on_scale(range.best())?;
        let (down, up) = match scale {
            Scale::Angle => (range.best() - range.low(), range.high() - range.best()),
            _ => (value - on_scale(range.low())?, on_scale(range.high())? - value),
        };
        let sd = 0.5 * (down + up) / NINE_IN_TEN;
        Some(Group { value, variance: sd * sd, weight: 1.0 })
    };
    let touch = |frames: &&[Frame]| {
        let frames: Vec<Group> = frames.iter().filter_map(frame).collect();
        let Pooled { value, variance } = pool(&frames, 0.0)?;
        Some(Group { value, variance, weight: frames.len() as f64 })
    };
    let groups: Vec<Group> = touches.iter().filter_map(touch).collect();
    let Pooled { value, variance } = pool(&groups, spread)?;
    let half = NINE_IN_TEN * variance.sqrt();
    match scale {
        Scale::Plain => Interval::new(value - half, value, value + half),
        Scale::Ratio => Interval::new((value - half).exp(), value.exp(), (value + half).exp()),
        Scale::Angle => {
            let middle = turned(value + first);
            Interval::new(middle - half, middle, middle + half)
        }
    }
}

/// The same direction, -180 to 180 degrees.
fn turned(degrees: f64) -> f64 {
    let turned = (degrees + 180.0).rem_euclid(360.0) - 180.0;
    if turned == -180.0 { 180.0 } else { turned }
}

/// a over b, each with its range, as far as both are more than nothing.
pub(super) fn over(a: &Interval<f64>, b: &Interval<f64>) -> Option<Interval<f64>> {
    if b.best() <= 0.0 || a.best() < 0.0 {
        return None;
    }
    let best = a.best() / b.best();
    if best <= 0.0 {
        return Interval::new(0.0, 0.0, a.high() / b.best());
    }
    let apart = |high: f64, low: f64| if low > 0.0 { (high / low).ln() } else { f64::INFINITY };
    let down = apart(a.best(), a.low()).hypot(apart(b.high(), b.best()));
    let up = apart(a.high(), a.best()).hypot(apart(b.best(), b.low()));
    // a stock that may have none bounds nothing from above
    let up = if up.is_finite() { up } else { a.high() / a.best() };
    Interval::new(best * (-down).exp(), best, best * up.exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions_are_averaged_round_the_circle() {
        assert_eq!(
            [turned(190.0), turned(-190.0), turned(180.0), turned(540.0)],
            [-170.0, 170.0, 180.0, 180.0]
        );
    }

    #[test]
    fn ratios_join_what_both_leave_open() {
        let range = |low, best, high| Interval::new(low, best, high).unwrap();
        let ratio = over(&range(5.0, 10.0, 20.0), &range(1.0, 2.0, 4.0)).unwrap();
        assert!((ratio.best() - 5.0).abs() < 1e-12);
        // ln 2 in both: the root of two of it either way
        let both = (2.0_f64.ln() * 2.0_f64.sqrt()).exp();
        assert!((ratio.high() - 5.0 * both).abs() < 1e-9 && (ratio.low() - 5.0 / both).abs() < 1e-9);
        assert_eq!(over(&range(0.0, 0.0, 3.0), &range(1.0, 2.0, 4.0)).unwrap().high(), 1.5);
        assert_eq!(over(&range(1.0, 1.0, 1.0), &range(0.0, 0.0, 1.0)), None);
    }
}
