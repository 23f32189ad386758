//! Value noise: a smooth random field in several octaves.

use crate::support::draw_sparks::dice::Dice;

const SIDE: usize = 64;

/// A field with mean about 0 and values about -1..1.
pub(crate) struct Texture {
    grid: Vec<f32>,
    /// Size of its largest features, px, by x and y.
    size: [f32; 2],
    octaves: usize,
}

impl Texture {
    pub(crate) fn new(size: [f64; 2], octaves: usize, dice: &mut Dice) -> Self {
        let grid = (0..SIDE * SIDE).map(|_| dice.between(-1.0, 1.0) as f32).collect();
        Self { grid, size: size.map(|s| s.max(2.0) as f32), octaves }
    }

    pub(crate) fn at(&self, x: f32, y: f32) -> f32 {
        let (mut sum, mut share, mut scale) = (0.0, 0.6, 1.0);
        for octave in 0..self.octaves {
            let shift = 17.3 * octave as f32;
            sum += share * self.octave(x / self.size[0] * scale + shift, y / self.size[1] * scale + shift);
            share *= 0.55;
            scale *= 2.1;
        }
        sum
    }

    fn octave(&self, x: f32, y: f32) -> f32 {
        let (x0, y0) = (x.floor(), y.floor());
        let smooth = |s: f32| s * s * (3.0 - 2.0 * s);
        let (sx, sy) = (smooth(x - x0), smooth(y - y0));
        let wrap = |v: f32| v.rem_euclid(SIDE as f32) as usize % SIDE;
        let (left, right) = (wrap(x0), wrap(x0 + 1.0));
        let (top, bottom) = (wrap(y0) * SIDE, wrap(y0 + 1.0) * SIDE);
        let g = &self.grid;
        let upper = g[top + left] + sx * (g[top + right] - g[top + left]);
        let lower = g[bottom + left] + sx * (g[bottom + right] - g[bottom + left]);
        upper + sy * (lower - upper)
    }
}
