/// The score that at least a share of new ones stays at or below, if scores are exchangeable: the k-th least of n, with
/// k = ceil((n + 1) share). `None`: n is too small, and no score would do. V. Vovk, A. Gammerman, G. Shafer, *Algorithmic
/// Learning in a Random World* (2005), chapter 2; from memory. Nine scores is the least for nine in ten.
pub fn conformal_level(scores: &[f64], share: f64) -> Option<f64> {
    let mut sorted: Vec<f64> = scores.iter().copied().filter(|s| !s.is_nan()).collect();
    sorted.sort_by(f64::total_cmp);
    // what 10 times 0.9 is must not be 9 and a bit
    let rank = ((sorted.len() + 1) as f64 * share - 1e-9).ceil().max(1.0) as usize;
    sorted.get(rank - 1).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nine_is_the_least_for_nine_in_ten() {
        let scores: Vec<f64> = (1..=9).map(f64::from).collect();
        assert_eq!(conformal_level(&scores[..8], 0.9), None);
        assert_eq!(conformal_level(&scores, 0.9), Some(9.0));
        let scores: Vec<f64> = (1..=19).rev().map(f64::from).collect();
        assert_eq!(conformal_level(&scores, 0.9), Some(18.0));
        assert_eq!(conformal_level(&[], 0.9), None);
    }
}
