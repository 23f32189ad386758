use super::blur::boxed;
use super::border::Border;
use super::flattened::Flattened;
use super::layout::Layout;
use crate::photo::Plane;

/// Length along a side that shares one place of the outline, px of the flat picture.
pub(super) const STEP: f64 = 3.0;
/// Outermost px of the face that are not read: focus and resampling mix the ground into them (judgement).
const EDGE: usize = 2;
/// How far the outline moves over one px along it, px (judgement).
const SLOPE: f64 = 0.12;
/// How far from the first outline the sharper one may lie, and how wide the bands are that it parts: shares of the
/// face's smaller extent (judgement).
const NEAR: f64 = 0.03;
const BAND: f64 = 0.012;
/// How much a step counts that is as strong as usual (judgement).
const STRENGTH: f64 = 0.25;
/// Steps of light and shades that can be told (judgement).
const TOLD: [f64; 3] = [0.15, 0.01, 0.01];

/// How far the outline lies below each side's ideal line, px at steps of [`STEP`].
pub(super) type Offsets = Vec<Vec<f64>>;

/// Those of the ideal outline.
pub(super) fn ideal(layout: &Layout) -> Offsets {
    (0..layout.sides()).map(|s| vec![0.0; (layout.length(s) / STEP).ceil().max(1.0) as usize]).collect()
}

/// The ideal outline laid anew where light and shades step most, no farther off than [`NEAR`].
pub(super) fn sharpened(face: &Flattened, layout: &Layout) -> Offsets {
    let size = layout.reach(0).min(layout.reach(layout.sides() - 1)) * 2.0;
    let near = (NEAR * size).max(3.0);
    let wide = (BAND * size).max(2.0);
    let rows = (2.0 * near) as usize;
    let of_side = |(side, offsets): (usize, Vec<f64>)| {
        let columns = offsets.len();
        let steps: Vec<f64> = (0..columns)
            .flat_map(|column| {
                let along = (column as f64 + 0.5) * STEP;
                let from = offsets[column] - near;
                (0..=rows).map(move |row| (along, from + row as f64))
            })
            .map(|(along, deep)| step(face, layout, side, along, deep, wide))
            .collect();
        let usual = steps.iter().sum::<f64>() / steps.len().max(1) as f64;
        let says = |column: usize, row: usize| {
            let at = |row: usize| {
                let off = (row as f64 - near) / (near / 2.0);
                let strength = (steps[column * (rows + 1) + row] / usual.max(1e-9)).min(8.0);
                STRENGTH * strength - 0.5 * off * off * STRENGTH
            };
            at(row + 1) - at(row)
        };
        let border = Border::of(columns, rows, SLOPE * STEP, layout.sides() == 1, says);
        (0..columns).map(|c| offsets[c] - near + border.quantile(c, 0.5)).collect()
    };
    ideal(layout).into_iter().enumerate().map(of_side).collect()
}

/// The true outline of the face.
pub(super) struct Rim {
    offsets: Offsets,
    /// 1 on the face but for its outermost px, where light of the ground is mixed in; 0 elsewhere.
    pub(super) inner: Plane,
}

impl Rim {
    pub(super) fn of(offsets: Offsets, layout: &Layout) -> Self {
        let [width, height] = layout.size();
        let mut rim = Self { offsets, inner: Plane::new(width, height) };
        let mut mask = Plane::new(width, height);
        for y in 0..height {
            for x in 0..width {
                let p = [x as f64 + 0.5, y as f64 + 0.5];
                let inside = (0..layout.sides()).all(|side| {
                    let [along, deep] = layout.on_side(side, p);
                    deep >= rim.offset(side, along)
                });
                mask.values[y * width + x] = f32::from(u8::from(inside));
            }
        }
        let near = boxed(&mask, EDGE);
        for (inner, near) in rim.inner.values.iter_mut().zip(&near.values) {
            *inner = f32::from(u8::from(*near > 0.999));
        }
        rim
    }

    /// How far below the side's ideal line the outline lies there, px.
    pub(super) fn offset(&self, side: usize, along: f64) -> f64 {
        let offsets = &self.offsets[side];
        offsets[((along / STEP).max(0.0) as usize).min(offsets.len() - 1)]
    }
}

/// How much light and shades differ just inside and just outside a place of a side, squared, in steps that can be told.
fn step(face: &Flattened, layout: &Layout, side: usize, along: f64, deep: f64, wide: f64) -> f64 {
    let mean = |by: f64| {
        let mut sums = [0.0; 3];
        for j in 0..4 {
            let d = deep + by * (0.25 + 0.75 * (f64::from(j) + 0.5) / 4.0) * wide;
            let [x, y] = layout.place(side, along, d);
            let between = face.light.between(x, y);
            for (sum, plane) in sums.iter_mut().zip([&face.light, &face.shades[0], &face.shades[1]]) {
                *sum += between.of(plane) / 4.0;
            }
        }
        sums
    };
    let (inside, outside) = (mean(1.0), mean(-1.0));
    (0..3).map(|k| ((inside[k] - outside[k]) / TOLD[k]).powi(2).min(30.0)).sum()
}
