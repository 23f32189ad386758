//! Pictures that lie over each other, and what a lens does to each.

use crate::support::drawing::frame::{Frame, blur_plane};

/// A picture with holes. Its light is already multiplied by its cover.
pub(crate) struct Layer {
    pub(crate) light: Frame,
    /// 0 open to 1 covered.
    pub(crate) cover: Vec<f32>,
}

impl Layer {
    pub(crate) fn new(width: usize, height: usize) -> Self {
        Self { light: Frame::new(width, height, [0.0; 3]), cover: vec![0.0; width * height] }
    }

    /// Lays a colour over a pixel.
    pub(crate) fn put(&mut self, k: usize, rgb: [f32; 3], cover: f32) {
        for (plane, c) in self.light.planes.iter_mut().zip(rgb) {
            plane[k] += cover * (c - plane[k]);
        }
        self.cover[k] += cover * (1.0 - self.cover[k]);
    }

    /// Out of focus: standard deviation, px.
    pub(crate) fn blur(&mut self, sigma: f64) {
        let (w, h) = (self.light.width, self.light.height);
        for plane in self.light.planes.iter_mut().chain([&mut self.cover]) {
            soften(plane, w, h, sigma);
        }
    }

    /// Lays this over a picture.
    pub(crate) fn over(&self, below: &mut Frame) {
        for (to, from) in below.planes.iter_mut().zip(&self.light.planes) {
            for ((t, f), c) in to.iter_mut().zip(from).zip(&self.cover) {
                *t = *t * (1.0 - c) + f;
            }
        }
    }
}

/// Gaussian blur, exact where it is small and by boxes where it is wide.
pub(crate) fn soften(plane: &mut Vec<f32>, w: usize, h: usize, sigma: f64) {
    if sigma > 3.0 {
        return blur_plane(plane, w, h, sigma);
    }
    if sigma < 0.15 {
        return;
    }
    let reach = (3.0 * sigma).ceil() as usize;
    let weights: Vec<f32> =
        (0..=reach).map(|i| (-(i as f64).powi(2) / (2.0 * sigma * sigma)).exp() as f32).collect();
    let whole = weights[0] + 2.0 * weights[1..].iter().sum::<f32>();
    let weights: Vec<f32> = weights.into_iter().map(|v| v / whole).collect();
    let source = plane.clone();
    for (row, from) in plane.chunks_exact_mut(w).zip(source.chunks_exact(w)) {
        for (x, out) in row.iter_mut().enumerate() {
            let pair = |(d, v): (usize, &f32)| v * (from[x.saturating_sub(d)] + from[(x + d).min(w - 1)]);
            *out = weights[0] * from[x] + weights.iter().enumerate().skip(1).map(pair).sum::<f32>();
        }
    }
    let source = plane.clone();
    for y in 0..h {
        let out = &mut plane[y * w..(y + 1) * w];
        for o in out.iter_mut() {
            *o = 0.0;
        }
        for (d, weight) in weights.iter().enumerate() {
            let rows = if d == 0 { vec![y] } else { vec![y.saturating_sub(d), (y + d).min(h - 1)] };
            for r in rows {
                for (o, s) in out.iter_mut().zip(&source[r * w..(r + 1) * w]) {
                    *o += weight * s;
                }
            }
        }
    }
}

/// The mean along a straight way, px: an unsteady hand.
pub(crate) fn smear(frame: &mut Frame, way: [f64; 2]) {
    let steps = way[0].hypot(way[1]).ceil() as i64;
    if steps < 1 {
        return;
    }
    let (w, h) = (frame.width, frame.height);
    for plane in &mut frame.planes {
        let source = plane.clone();
        plane.fill(0.0);
        for i in 0..=steps {
            let t = i as f64 / steps as f64 - 0.5;
            let (dx, dy) = ((t * way[0]).round() as i64, (t * way[1]).round() as i64);
            for y in 0..h {
                let from = (y as i64 + dy).clamp(0, h as i64 - 1) as usize * w;
                for x in 0..w {
                    let at = (x as i64 + dx).clamp(0, w as i64 - 1) as usize;
                    plane[y * w + x] += source[from + at];
                }
            }
        }
        for v in plane.iter_mut() {
            *v /= (steps + 1) as f32;
        }
    }
}
