use super::super::blur::boxed;
use crate::photo::{Picture, Plane, Shrink};

/// Longest side at which texture is taken, px, nearly.
const FINE: usize = 1600;
/// Added to swings of the light before their logarithm is taken (judgement).
const STILL: f32 = 0.003;
/// Longest side of the small picture in which a face is looked for, px (judgement).
const LONGEST: usize = 300;
/// Added to linear light before its logarithm is taken (judgement).
const DARK: f32 = 0.008;
/// Numbers that describe a place of the small picture.
pub(in crate::fracture::measured) const KINDS: usize = 4;

/// A small picture of the photo.
pub(in crate::fracture::measured) struct Look {
    pub(in crate::fracture::measured) width: usize,
    pub(in crate::fracture::measured) height: usize,
    /// Pixels of the photo to one of this.
    pub(in crate::fracture::measured) factor: f64,
    /// Light, two shades and fine texture.
    pub(in crate::fracture::measured) planes: [Plane; KINDS],
}

impl Look {
    pub(in crate::fracture::measured) fn of(picture: &Picture) -> Self {
        let longest = picture.width().max(picture.height());
        // the texture is taken where it is fine, all else from means of squares of it
        let first = (longest as f64 / FINE as f64 + 0.5).clamp(1.0, 8.0) as usize;
        let linear = picture.linear(Shrink::by(first).unwrap_or(Shrink::NONE));
        let (w, h) = (linear.width(), linear.height());
        let [r, g, b] = linear.rgb(0..h);
        let mut light = Plane::new(w, h);
        let (mut warm, mut cold) = (light.clone(), light.clone());
        for i in 0..w * h {
            let sum = r[i] + g[i] + b[i] + 3.0 * DARK;
            light.values[i] = (sum / 3.0).ln();
            warm.values[i] = (r[i] + DARK) / sum;
            cold.values[i] = (b[i] + DARK) / sum;
        }
        let second = (w.max(h) as f64 / LONGEST as f64).round().max(1.0) as usize;
        let texture = still(&shrunk(&swing(&light), second));
        let [light, warm, cold] = [light, warm, cold].map(|p| shrunk(&p, second));
        Self {
            width: light.width,
            height: light.height,
            factor: (first * second) as f64,
            planes: [light, warm, cold, texture],
        }
    }

    pub(in crate::fracture::measured) fn features(&self, at: usize) -> [f32; KINDS] {
        std::array::from_fn(|k| self.planes[k].values[at])
    }
}

/// Means of squares of `by` px a side.
pub(in crate::fracture::measured) fn shrunk(plane: &Plane, by: usize) -> Plane {
    let (w, h) = (plane.width / by, plane.height / by);
    let mut out = Plane::new(w, h);
    for y in 0..h {
        for x in 0..w {
            let mut sum = 0.0;
            for j in 0..by {
                sum += plane.row(y * by + j)[x * by..(x + 1) * by].iter().sum::<f32>();
            }
            out.values[y * w + x] = sum / (by * by) as f32;
        }
    }
    out
}

/// How far the light swings over two to six pixels.
fn swing(light: &Plane) -> Plane {
    let near = boxed(light, 1);
    let mut wide = boxed(&boxed(&near, 2), 2);
    for (w, n) in wide.values.iter_mut().zip(&near.values) {
        *w = (n - *w).abs();
    }
    wide
}

/// Logarithm of the second least of each place and its neighbours three squares by three: lines vanish, textures stay.
fn still(swing: &Plane) -> Plane {
    let (w, h) = (swing.width, swing.height);
    let mut out = Plane::new(w, h);
    let mut near = Vec::with_capacity(9);
    for y in 0..h {
        for x in 0..w {
            near.clear();
            for j in y.saturating_sub(1)..(y + 2).min(h) {
                near.extend(&swing.row(j)[x.saturating_sub(1)..(x + 2).min(w)]);
            }
            near.sort_by(f32::total_cmp);
            out.values[y * w + x] = (near[near.len() / 3] + STILL).ln();
        }
    }
    out
}
