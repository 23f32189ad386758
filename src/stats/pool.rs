/// What one group says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Group {
    /// Its value.
    pub value: f64,
    /// Variance of that value inside the group, not negative.
    pub variance: f64,
    /// How much it counts, more than zero.
    pub weight: f64,
}

/// What groups say together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pooled {
    /// Mean by weight.
    pub value: f64,
    /// Its variance.
    pub variance: f64,
}

/// Pools groups that may truly differ from each other. `spread` is the standard deviation from group to group that
/// is expected before any is seen; it counts as much as one group against what the groups themselves show. `None`:
/// no group.
pub fn pool(groups: &[Group], spread: f64) -> Option<Pooled> {
    let total: f64 = groups.iter().map(|g| g.weight).sum();
    if groups.is_empty() || !(total.is_finite() && total > 0.0) {
        return None;
    }
    let value = groups.iter().map(|g| g.weight * g.value).sum::<f64>() / total;
    let seen = (groups.len() - 1) as f64;
    let between = (spread * spread + seen * between(groups, value, total)) / (seen + 1.0);
    let of = |g: &Group| (g.weight / total).powi(2) * (g.variance + between);
    Some(Pooled { value, variance: groups.iter().map(of).sum() })
}

/// Variance from group to group, by the method of moments for any weights: R. `DerSimonian`, R. Kacker, Contemp. Clin.
/// Trials 28 (2007) 105, equation 6. Not negative; zero for one group.
fn between(groups: &[Group], mean: f64, total: f64) -> f64 {
    let sum = |of: &dyn Fn(&Group) -> f64| groups.iter().map(of).sum::<f64>();
    let seen = sum(&|g| g.weight * (g.value - mean).powi(2));
    let inside = sum(&|g| g.weight * g.variance * (1.0 - g.weight / total));
    let freedom = total - sum(&|g| g.weight * g.weight) / total;
    if freedom > 0.0 { ((seen - inside) / freedom).max(0.0) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Thirteen trials of the BCG vaccine: cases and others with it, cases and others without. G. A. Colditz et al.,
    /// JAMA 271 (1994) 698.
    const TRIALS: [[f64; 4]; 13] = [
        [4.0, 119.0, 11.0, 128.0],
        [6.0, 300.0, 29.0, 274.0],
        [3.0, 228.0, 11.0, 209.0],
        [62.0, 13536.0, 248.0, 12619.0],
        [33.0, 5036.0, 47.0, 5761.0],
        [180.0, 1361.0, 372.0, 1079.0],
        [8.0, 2537.0, 10.0, 619.0],
        [505.0, 87886.0, 499.0, 87892.0],
        [29.0, 7470.0, 45.0, 7232.0],
        [17.0, 1699.0, 65.0, 1600.0],
        [186.0, 50448.0, 141.0, 27197.0],
        [5.0, 2493.0, 3.0, 2338.0],
        [27.0, 16886.0, 29.0, 17825.0],
    ];

    /// With weights of one over the variance this is the estimate of `DerSimonian` and Laird, 0.3088 on the logarithm
    /// of the ratio of risks for these trials (widely reprinted; from memory). To its last digit.
    #[test]
    fn spread_between_groups_as_published() {
        let group = |t: &[f64; 4]| {
            let [a, b, c, d] = *t;
            let value = (a / (a + b) / (c / (c + d))).ln();
            let variance = 1.0 / a - 1.0 / (a + b) + 1.0 / c - 1.0 / (c + d);
            Group { value, variance, weight: 1.0 / variance }
        };
        let groups: Vec<Group> = TRIALS.iter().map(group).collect();
        let total = groups.iter().map(|g| g.weight).sum();
        let mean = pool(&groups, 0.0).unwrap().value;
        assert!((between(&groups, mean, total) - 0.3088).abs() < 6e-5);
    }

    #[test]
    fn alike_groups_narrow_and_unlike_ones_do_not() {
        let group = |value| Group { value, variance: 1.0, weight: 2.0 };
        let sd = |values: &[f64]| {
            pool(&values.iter().map(|v| group(*v)).collect::<Vec<_>>(), 0.0).unwrap().variance
        };
        assert_eq!(sd(&[3.0]), 1.0);
        assert_eq!(sd(&[3.0; 4]), 0.25);
        assert!(sd(&[0.0, 3.0, 6.0, 9.0]) > 1.0);
        assert_eq!(pool(&[], 0.0), None);
    }

    #[test]
    fn one_group_has_the_spread_that_is_expected() {
        let one = Group { value: 3.0, variance: 1.0, weight: 2.0 };
        assert_eq!(pool(&[one], 2.0).unwrap(), Pooled { value: 3.0, variance: 5.0 });
    }
}
