//! The standard normal curve.

/// Share below `z`.
pub fn normal_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// The place that a `share` of 0 to 1 lies below; infinite at both ends. Source: P. J. Acklam, rational approximation of
/// the inverse normal (2003, from memory; held to the curve itself below), then one step of Halley's rule.
pub fn normal_place(share: f64) -> f64 {
    const TAIL: f64 = 0.024_25;
    const A: [f64; 6] = [
        -3.969_683_028_665_376e1,
        2.209_460_984_245_205e2,
        -2.759_285_104_469_687e2,
        1.383_577_518_672_69e2,
        -3.066_479_806_614_716e1,
        2.506_628_277_459_239,
    ];
    const B: [f64; 6] = [
        -5.447_609_879_822_406e1,
        1.615_858_368_580_409e2,
        -1.556_989_798_598_866e2,
        6.680_131_188_771_972e1,
        -1.328_068_155_288_572e1,
        1.0,
    ];
    const C: [f64; 6] = [
        -7.784_894_002_430_293e-3,
        -3.223_964_580_411_365e-1,
        -2.400_758_277_161_838,
        -2.549_732_539_343_734,
        4.374_664_141_464_968,
        2.938_163_982_698_783,
    ];
    const D: [f64; 5] = [
        7.784_695_709_041_462e-3,
        3.224_671_290_700_398e-1,
        2.445_134_137_142_996,
        3.754_408_661_907_416,
        1.0,
    ];
    let polynomial = |terms: &[f64], x: f64| terms.iter().fold(0.0, |sum, term| sum * x + term);
    if share <= 0.0 || share >= 1.0 {
        return if share <= 0.0 { f64::NEG_INFINITY } else { f64::INFINITY };
    }
    let tail = |share: f64| {
        let q = libm::sqrt(-2.0 * libm::log(share));
        polynomial(&C, q) / polynomial(&D, q)
    };
    let z = if share < TAIL {
        tail(share)
    } else if share > 1.0 - TAIL {
        -tail(1.0 - share)
    } else {
        let q = share - 0.5;
        q * polynomial(&A, q * q) / polynomial(&B, q * q)
    };
    let density = libm::exp(-0.5 * z * z) / libm::sqrt(2.0 * std::f64::consts::PI);
    let step = (normal_below(z) - share) / density;
    z - step / (1.0 + 0.5 * z * step)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Points of the normal curve. Source: any table of the normal distribution; common knowledge.
    #[test]
    fn follows_the_table() {
        for (z, share) in [(0.0, 0.5), (1.0, 0.841_345), (-1.645, 0.049_985), (1.96, 0.975_002)] {
            assert!((normal_below(z) - share).abs() < 1e-6, "{z}");
        }
    }

    #[test]
    fn place_and_share_are_each_others_inverse() {
        for i in 1..2000 {
            let share = f64::from(i) / 2000.0;
            assert!((normal_below(normal_place(share)) / share - 1.0).abs() < 1e-13, "{share}");
        }
        for tiny in [1e-3, 1e-6, 1e-9] {
            assert!((normal_below(normal_place(tiny)) / tiny - 1.0).abs() < 1e-10, "{tiny}");
        }
        assert_eq!(normal_place(0.0), f64::NEG_INFINITY);
        assert_eq!(normal_place(1.0), f64::INFINITY);
    }
}
