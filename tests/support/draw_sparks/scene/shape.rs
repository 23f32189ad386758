//! Shapes with soft edges, painted into a frame.

use crate::support::draw_sparks::frame::Frame;
use crate::support::draw_sparks::scene::Texture;

pub(crate) type P = [f64; 2];

/// A shape by its signed distance, px, negative inside.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Shape {
    Disc {
        at: P,
        r: f64,
    },
    Capsule {
        a: P,
        b: P,
        r: f64,
    },
    /// Middle, half sizes, angle rad, rounding.
    Block {
        at: P,
        half: P,
        turn: f64,
        round: f64,
    },
    /// A ring between two angles, rad as seen (y down), half its width.
    Arc {
        at: P,
        r: f64,
        from: f64,
        sweep: f64,
        half: f64,
    },
}

impl Shape {
    fn distance(&self, p: P) -> f64 {
        match *self {
            Shape::Disc { at, r } => (p[0] - at[0]).hypot(p[1] - at[1]) - r,
            Shape::Capsule { a, b, r } => {
                let (u, v) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
                let s = ((u[0] * v[0] + u[1] * v[1]) / (u[0] * u[0] + u[1] * u[1]).max(1e-9)).clamp(0.0, 1.0);
                (v[0] - s * u[0]).hypot(v[1] - s * u[1]) - r
            }
            Shape::Block { at, half, turn, round } => {
                let (sin, cos) = turn.sin_cos();
                let (x, y) = (p[0] - at[0], p[1] - at[1]);
                let dx = (x * cos + y * sin).abs() - half[0] + round;
                let dy = (y * cos - x * sin).abs() - half[1] + round;
                dx.max(0.0).hypot(dy.max(0.0)) + dx.max(dy).min(0.0) - round
            }
            Shape::Arc { at, r, from, sweep, half } => {
                let (x, y) = (p[0] - at[0], p[1] - at[1]);
                let turn = (y.atan2(x) - from).rem_euclid(std::f64::consts::TAU);
                if turn <= sweep {
                    return (x.hypot(y) - r).abs() - half;
                }
                let end = |angle: f64| (x - r * angle.cos()).hypot(y - r * angle.sin());
                end(from).min(end(from + sweep)) - half
            }
        }
    }

    /// Middle and reach of all that it covers.
    fn reach(&self) -> (P, f64) {
        match *self {
            Shape::Disc { at, r } => (at, r),
            Shape::Capsule { a, b, r } => {
                let middle = [a[0].midpoint(b[0]), a[1].midpoint(b[1])];
                (middle, (b[0] - a[0]).hypot(b[1] - a[1]) / 2.0 + r)
            }
            Shape::Block { at, half, .. } => (at, half[0].hypot(half[1])),
            Shape::Arc { at, r, half, .. } => (at, r + half),
        }
    }

    /// Calls with each pixel's index and cover, 0..1.
    pub(crate) fn cover(&self, (w, h): (usize, usize), soft: f64, mut paint: impl FnMut(usize, f32)) {
        let (middle, reach) = self.reach();
        let reach = reach + soft + 1.0;
        let span = |at: f64, end: usize| {
            (
                (at - reach).clamp(0.0, end as f64) as usize,
                (at + reach).ceil().clamp(0.0, end as f64) as usize,
            )
        };
        let ((left, right), (top, bottom)) = (span(middle[0], w), span(middle[1], h));
        for y in top..bottom {
            for x in left..right {
                let d = self.distance([x as f64 + 0.5, y as f64 + 0.5]);
                let s = (0.5 - d / soft.max(1.0)).clamp(0.0, 1.0);
                if s > 0.0 {
                    paint(y * w + x, (s * s * (3.0 - 2.0 * s)) as f32);
                }
            }
        }
    }
}

/// Paint: colour, roughness of its texture, and softness of its edge, px.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Paint {
    pub(crate) rgb: [f32; 3],
    pub(crate) rough: f32,
    pub(crate) soft: f64,
}

impl Frame {
    pub(crate) fn paint(&mut self, shape: &Shape, paint: &Paint, texture: &Texture) {
        let (w, h) = (self.width, self.height);
        let planes = &mut self.planes;
        shape.cover((w, h), paint.soft, |i, cover| {
            let shade = 1.0 + paint.rough * texture.at((i % w) as f32, (i / w) as f32);
            for (plane, c) in planes.iter_mut().zip(paint.rgb) {
                plane[i] += cover * ((c * shade).max(0.0) - plane[i]);
            }
        });
    }

    /// Adds a round glow, falling as a Gaussian of this standard deviation, px.
    pub(crate) fn glow(&mut self, at: P, sigma: f64, rgb: [f32; 3]) {
        let (w, h) = (self.width, self.height);
        let planes = &mut self.planes;
        Shape::Disc { at, r: 3.5 * sigma }.cover((w, h), 1.0, |i, _| {
            let (x, y) = ((i % w) as f64 + 0.5 - at[0], (i / w) as f64 + 0.5 - at[1]);
            let g = (-(x * x + y * y) / (2.0 * sigma * sigma)).exp() as f32;
            for (plane, c) in planes.iter_mut().zip(rgb) {
                plane[i] += g * c;
            }
        });
    }
}
