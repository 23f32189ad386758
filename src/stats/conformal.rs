/// The score that a share of new ones stays at or below, if scores are exchangeable: the k-th least of n, with
/// k = (n + 1) share; between two ranks the score between them, in proportion, or few scores would hold more than is said
/// (12 of them 12 in 13). `None`: n is too small, and no score would do. V. Vovk, A. Gammerman, G. Shafer, *Algorithmic
/// Learning in a Random World* (2005), chapter 2, has the whole ranks; from memory. Nine scores is the least for nine in ten.
pub fn conformal_level(scores: &[f64], share: f64) -> Option<f64> {
    let mut sorted: Vec<f64> = scores.iter().copied().filter(|s| !s.is_nan()).collect();
    sorted.sort_by(f64::total_cmp);
    // what 10 times 0.9 is must not be 9 and a bit
    let rank = (sorted.len() + 1) as f64 * share;
    let whole = rank.round();
    let rank = if (rank - whole).abs() < 1e-9 { whole } else { rank }.max(1.0);
    let above = *sorted.get(rank.ceil() as usize - 1)?;
    let below = sorted[rank as usize - 1];
    // two scores that are alike, both without end too
    Some(if below == above { above } else { below + (rank - rank.floor()) * (above - below) })
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
        let twelve: Vec<f64> = (1..=12).map(f64::from).collect();
        assert!((conformal_level(&twelve, 0.9).unwrap() - 11.7).abs() < 1e-6);
        assert_eq!(conformal_level(&[f64::INFINITY; 12], 0.9), Some(f64::INFINITY));
    }
}
