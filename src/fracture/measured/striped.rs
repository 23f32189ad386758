use super::border::Border;
use super::strip::Strip;

/// A band is striped if its slopes point one way by more than this (0: any way, 1: one way; judgement on drawn faces).
const STRIPED: f64 = 0.62;

/// How much the slopes of what lies before a side's border point one way, 0 to 1.
pub(super) fn one_way(strip: &Strip, border: &Border) -> f64 {
    let mut slopes = [0.0_f64; 3];
    for column in 0..strip.columns {
        let deep = border.quantile(column, 0.5);
        for cell in (0..strip.rows).take_while(|r| *r as f64 + 0.5 < deep).filter_map(|r| strip.at(column, r))
        {
            for (s, v) in slopes.iter_mut().zip(cell.slopes) {
                *s += f64::from(v);
            }
        }
    }
    let total = slopes[0] + slopes[2];
    if total > 0.0 { libm::hypot(slopes[0] - slopes[2], 2.0 * slopes[1]) / total } else { 0.0 }
}

/// Whether a notch or a lip lies along the side, so that it cannot be read.
pub(super) fn striped(strip: &Strip, border: &Border) -> bool {
    one_way(strip, border) > STRIPED
}
