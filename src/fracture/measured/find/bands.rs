use super::look::Look;
use super::shape::Shape;
use crate::photo::Plane;

/// How far beside the outline a band lies, share of the smaller extent, and its least, px of the small picture.
const BESIDE: f64 = 0.05;
const LEAST: f64 = 2.5;
/// Places along a side, and sides of a round face.
const PLACES: usize = 24;
const ARCS: usize = 12;

/// What lies just inside and just outside each side of a shape, each the mean of a plane.
pub(super) struct Bands {
    pub(super) inside: Vec<f64>,
    pub(super) outside: Vec<f64>,
}

impl Bands {
    pub(super) fn of(plane: &Plane, shape: &Shape) -> Self {
        let beside = (BESIDE * shape.extent()).max(LEAST);
        let mut bands = Self { inside: Vec::new(), outside: Vec::new() };
        for side in shape.sides(ARCS, PLACES) {
            let mean = |by: f64| {
                let values: Vec<f64> = side
                    .iter()
                    .map(|(p, inward)| [p[0] + by * inward[0], p[1] + by * inward[1]])
                    .filter(|p| {
                        p[0] >= 0.0
                            && p[1] >= 0.0
                            && p[0] <= plane.width as f64
                            && p[1] <= plane.height as f64
                    })
                    .map(|p| plane.at(p[0], p[1]))
                    .collect();
                // the lower half counts: a side is only as good as its worse half
                (values.iter().sum::<f64>() / values.len().max(1) as f64, values.len())
            };
            let (inside, _) = mean(beside);
            let (outside, seen) = mean(-beside);
            bands.inside.push(inside);
            // past the frame nothing is known
            bands.outside.push(if seen * 2 > PLACES { outside } else { f64::NAN });
        }
        bands
    }
}

/// Texture of the look inside a shape: the middle value.
pub(super) fn middle(plane: &Plane, look: &Look, shape: &Shape, inside: bool) -> f64 {
    let mut values: Vec<f32> = Vec::new();
    for y in (0..look.height).step_by(2) {
        for x in (0..look.width).step_by(2) {
            if shape.holds([x as f64 + 0.5, y as f64 + 0.5]) == inside {
                values.push(plane.values[y * look.width + x]);
            }
        }
    }
    if values.is_empty() {
        return 0.0;
    }
    let at = values.len() / if inside { 2 } else { 3 };
    f64::from(*values.select_nth_unstable_by(at, f32::total_cmp).1)
}
