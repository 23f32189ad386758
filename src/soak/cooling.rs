//! Where a log begins to cool, and cooling that nobody logged.

/// Temperature of the shop, K.
pub(crate) const COLD_K: f64 = 293.15;
/// Cooling that was not logged is followed down to this, K; nothing moves there any more.
pub(super) const COOLED_K: f64 = 873.15;
/// A log is looked at in blocks of this length, s.
const BLOCK_S: f64 = 300.0;
/// From block to block a cooling log falls by at least this, K: 1 K/min (judgement). A slower fall
/// counts as soak: the pack keeps up with it.
const FALL_K: f64 = 5.0;
/// And in all by at least this, K (judgement): less is the swing of a controller.
const WHOLE_FALL_K: f64 = 60.0;
/// The last point this near to the heat before the fall is where cooling starts, K.
const NEAR_K: f64 = 10.0;
/// "Cold" after the time that the user gave: this share of the excess over the shop is left
/// (judgement: 5 % of 900 K is 45 K, warm to the hand).
const COLD_SHARE: f64 = 0.05;
/// A log of more readings than this is averaged down to as many: no piece of steel follows them.
const MOST_POINTS: usize = 5000;

/// Index of the point where the last fall of a log begins; `None` if it ends at heat. What comes
/// after the log has gone cold is not looked at.
pub(super) fn cooling_start(points: &[(f64, f64)]) -> Option<usize> {
    let hot_end = points.iter().rposition(|p| p.1 >= COOLED_K)?;
    let end = (hot_end + 1).min(points.len() - 1);
    let means = block_means(&points[..=end]);
    let falling = means.windows(2).rev().take_while(|w| w[0] - w[1] >= FALL_K).count();
    let first = means.len() - 1 - falling;
    let whole = means[first].max(points[hot_end].1) - points[end].1;
    // a fall too fast for the blocks: from heat to cold within one of them
    let at_once = falling == 0 && points[hot_end].1 - points[end].1 >= WHOLE_FALL_K;
    if (falling == 0 || whole < WHOLE_FALL_K) && !at_once {
        return None;
    }
    let heat = means[first.saturating_sub(1)].max(means[first]).min(points[hot_end].1.max(means[first]));
    points[..=end].iter().rposition(|p| p.1 >= heat - NEAR_K)
}

/// Means of the temperature over blocks of equal time, the last one ending with the log.
fn block_means(points: &[(f64, f64)]) -> Vec<f64> {
    let (start, end) = (points[0].0, points[points.len() - 1].0);
    let blocks = (((end - start) / BLOCK_S).ceil() as usize).clamp(1, 1 << 20);
    let length = (end - start) / blocks as f64;
    let mut sums = vec![0.0; blocks];
    for w in points.windows(2) {
        let (mut t, to) = (w[0].0, w[1].0);
        while t < to {
            let borders = ((t - start) / length).floor() + 1.0;
            let border = start + length * borders;
            // rounding must not stand still
            let border = if border > t { border } else { start + length * (borders + 1.0) };
            let next = border.min(to);
            let middle = f64::midpoint(t, next);
            let block = (((middle - start) / length) as usize).min(blocks - 1);
            let kelvin = w[0].1 + (w[1].1 - w[0].1) * (middle - w[0].0) / (w[1].0 - w[0].0);
            sums[block] += (next - t) * kelvin;
            t = next;
        }
    }
    sums.iter().map(|s| s / length).collect()
}

/// The log itself, or if it is very long, its means over so many equal times, with its two ends.
pub(super) fn thinned(points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    let n = points.len();
    if n <= MOST_POINTS {
        return points;
    }
    let (start, end) = (points[0].0, points[n - 1].0);
    let length = (end - start) / MOST_POINTS as f64;
    let mut thin = vec![points[0]];
    let (mut sum, mut count, mut bin) = ((0.0, 0.0), 0.0, 0);
    for p in &points[1..n - 1] {
        let here = (((p.0 - start) / length) as usize).min(MOST_POINTS - 1);
        if here != bin && count > 0.0 {
            thin.push((sum.0 / count, sum.1 / count));
            (sum, count) = ((0.0, 0.0), 0.0);
        }
        bin = here;
        sum = (sum.0 + p.0, sum.1 + p.1);
        count += 1.0;
    }
    if count > 0.0 {
        thin.push((sum.0 / count, sum.1 / count));
    }
    thin.push(points[n - 1]);
    thin
}

/// ln of the excess over the shop, before over after; `to` `None`: cold.
pub(super) fn fall(from: f64, to: Option<f64>) -> f64 {
    let left = match to {
        Some(to) if from > COLD_K => (to - COLD_K) / (from - COLD_K),
        _ => COLD_SHARE,
    };
    // a pack does not warm itself: at least 1 % falls
    -libm::log(left.clamp(1e-3, 0.99))
}

/// Newton's law of cooling, the excess over the shop falling by e in `constant` s, from `start` for
/// `time` s or until nothing moves any more. Source: lumped cooling, any heat transfer text (common
/// practice).
pub(super) fn newton(start: (f64, f64), constant: f64, time: Option<f64>) -> Vec<(f64, f64)> {
    let until = time.unwrap_or_else(|| constant * fall(start.1, Some(COOLED_K.min(start.1))));
    let parts = 32;
    (0..=parts)
        .map(|i| {
            let t = until * f64::from(i) / f64::from(parts);
            (start.0 + t, COLD_K + (start.1 - COLD_K) * libm::exp(-t / constant))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn celsius(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
        points.iter().map(|(min, c)| (min * 60.0, c + 273.15)).collect()
    }

    /// Heating, 90 min at 920 °C, then Newton's cooling logged for so many minutes, swinging by `swing` K.
    fn run(cooling: f64, swing: f64) -> Vec<(f64, f64)> {
        let points: Vec<(f64, f64)> = (0..=(135 + cooling as i32))
            .map(|m| {
                let m = f64::from(m);
                let wave = swing * libm::sin(m * 0.7);
                let c = if m < 45.0 {
                    20.0 + 20.0 * m
                } else if m <= 135.0 {
                    920.0 + wave
                } else {
                    20.0 + 900.0 * libm::exp(-(m - 135.0) / 60.0)
                };
                (m, c)
            })
            .collect();
        celsius(&points)
    }

    #[test]
    fn finds_the_fall_however_long_the_tail() {
        for tail in [30.0, 120.0, 300.0, 900.0] {
            for swing in [0.0, 8.0, 12.0] {
                let points = run(tail, swing);
                let i = cooling_start(&points).unwrap();
                let minutes = points[i].0 / 60.0;
                assert!((128.0..=137.0).contains(&minutes), "tail {tail}, swing {swing}: {minutes} min");
            }
        }
    }

    #[test]
    fn swings_and_drifts_are_no_cooling() {
        for swing in [0.0, 8.0, 15.0] {
            assert_eq!(cooling_start(&run(0.0, swing)), None, "{swing}");
        }
        let drift = celsius(&[(0.0, 20.0), (45.0, 920.0), (135.0, 860.0)]);
        assert_eq!(cooling_start(&drift), None);
        let dip = celsius(&[(0.0, 20.0), (45.0, 900.0), (60.0, 800.0), (75.0, 900.0), (120.0, 900.0)]);
        assert_eq!(cooling_start(&dip), None);
    }

    #[test]
    fn a_fall_faster_than_a_block_counts() {
        let points = celsius(&[(0.0, 20.0), (45.0, 900.0), (90.0, 900.0), (91.0, 100.0)]);
        assert_eq!(cooling_start(&points), Some(2));
        let falling = celsius(&[(0.0, 900.0), (60.0, 500.0)]);
        assert_eq!(cooling_start(&falling), Some(0));
    }

    #[test]
    fn a_very_long_log_keeps_its_mean() {
        let points: Vec<(f64, f64)> = (0..200_000)
            .map(|i| (f64::from(i) * 0.1, 1173.15 + if i % 2 == 0 { 9.0 } else { -9.0 }))
            .collect();
        let thin = thinned(points);
        assert!(thin.len() <= MOST_POINTS + 2);
        assert!(thin[1..thin.len() - 1].iter().all(|p| (p.1 - 1173.15).abs() < 1.0));
        assert!(thin.windows(2).all(|w| w[1].0 > w[0].0));
    }
}
