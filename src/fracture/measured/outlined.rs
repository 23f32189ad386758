use super::ends::Ends;
use super::find::shape::Shape;
use super::flattened::Flattened;
use super::layout::{Flat, Layout, MARGIN};
use super::rim::{Offsets, Rim, STEP, sharpened};
use super::sight::Sight;
use crate::net::UNet;
use crate::photo::Picture;
use std::f64::consts::TAU;

/// Longest side of the flat picture, px (judgement: a hundredth of a millimetre on a usual coupon).
pub(super) const LONGEST: f64 = 900.0;
/// The same while the outline is still looked for, px (judgement).
const FIRST: f64 = 500.0;
/// How much around the first outline is looked at, one time after the other, shares of the smaller extent (judgement).
const AROUND: [f64; 2] = [0.3, 0.2];

/// A face whose outline shrinks to less of its first extent was none (judgement).
const LEAST_LEFT: f64 = 0.4;

/// A round face whose ellipse is narrower would be seen at more than half a right angle: it is none (judgement).
const LEAST_ROUND: f64 = 0.7;

/// A face flattened, with its outline.
pub(super) struct Outlined {
    pub(super) layout: Layout,
    pub(super) face: Flattened,
    pub(super) rim: Rim,
}

impl Outlined {
    /// From an outline that was looked at once: looked at again, then where light and shades step most. So near it may see
    /// too little ground to tell a face from it: then the first look stands.
    pub(super) fn of(picture: &Picture, first: &Ended, net: &UNet) -> Option<Self> {
        let again = Ended::of(picture, &first.shape, AROUND[1], net);
        let layout = laid(again.as_ref().map_or(&first.shape, |again| &again.shape), LONGEST, MARGIN)?;
        let again = moved(&layout, &sharpened(&Flattened::of(picture, &layout), &layout))?;
        Some(Self::stepped(picture, laid(&again, LONGEST, MARGIN)?))
    }

    /// Laid flat, its outline where light and shades step most.
    pub(super) fn stepped(picture: &Picture, layout: Layout) -> Self {
        let face = Flattened::of(picture, &layout);
        let rim = Rim::of(sharpened(&face, &layout), &layout);
        Self { layout, face, rim }
    }
}

/// A shape laid anew where the network no longer sees a face.
pub(super) struct Ended {
    pub(super) shape: Shape,
    /// How plainly it ends there, on its least plain side: natural logarithm of the odds.
    pub(super) plain: f64,
}

impl Ended {
    /// The first look at a shape; `None` if no face is left of it.
    pub(super) fn first(picture: &Picture, shape: &Shape, net: &UNet) -> Option<Self> {
        Self::of(picture, shape, AROUND[0], net)
    }

    fn of(picture: &Picture, shape: &Shape, around: f64, net: &UNet) -> Option<Self> {
        let layout = laid(shape, FIRST, around)?;
        let ends = Ends::of(&Sight::of_flat(&Flattened::of(picture, &layout), net), &layout);
        let left = moved(&layout, &ends.offsets)?;
        let is_face = left.extent() >= LEAST_LEFT * shape.extent() && left.roundness() >= LEAST_ROUND;
        is_face.then_some(Self { shape: left, plain: ends.plain })
    }
}

/// The layout of a shape in the photo, its flat picture at most `longest` px long, with so much around it.
pub(super) fn laid(shape: &Shape, longest: f64, margin: f64) -> Option<Layout> {
    match shape {
        Shape::Four(c) => {
            let long = |i: usize| libm::hypot(c[(i + 1) % 4][0] - c[i][0], c[(i + 1) % 4][1] - c[i][1]);
            let (w, h) = (f64::midpoint(long(0), long(2)), f64::midpoint(long(1), long(3)));
            let by = (longest / w.max(h)).min(1.0);
            Layout::four(c, w * by, h * by, margin)
        }
        Shape::Round { centre, axes } => {
            let ends = [0, 1, 0, 1].map(|k| axes[k]);
            let sign = [1.0, 1.0, -1.0, -1.0];
            let ends: [[f64; 2]; 4] =
                std::array::from_fn(|i| [centre[0] + sign[i] * ends[i][0], centre[1] + sign[i] * ends[i][1]]);
            let d = 2.0 * axes.iter().map(|a| libm::hypot(a[0], a[1])).fold(0.0, f64::max);
            Layout::round(&ends, d * (longest / d).min(1.0), margin)
        }
    }
}

/// The ideal outline laid along the true one, in the photo.
fn moved(layout: &Layout, offsets: &Offsets) -> Option<Shape> {
    match layout.flat {
        Flat::Four(_) => {
            let lines: Vec<[[f64; 2]; 2]> = (0..4)
                .map(|side| {
                    let length = layout.length(side);
                    let (at, slope) = line(&offsets[side]);
                    [0.0, length].map(|s| layout.place(side, s, at + slope * s / STEP))
                })
                .collect();
            let mut corners = [[0.0; 2]; 4];
            for side in 0..4 {
                let (a, b) = (lines[(side + 3) % 4], lines[side]);
                corners[side] =
                    layout.to_photo.map(super::find::quadrangle::meet((a[0], a[1]), (b[0], b[1]))?);
            }
            Some(Shape::Four(corners))
        }
        Flat::Round(d) => {
            // offset = a + b cos t + c sin t + e cos 2t + f sin 2t, trimmed
            let fit = harmonics(&offsets[0]);
            let r = d / 2.0;
            let m = layout.margin + r;
            // ellipse in the flat picture: its ends by the fitted radius; photo by the map
            let radius = |t: f64| {
                r - (fit[0]
                    + fit[1] * libm::cos(t)
                    + fit[2] * libm::sin(t)
                    + fit[3] * libm::cos(2.0 * t)
                    + fit[4] * libm::sin(2.0 * t))
            };
            let points: Vec<[f64; 2]> = (0..72)
                .map(|i| {
                    let t = TAU * f64::from(i) / 72.0;
                    layout.to_photo.map([m + radius(t) * libm::cos(t), m + radius(t) * libm::sin(t)])
                })
                .collect();
            Some(super::find::shape::ellipse_of(&points))
        }
    }
}

/// A line along offsets, least absolute distances by weights; the ends, where corners are round, count less.
fn line(offsets: &[f64]) -> (f64, f64) {
    let n = offsets.len() as f64;
    let (mut at, mut slope) = (0.0, 0.0);
    for _ in 0..15 {
        let (mut w0, mut ws, mut wd, mut wss, mut wsd) = (1e-9, 0.0, 0.0, 1e-9, 0.0);
        for (i, d) in offsets.iter().enumerate() {
            let s = i as f64 + 0.5;
            if s < 0.06 * n || s > 0.94 * n {
                continue;
            }
            let w = 1.0 / ((d - at - slope * s).abs() + 0.5);
            w0 += w;
            ws += w * s;
            wd += w * d;
            wss += w * s * s;
            wsd += w * s * d;
        }
        let det = w0 * wss - ws * ws;
        slope = (w0 * wsd - ws * wd) / det;
        at = (wd - slope * ws) / w0;
    }
    (at, slope)
}

/// First and second harmonics of offsets around a ring, by least squares with far ones left out.
fn harmonics(offsets: &[f64]) -> [f64; 5] {
    let n = offsets.len();
    let basis = |i: usize| {
        let t = TAU * (i as f64 + 0.5) / n as f64;
        [1.0, libm::cos(t), libm::sin(t), libm::cos(2.0 * t), libm::sin(2.0 * t)]
    };
    let mut fit = [0.0; 5];
    for round in 0..10 {
        // gradient steps of a weighted fit: the basis is orthogonal when weights are even
        let mut sums = [0.0; 5];
        let mut norm = [1e-9; 5];
        for (i, d) in offsets.iter().enumerate() {
            let b = basis(i);
            let off = d - (0..5).map(|k| fit[k] * b[k]).sum::<f64>();
            let w = if round == 0 { 1.0 } else { 1.0 / (off.abs() + 0.5) };
            for k in 0..5 {
                sums[k] += w * b[k] * off;
                norm[k] += w * b[k] * b[k];
            }
        }
        for k in 0..5 {
            fit[k] += sums[k] / norm[k];
        }
    }
    fit
}
