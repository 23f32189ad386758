use super::layout::Layout;
use crate::photo::{Picture, Plane, Shrink};

/// Added to linear light before its logarithm is taken: about three steps of an 8 bit picture (judgement).
const DARK: f32 = 0.001;

/// The face and what is around it, seen square on.
pub(super) struct Flattened {
    /// Logarithm of linear light.
    pub(super) light: Plane,
    /// Share of red and of blue in the light.
    pub(super) shades: [Plane; 2],
}

impl Flattened {
    pub(super) fn of(picture: &Picture, layout: &Layout) -> Self {
        let [width, height] = layout.size();
        let shrink = shrink(layout);
        let factor = shrink.factor() as f64;
        let linear = picture.linear(shrink);
        let rows = rows(layout, factor, linear.height());
        let top = rows.start as f64;
        let count = rows.len();
        let source = linear.rgb(rows).map(|values| Plane { width: linear.width(), height: count, values });
        let mut light = Plane::new(width, height);
        let mut shades = [light.clone(), light.clone()];
        for y in 0..height {
            for x in 0..width {
                let [u, v] = layout.to_photo.map([x as f64 + 0.5, y as f64 + 0.5]);
                let between = source[0].between(u / factor, v / factor - top);
                let [r, g, b] = source.each_ref().map(|plane| between.of(plane) as f32 + DARK);
                let i = y * width + x;
                light.values[i] = (0.2126 * r + 0.7152 * g + 0.0722 * b).ln();
                shades[0].values[i] = r / (r + g + b);
                shades[1].values[i] = b / (r + g + b);
            }
        }
        Self { light, shades }
    }
}

/// Rows of the shrunk photo that the flat picture is made of.
fn rows(layout: &Layout, factor: f64, height: usize) -> std::ops::Range<usize> {
    let [w, h] = layout.size().map(|v| v as f64);
    let y = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]].map(|p| layout.to_photo.map(p)[1] / factor);
    let low = y.iter().copied().fold(f64::INFINITY, f64::min).floor() - 1.0;
    let high = y.iter().copied().fold(f64::NEG_INFINITY, f64::max).ceil() + 1.0;
    let last = height.saturating_sub(1);
    let start = (low.max(0.0) as usize).min(last);
    start..(high.max(0.0) as usize).clamp(start + 1, height.max(start + 1))
}

/// The most that a photo may be shrunk and still show all that the flat picture can.
fn shrink(layout: &Layout) -> Shrink {
    let across = 1.0 / layout.px_of_photo();
    Shrink::by((across + 0.25) as usize).unwrap_or(if across > 2.0 { Shrink::HALF } else { Shrink::NONE })
}
