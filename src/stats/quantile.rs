/// The value below which a share (0 to 1) of values lies, straight between two of them; 0 of none. Type 7 of R. J. Hyndman and
/// Y. Fan, "Sample quantiles in statistical packages", Am. Stat. 50 (1996) 361-365 (from memory): what numpy takes too.
pub fn quantile(mut values: Vec<f64>, share: f64) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    values.sort_by(f64::total_cmp);
    let at = share * (values.len() - 1) as f64;
    let (low, high) = (at.floor() as usize, at.ceil() as usize);
    values[low] + (values[high] - values[low]) * (at - low as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// numpy 2: quantile([1, 2, 4, 8, 16, 32], [0, 0.25, 0.5, 0.75, 1]) is 1, 2.5, 6, 14, 32.
    #[test]
    fn quantiles_are_those_of_numpy() {
        let of = |share| quantile(vec![32.0, 1.0, 4.0, 2.0, 16.0, 8.0], share);
        assert_eq!([0.0, 0.25, 0.5, 0.75, 1.0].map(of), [1.0, 2.5, 6.0, 14.0, 32.0]);
        assert_eq!(quantile(Vec::new(), 0.5), 0.0);
    }
}
