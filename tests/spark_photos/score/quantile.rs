//! Quantiles, with and without censoring, and rank correlation.

/// A quantile of values, linear between order statistics (R. J. Hyndman and Y. Fan, *Am. Stat.* 50 (1996)
/// 361, type 7). `None` of nothing.
pub(crate) fn quantile(values: &[f64], share: f64) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let at = share * (sorted.len().checked_sub(1)? as f64);
    let low = at.floor() as usize;
    let high = (low + 1).min(sorted.len() - 1);
    Some(sorted[low] + (at - low as f64) * (sorted[high] - sorted[low]))
}

/// The value at which the Kaplan-Meier estimate of survival (E. L. Kaplan and P. Meier, *J. Am. Stat.
/// Assoc.* 53 (1958) 457) first falls to `1 - share` or below; the flag says that a length is censored.
/// `None` if it never does.
pub(crate) fn kaplan_meier(lengths: &[(f64, bool)], share: f64) -> Option<f64> {
    let mut sorted = lengths.to_vec();
    // at one length, ends count before censored ones
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut survive = 1.0;
    for (i, (length, censored)) in sorted.iter().enumerate() {
        let at_risk = (sorted.len() - i) as f64;
        if !censored {
            survive *= 1.0 - 1.0 / at_risk;
            if survive <= 1.0 - share + 1e-12 {
                return Some(*length);
            }
        }
    }
    None
}

/// Spearman's rank correlation; ties share their mean rank. `None` below three pairs or without spread.
pub(crate) fn spearman(pairs: &[(f64, f64)]) -> Option<f64> {
    if pairs.len() < 3 {
        return None;
    }
    let (x, y): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
    let (x, y) = (ranks(&x), ranks(&y));
    let mean = (pairs.len() + 1) as f64 / 2.0;
    let sum = |f: &dyn Fn(usize) -> f64| (0..pairs.len()).map(f).sum::<f64>();
    let xy = sum(&|i| (x[i] - mean) * (y[i] - mean));
    let xx = sum(&|i| (x[i] - mean).powi(2));
    let yy = sum(&|i| (y[i] - mean).powi(2));
    (xx > 0.0 && yy > 0.0).then(|| xy / (xx * yy).sqrt())
}

fn ranks(values: &[f64]) -> Vec<f64> {
    let rank = |v: f64| {
        let below = values.iter().filter(|w| **w < v).count();
        let equal = values.iter().filter(|w| **w == v).count();
        below as f64 + (equal + 1) as f64 / 2.0
    };
    values.iter().map(|v| rank(*v)).collect()
}
