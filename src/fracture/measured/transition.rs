use super::regions::Regions;
use super::strip::Strip;

/// Levels between the core's word and the case's at which a transition begins and ends.
const LEVELS: [f64; 2] = [0.1, 0.9];
/// Rows on both sides of the border that are looked at, and the cells that a row needs.
const ROWS: usize = 60;
const CELLS: f64 = 20.0;

/// Rows over which cells stop speaking for case and speak for core, along all borders together: from a tenth to nine
/// tenths of the way. What a cell is wide is in it, so it is an upper bound. `None` without a border.
pub(super) fn transition(strips: &[Strip], regions: &Regions) -> Option<f64> {
    let mut sums = vec![[0.0_f64; 2]; 2 * ROWS];
    for ((strip, border), says) in strips.iter().zip(&regions.borders).zip(&regions.says) {
        for column in 0..strip.columns {
            let edge = border.quantile(column, 0.5).round() as usize;
            // the core must reach as far as the case, or the profile is not the border's
            for row in edge.saturating_sub(ROWS)..(edge + ROWS).min(strip.rows) {
                let says = says[column * strip.rows + row];
                if !says.is_nan() {
                    let sum = &mut sums[row + ROWS - edge];
                    sum[0] += 1.0;
                    sum[1] += f64::from(says);
                }
            }
        }
    }
    let profile: Vec<(f64, f64)> = sums
        .iter()
        .enumerate()
        .filter(|(_, [n, _])| *n >= CELLS)
        .map(|(i, [n, sum])| (i as f64 - ROWS as f64, sum / n))
        .collect();
    let end = |of: &mut dyn Iterator<Item = &(f64, f64)>| {
        let some: Vec<f64> = of.map(|(_, v)| *v).collect();
        (some.len() > 2).then(|| some.iter().sum::<f64>() / some.len() as f64)
    };
    let third = profile.iter().filter(|(at, _)| *at < 0.0).count() / 2;
    let case = end(&mut profile.iter().take(third))?;
    let core = end(&mut profile.iter().rev().take(third))?;
    let crossing = |level: f64| {
        let wanted = core + level * (case - core);
        profile.windows(2).find_map(|w| {
            let ((x0, y0), (x1, y1)) = (w[0], w[1]);
            (y0 >= wanted && y1 < wanted).then(|| x0 + (y0 - wanted) / (y0 - y1) * (x1 - x0))
        })
    };
    let [low, high] = LEVELS.map(crossing);
    Some((low? - high?).abs())
}
