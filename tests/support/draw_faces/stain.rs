//! What came onto a face after it broke.

use super::finish::Patch;
use super::noise::{Cells, Noise, unit};

/// One kind of dirt. `amount` is about the share of the face that it covers, 0..1; `scale` is mm.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Stain {
    Rust {
        seed: u32,
        amount: f32,
        scale: f32,
    },
    Oil {
        seed: u32,
        amount: f32,
        scale: f32,
    },
    /// Dark skin of oxide.
    Oxide {
        seed: u32,
        amount: f32,
        scale: f32,
    },
    /// Straw to blue, by thickness.
    Temper {
        seed: u32,
        scale: f32,
    },
    Dust {
        seed: u32,
        amount: f32,
        scale: f32,
    },
    /// Through a point, in a direction (rad), of a width (mm).
    Scratch {
        seed: u32,
        at: [f32; 2],
        direction: f32,
        width: f32,
    },
}

/// Smooth step from `low` to `high`.
pub(crate) fn rise(low: f32, high: f32, x: f32) -> f32 {
    let t = ((x - low) / (high - low)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

fn blend(colour: &mut [f32; 3], with: [f32; 3], share: f32) {
    for (c, w) in colour.iter_mut().zip(with) {
        *c += share * (w - *c);
    }
}

impl Stain {
    /// Changes what is seen at a point, mm.
    pub(crate) fn over(self, x: f32, y: f32, patch: &mut Patch, colour: &mut [f32; 3]) {
        // noise of octaves has a standard deviation of about 0.3
        let covered = |seed: u32, amount: f32, scale: f32, soft: f32| {
            let n = Noise(seed).octaves(x / scale, y / scale, 0.6, 0.04);
            rise(-soft, soft, n - 0.75 * (0.5 - amount))
        };
        match self {
            Self::Rust { seed, amount, scale } => {
                let c = covered(seed, amount, scale, 0.22);
                let fine = Noise(seed ^ 9).octaves(8.0 * x / scale, 8.0 * y / scale, 0.7, 0.02);
                let hue = 0.5 + 0.5 * fine;
                let c = c * (0.75 + 0.4 * fine).clamp(0.0, 1.0);
                blend(colour, [1.25 - 0.3 * hue, 0.62 - 0.2 * hue, 0.30 - 0.12 * hue], 0.92 * c);
                patch.tone += c * (0.26 + 0.10 * fine - patch.tone);
                patch.gloss *= 1.0 - 0.97 * c;
            }
            Self::Oil { seed, amount, scale } => {
                let c = covered(seed, amount, scale, 0.08);
                blend(colour, [0.95, 0.85, 0.66], 0.6 * c);
                patch.tone *= 1.0 - 0.45 * c;
                patch.gloss += c * 0.06;
                patch.rough += c * (0.2 - patch.rough);
                patch.slope = patch.slope.map(|s| s * (1.0 - 0.6 * c));
            }
            Self::Oxide { seed, amount, scale } => {
                let c = covered(seed, amount, scale, 0.25);
                blend(colour, [0.92, 0.98, 1.08], 0.7 * c);
                patch.tone *= 1.0 - 0.62 * c;
                patch.gloss *= 1.0 - 0.75 * c;
            }
            Self::Temper { seed, scale } => {
                let t = 0.5 + 0.9 * Noise(seed).octaves(x / scale, y / scale, 0.4, 0.1);
                let film = [[1.0, 1.0, 1.0], [1.12, 0.95, 0.68], [1.0, 0.72, 0.62], [0.70, 0.78, 1.15]];
                let at = t.clamp(0.0, 0.999) * 3.0;
                let (i, f) = (at as usize, at.fract());
                let film: [f32; 3] = std::array::from_fn(|k| film[i][k] + f * (film[i + 1][k] - film[i][k]));
                blend(colour, film, 0.6);
                patch.gloss *= 0.9;
            }
            Self::Dust { seed, amount, scale } => {
                let cell = Cells::plain(seed).at(x / scale, y / scale);
                let far = cell.from[0].hypot(cell.from[1]);
                if unit(cell.id) < amount && far < 0.10 + 0.15 * unit(cell.id ^ 0x55) {
                    patch.tone += 0.8 * (0.75 - patch.tone);
                    patch.gloss *= 0.1;
                    blend(colour, [1.0, 0.96, 0.9], 0.8);
                }
            }
            Self::Scratch { seed, at, direction, width } => {
                let (sin, cos) = direction.sin_cos();
                let u = (x - at[0]) * cos + (y - at[1]) * sin;
                let v = -(x - at[0]) * sin + (y - at[1]) * cos;
                let v = v + 0.08 * Noise(seed).at(u * 0.8, 0.5);
                let c = 1.0 - rise(0.6 * width, width, v.abs());
                let c = c * rise(-0.2, 0.1, Noise(seed ^ 1).at(u * 1.5, 3.5));
                let side = (v / width).clamp(-1.0, 1.0);
                patch.slope = [
                    patch.slope[0] * (1.0 - c) - c * side * sin,
                    patch.slope[1] * (1.0 - c) + c * side * cos,
                ];
                patch.gloss += c * 0.25;
                patch.rough += c * (0.15 - patch.rough);
            }
        }
    }
}
