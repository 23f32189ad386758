/// The values below which shares of all weight lie, in the order of `shares`, each 0 to 1. Pairs of value and weight, in any
/// order; weights are not negative. `None`: nothing weighs anything, or a value is no number.
pub fn weighted_quantiles<const N: usize>(pairs: &[(f64, f64)], shares: [f64; N]) -> Option<[f64; N]> {
    let mut sorted: Vec<(f64, f64)> = pairs.iter().copied().filter(|(_, weight)| *weight > 0.0).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let total: f64 = sorted.iter().map(|pair| pair.1).sum();
    let (last, _) = *sorted.last().filter(|_| total.is_finite())?;
    if sorted.iter().any(|(value, _)| value.is_nan()) {
        return None;
    }
    Some(shares.map(|share| {
        let mut left = share * total;
        let at = sorted.iter().find(|(_, weight)| {
            left -= weight;
            left <= 0.0
        });
        at.map_or(last, |pair| pair.0)
    }))
}

/// How many even weights would tell as much as these do: one over the sum of squares of their shares. Source: L. Kish,
/// Survey Sampling (1965), effective sample size (from memory).
pub fn effective_count(weights: impl Iterator<Item = f64>) -> f64 {
    let (sum, squares) = weights.fold((0.0, 0.0), |(sum, squares), w| (sum + w, squares + w * w));
    if squares > 0.0 { sum * sum / squares } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_count_as_copies_do() {
        let copies = [(1.0, 1.0), (2.0, 1.0), (2.0, 1.0), (2.0, 1.0), (7.0, 1.0)];
        let weights = [(7.0, 1.0), (1.0, 1.0), (5.0, 0.0), (2.0, 3.0)];
        let shares = [0.0, 0.2, 0.5, 0.8, 0.81, 1.0];
        assert_eq!(weighted_quantiles(&copies, shares), Some([1.0, 1.0, 2.0, 2.0, 7.0, 7.0]));
        assert_eq!(weighted_quantiles(&weights, shares), weighted_quantiles(&copies, shares));
        assert_eq!(weighted_quantiles(&[(1.0, 0.0)], [0.5]), None);
        assert_eq!(weighted_quantiles(&[(f64::NAN, 1.0)], [0.5]), None);
    }

    #[test]
    fn even_weights_all_count() {
        assert!((effective_count([0.2; 5].into_iter()) - 5.0).abs() < 1e-12);
        assert!((effective_count([1.0, 0.0, 0.0].into_iter()) - 1.0).abs() < 1e-12);
        assert_eq!(effective_count(std::iter::empty()), 0.0);
    }
}
