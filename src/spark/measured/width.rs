use super::fit::distance;
use super::piece::Piece;
use super::scene::linear;
use super::tiles::quantile;
use crate::photo::Plane;

/// Lines that are measured: so many of the brightest, at least so long, px, and so strong.
const MOST: usize = 150;
const LONG: usize = 16;
const STRONG: f64 = 8.0;
/// Longer lines weigh no more than one of this length, px.
const WEIGHED: f64 = 60.0;
/// Fewest places measured for an answer.
const FEWEST: usize = 6;
/// Farthest look to either side, in steps, and the step, px.
const STEPS: usize = 48;
const STEP: f64 = 0.25;
/// Light has risen again, past the valley, by this share of the line's height.
const RISEN: f64 = 0.25;
/// A valley is at least so much darker than the line, as a share.
const VALLEY: f64 = 0.6;

/// Full width at half its brightness of a usual bright line, px; `None`: too few lines stand clear.
pub(super) fn line_width(pieces: &[Piece], plane: &Plane) -> Option<f64> {
    let weight = |p: &&Piece| p.mean_strength() * p.length().min(WEIGHED);
    let mut order: Vec<&Piece> =
        pieces.iter().filter(|p| p.points.len() >= LONG && p.mean_strength() > STRONG).collect();
    order.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    let places = order
        .iter()
        .take(MOST)
        .flat_map(|piece| [1, 2, 3].map(|quarter| width_at(piece, piece.points.len() * quarter / 4, plane)));
    let mut widths: Vec<f32> = places.flatten().map(|w| w as f32).collect();
    (widths.len() >= FEWEST).then(|| f64::from(quantile(&mut widths, 0.5)))
}

/// Across one point of a line: from where it is half as bright as its top above the valley beside it on one side to
/// the same on the other.
fn width_at(piece: &Piece, i: usize, plane: &Plane) -> Option<f64> {
    let (before, after) = (piece.points[i - 3], piece.points[i + 3]);
    let length = distance(before, after).max(1e-9);
    let normal = [-(after[1] - before[1]) / length, (after[0] - before[0]) / length];
    let p = piece.points[i];
    let light = |step: f64| {
        let off = step * STEP;
        linear(plane.at(p[0] + off * normal[0], p[1] + off * normal[1]))
    };
    let top = (-4..=4).map(|s| light(f64::from(s))).fold(0.0, f64::max);
    let half_width = |sense: f64| {
        let profile: Vec<f64> = (0..=STEPS).map(|s| light(sense * s as f64)).collect();
        let mut low = top;
        for value in &profile {
            low = low.min(*value);
            if *value > low + RISEN * (top - low) && low < VALLEY * top {
                break;
            }
        }
        if low > VALLEY * top {
            return None;
        }
        let half = f64::midpoint(top, low);
        let s = (1..=STEPS).find(|s| profile[*s] < half)?;
        let (a, b) = (profile[s - 1], profile[s]);
        Some(STEP * (s as f64 - 1.0 + ((a - half) / (a - b).max(1e-12)).clamp(0.0, 1.0)))
    };
    Some(half_width(-1.0)? + half_width(1.0)?)
}
