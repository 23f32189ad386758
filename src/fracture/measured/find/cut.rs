use super::look::{KINDS, Look};
use super::shape::Shape;

/// How deep a side may be cut, shares of the way to the opposite side, and in what steps.
const DEPTHS: (f64, f64, f64) = (0.03, 0.42, 0.015);
/// How much deeper one end of a cut may be than the other, the same shares.
const SLANT: f64 = 0.12;
/// Pieces of a cut that are looked at apart; all but a few must show the step.
const PIECES: usize = 14;
const FEW: usize = 2;
/// Width of the bands on both sides of a cut, px of the small picture.
const BAND: f64 = 2.5;
/// Steps of light, shades and texture that can be told (judgement).
const TOLD: [f64; KINDS] = [0.15, 0.01, 0.01, 0.25];
/// The outer side of a smooth rim is a wall if it is this much darker, in those (judgement).
const DARK: f64 = 2.5;
/// Least step that makes a cut, in those.
const LEAST: f64 = 1.5;

/// The shape with one side moved inward to the clearest step that runs from end to end, if there is one: where the
/// border of a core ends before the corners, the edge between a face and a wall beside it does not.
pub(super) fn cut(look: &Look, shape: &Shape, side: usize) -> Option<Shape> {
    let Shape::Four(corners) = shape else { return None };
    let [a, b, c, d] = [0, 1, 2, 3].map(|k| corners[(side + k) % 4]);
    // from a towards d, and from b towards c
    let between = |p: [f64; 2], q: [f64; 2], t: f64| [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
    let (from, to, step) = DEPTHS;
    let count = ((to - from) / step) as usize;
    let mut best: Option<(f64, [f64; 2])> = None;
    for i in 0..=count {
        let first = from + step * i as f64;
        for j in 0..=count {
            let second = from + step * j as f64;
            if (first - second).abs() > SLANT {
                continue;
            }
            let strength = strength(look, between(a, d, first), between(b, c, second));
            if best.is_none_or(|(s, _)| strength > s) {
                best = Some((strength, [first, second]));
            }
        }
    }
    let (strength, [first, second]) = best?;
    if strength < LEAST {
        return None;
    }
    let mut cut = *corners;
    cut[side] = between(a, d, first);
    cut[(side + 1) % 4] = between(b, c, second);
    Some(Shape::Four(cut))
}

/// How much is the least, but for a few pieces, of the step across a line in the direction that most of it has; the
/// inner side must be the rougher one.
fn strength(look: &Look, a: [f64; 2], b: [f64; 2]) -> f64 {
    let length = libm::hypot(b[0] - a[0], b[1] - a[1]);
    if length < 3.0 * PIECES as f64 / 2.0 {
        return 0.0;
    }
    // inward is to the right of a to b as seen, where the rest of the shape lies
    let inward = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
    let mut steps = [[0.0; KINDS]; PIECES];
    for (piece, step) in steps.iter_mut().enumerate() {
        for k in 0..3 {
            let t = 0.03 + 0.94 * (piece as f64 + (f64::from(k) + 0.5) / 3.0) / PIECES as f64;
            let p = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
            for (kind, s) in step.iter_mut().enumerate() {
                let at = |by: f64| look.planes[kind].at(p[0] + by * inward[0], p[1] + by * inward[1]);
                *s += (at(BAND) - at(-BAND)) / (3.0 * TOLD[kind]);
            }
        }
    }
    let mean: [f64; KINDS] =
        std::array::from_fn(|k| steps.iter().map(|s| s[k].clamp(-6.0, 6.0)).sum::<f64>() / PIECES as f64);
    let size = mean.iter().map(|v| v * v).sum::<f64>().sqrt();
    if size <= 0.0 || mean[KINDS - 1] < 0.0 && mean[0] < DARK {
        return 0.0;
    }
    let mut along: Vec<f64> = steps.iter().map(|s| (0..KINDS).map(|k| s[k] * mean[k] / size).sum()).collect();
    along.sort_by(f64::total_cmp);
    along[FEW]
}
