/// Which side of a threshold a value falls on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Less than the threshold.
    Below,
    /// At the threshold or more.
    Above,
}

impl Side {
    /// The one comparison of this module, for fit and walk alike: a value exactly at the threshold is
    /// above.
    pub fn of(value: f64, threshold: f64) -> Self {
        if value < threshold { Self::Below } else { Self::Above }
    }
}

/// The threshold between two neighbouring values, `low < high`: their midpoint, or `high` itself where no
/// number lies between them. `low` is below it and `high` above.
pub(super) fn between(low: f64, high: f64) -> f64 {
    let middle = f64::midpoint(low, high);
    if middle > low { middle } else { high }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_at_the_threshold_is_above() {
        assert_eq!(Side::of(2.5, 2.5), Side::Above);
        assert_eq!(Side::of(2.5_f64.next_down(), 2.5), Side::Below);
        assert_eq!(Side::of(2.5_f64.next_up(), 2.5), Side::Above);
        assert_eq!(Side::of(-0.0, 0.0), Side::Above);
    }

    #[test]
    fn a_threshold_parts_any_two_neighbours() {
        let pairs = [
            (1.0, 2.0),
            (1.0, 1.0_f64.next_up()),
            (1.0_f64.next_down(), 1.0),
            (0.0, f64::from_bits(1)),
            (-f64::from_bits(1), 0.0),
            (f64::MIN, f64::MAX),
            (f64::MAX.next_down(), f64::MAX),
        ];
        for (low, high) in pairs {
            let threshold = between(low, high);
            assert_eq!(Side::of(low, threshold), Side::Below, "{low} under {threshold}");
            assert_eq!(Side::of(high, threshold), Side::Above, "{high} over {threshold}");
        }
        assert_eq!(between(1.0, 2.0), 1.5);
    }
}
