use crate::photo::{Picture, Shrink};
use crate::stats::quantile;

/// Squares across the longer side of a photo, at least: noise of one pixel is no colour (judgement).
const SQUARES: usize = 100;
/// Squares darker than this share of the bright ones have no colour that could be told (judgement).
const DARK: f64 = 0.02;
/// Shares of squares that count as bright, and as the least red (judgements).
const BRIGHT: f64 = 0.95;
const LEAST: f64 = 0.02;

/// Share of red in white light, and in none.
const WHITE: f64 = 1.0 / 3.0;

/// The least share of red in the light of a photo: a third under white light, more where a warm lamp shines on all there is.
pub(super) fn least_red(picture: &Picture) -> f64 {
    let longest = picture.width().max(picture.height());
    let shrink = Shrink::by((longest / SQUARES).clamp(1, 8)).unwrap_or(Shrink::NONE);
    let linear = picture.linear(shrink);
    let side = (linear.width().max(linear.height()) / SQUARES).max(1);
    let mut squares = Vec::new();
    for top in (0..linear.height()).step_by(side) {
        let rows = top..(top + side).min(linear.height());
        let mut sums = vec![[0.0_f64; 3]; linear.width().div_ceil(side)];
        for (k, colour) in linear.rgb(rows).iter().enumerate() {
            for row in colour.chunks(linear.width()) {
                for (sum, run) in sums.iter_mut().zip(row.chunks(side)) {
                    sum[k] += run.iter().map(|v| f64::from(*v)).sum::<f64>();
                }
            }
        }
        squares.extend(sums.into_iter().map(|[r, g, b]| [r, r + g + b]));
    }
    let bright = quantile(squares.iter().map(|[_, all]| *all).collect(), BRIGHT);
    let seen = squares.iter().filter(|[_, all]| *all > DARK * bright);
    let reds: Vec<f64> = seen.map(|[r, all]| r / all).collect();
    if reds.is_empty() { WHITE } else { quantile(reds, LEAST) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::{Channels, Samples};

    /// A grey ground with something of another colour on a tenth of it, and shadows whose colour is noise.
    fn least(ground: [u8; 3], thing: [u8; 3]) -> f64 {
        let (w, h) = (400, 300);
        let pixel = |i: usize| match (i % w, i / w) {
            (x, _) if x < 40 => thing,
            (x, _) if x > 380 => [0, 3, 1],
            _ => ground,
        };
        let samples = Samples::Eight((0..w * h).flat_map(pixel).collect());
        least_red(&Picture::new(w, h, Channels::Rgb, samples).unwrap())
    }

    #[test]
    fn a_warm_lamp_reddens_all_and_rust_only_itself() {
        let (grey, rust, cold) = ([120, 120, 120], [150, 90, 60], [90, 120, 150]);
        assert!((least(grey, rust) - 1.0 / 3.0).abs() < 1e-3, "rust on grey under white light");
        // shares of red by IEC 61966-2-1: 160, 130, 90 are 0.352, 0.223, 0.102
        assert!((least([160, 130, 90], rust) - 0.352 / 0.677).abs() < 3e-3, "a warm lamp");
        assert!(least([160, 130, 90], cold) < 0.25, "something cold beside");
    }

    #[test]
    fn a_small_or_a_black_picture_has_a_number_too() {
        let of = |w: usize, h: usize, v: u8| {
            least_red(&Picture::new(w, h, Channels::Rgb, Samples::Eight(vec![v; 3 * w * h])).unwrap())
        };
        assert!((of(1, 1, 90) - 1.0 / 3.0).abs() < 1e-6);
        assert!((of(64, 5, 0) - WHITE).abs() < 1e-12, "black");
    }
}
