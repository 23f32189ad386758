use crate::units::Interval;

/// Range of a share of `n` things, `z` standard deviations either way. E. B. Wilson, J. Am. Stat. Assoc. 22 (1927)
/// 209. Where things come in groups, `n` is the number of lone things that would leave as much doubt: N. Dean,
/// M. Pagano, J. Surv. Stat. Methodol. 3 (2015) 484. `None`: no share, or none of anything.
pub fn wilson(share: f64, n: f64, z: f64) -> Option<Interval<f64>> {
    if !((0.0..=1.0).contains(&share) && n.is_finite() && n > 0.0) {
        return None;
    }
    let z2 = z * z / n;
    let middle = (share + 0.5 * z2) / (1.0 + z2);
    let half = z / (1.0 + z2) * (share * (1.0 - share) / n + 0.25 * z2 / n).sqrt();
    let (low, high) = ((middle - half).max(0.0), (middle + half).min(1.0));
    Interval::new(low.min(share), share, high.max(share))
}

/// Range of a rate of rare events, `z` standard deviations either way. The gamma interval of M. P. Fay, E. J. Feuer,
/// Stat. Med. 16 (1997) 791, which for one plain count is that of F. Garwood, Biometrika 28 (1936) 437. `weight` is
/// what one event more would add to `rate`. `None`: no rate.
pub fn rate_bounds(rate: f64, variance: f64, weight: f64, z: f64) -> Option<Interval<f64>> {
    if !(rate >= 0.0 && rate.is_finite() && variance >= 0.0 && weight > 0.0 && weight.is_finite()) {
        return None;
    }
    let low = if rate > 0.0 && variance > 0.0 {
        0.5 * variance / rate * chi_squared(2.0 * rate * rate / variance, -z)
    } else {
        rate
    };
    let (more, spread) = (rate + weight, variance + weight * weight);
    let high = 0.5 * spread / more * chi_squared(2.0 * more * more / spread, z);
    // where hardly anything is known the approximation below gives way
    Interval::new(low.clamp(0.0, rate), rate, high.max(rate + z * variance.sqrt()))
}

/// Chi-squared with `freedom` degrees, `z` standard deviations of a normal curve from its middle. E. B. Wilson,
/// M. M. Hilferty, Proc. Natl. Acad. Sci. 17 (1931) 684; within 1 % from four degrees on.
fn chi_squared(freedom: f64, z: f64) -> f64 {
    let a = 2.0 / (9.0 * freedom);
    let root = (1.0 - a + z * a.sqrt()).max(0.0);
    freedom * root * root * root
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two-sided 95 %.
    const Z95: f64 = 1.959_964;

    /// R. G. Newcombe, Stat. Med. 17 (1998) 857, table I, the score method; from memory. To its last digit.
    #[test]
    fn shares_as_published() {
        const TOLERANCE: f64 = 5.1e-5;
        for (seen, of, low, high) in [
            (81.0, 263.0, 0.2553, 0.3662),
            (15.0, 148.0, 0.0624, 0.1605),
            (0.0, 20.0, 0.0, 0.1611),
            (1.0, 29.0, 0.0061, 0.1718),
        ] {
            let range = wilson(seen / of, of, Z95).unwrap();
            assert!((range.low() - low).abs() < TOLERANCE, "{seen} of {of}: {range:?}");
            assert!((range.high() - high).abs() < TOLERANCE, "{seen} of {of}: {range:?}");
        }
    }

    /// Exact Poisson limits of the usual tables (Garwood 1936; from memory). Two in a hundred: the chi-squared is an
    /// approximation.
    #[test]
    fn counts_as_published() {
        const TOLERANCE: f64 = 0.02;
        for (seen, low, high) in
            [(0.0, 0.0, 3.689), (5.0, 1.623, 11.668), (10.0, 4.795, 18.390), (50.0, 37.11, 65.92)]
        {
            let range = rate_bounds(seen, seen, 1.0, Z95).unwrap();
            assert!((range.low() - low).abs() <= TOLERANCE * low, "{seen}: {range:?}");
            assert!((range.high() - high).abs() <= TOLERANCE * high, "{seen}: {range:?}");
        }
    }

    #[test]
    fn what_is_no_number_has_no_range() {
        assert_eq!(wilson(f64::NAN, 3.0, Z95), None);
        assert_eq!(wilson(0.5, 0.0, Z95), None);
        assert_eq!(rate_bounds(1.0, f64::NAN, 1.0, Z95), None);
        assert_eq!(rate_bounds(1.0, 1.0, 0.0, Z95), None);
        assert!(wilson(1.0, 3.0, Z95).unwrap().low() < 0.5);
    }
}
