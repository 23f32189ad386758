//! The face of a coupon as a fine map: heights, and what each point is made of.

use super::coupon::Coupon;
use super::finish::Patch;
use super::noise::{Cells, unit};
use super::stain::rise;

/// Cells in rows over the plane of the face.
pub(crate) struct Relief {
    /// mm
    pub(crate) cell: f64,
    /// Of the first cell's middle, mm.
    pub(crate) low: [f64; 2],
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// mm
    pub(crate) up: Vec<f32>,
    pub(crate) patches: Vec<Patch>,
    pub(crate) colours: Vec<[f32; 3]>,
    /// Share of case, 0..1.
    pub(crate) case: Vec<f32>,
    /// Share of a cell that the face covers.
    pub(crate) cover: Vec<f32>,
}

/// Share of case is worked out once for so many cells each way.
const COARSE: usize = 4;

impl Relief {
    pub(crate) fn of(coupon: &Coupon, cell: f64) -> Self {
        let half = coupon.outline.section.half();
        let margin = 4.0 * cell;
        let low = [-half[0] - margin, -half[1] - margin];
        let width = (2.0 * (half[0] + margin) / cell).ceil() as usize;
        let height = (2.0 * (half[1] + margin) / cell).ceil() as usize;
        let n = width * height;
        let mut map = Self {
            cell,
            low,
            width,
            height,
            up: vec![0.0; n],
            patches: vec![Patch::default(); n],
            colours: vec![[1.0; 3]; n],
            case: vec![0.0; n],
            cover: vec![0.0; n],
        };
        let shares = Shares::of(coupon, &map);
        for j in 0..height {
            for i in 0..width {
                let p = map.place(i, j);
                let distance = coupon.outline.distance(p);
                if distance < 3.0 * cell {
                    map.fill(coupon, j * width + i, p, distance, shares.at(i, j));
                }
            }
        }
        map
    }

    /// Middle of a cell, mm.
    fn place(&self, i: usize, j: usize) -> [f64; 2] {
        [self.low[0] + i as f64 * self.cell, self.low[1] + j as f64 * self.cell]
    }

    fn fill(&mut self, coupon: &Coupon, k: usize, p: [f64; 2], distance: f64, share: f32) {
        let cell = self.cell as f32;
        let (x, y) = (p[0] as f32, p[1] as f32);
        let (size, pure) = coupon.mottle;
        let mut share = share;
        if pure > 0.0 && share > 0.01 && share < 0.99 {
            let wander = 0.6 * coupon.noise.at(x / size, y / size);
            let lot = unit(Cells(coupon.noise.0 ^ 0xbeef).at(x / size + wander, y / size - wander).id);
            let all = rise(-0.06, 0.06, share - (0.03 + 0.94 * lot));
            share += pure * (all - share);
        }
        let mut patch = if share > 0.995 {
            coupon.case.at(x, y, cell)
        } else if share < 0.005 {
            coupon.core.at(x, y, cell)
        } else {
            coupon.core.at(x, y, cell).mixed(coupon.case.at(x, y, cell), share)
        };
        patch.height += coupon.step * (1.0 - share);
        let mut colour =
            [0, 1, 2].map(|c| coupon.tints[1][c] + share * (coupon.tints[0][c] - coupon.tints[1][c]));
        let (from, tall, count) = coupon.marks;
        if tall > 0.0 {
            let (dx, dy) = (x - from[0], y - from[1]);
            let far = dx.hypot(dy);
            let turn = dy.atan2(dx) + 0.12 * coupon.noise.at(0.7 * dx, 0.7 * dy);
            let mark = coupon.noise.octaves(turn * count, 0.35 * far, 0.6, 0.15);
            patch.height += tall * mark * rise(0.2, 1.5, far) * (0.4 + 0.6 * (1.0 - share));
        }
        if let Some(lip) = &coupon.lip {
            let mut low = f64::MAX;
            for side in &lip.sides {
                let (along, below) = coupon.outline.section.below(*side, p);
                let wave = coupon.noise.octaves((along / 1.7) as f32, *side as f32 + 0.4, 0.55, 0.05);
                low = low.min(below - lip.width * (1.0 + 0.35 * f64::from(wave)));
            }
            let on = rise(0.02, -0.02, low as f32);
            patch = patch.mixed(lip.finish.at(x, y, cell), 0.85 * on);
            patch.height += lip.slope * (-low as f32).clamp(0.0, 2.0 * lip.width as f32);
            share *= 1.0 - on;
        }
        let (wide, long) = coupon.swell;
        patch.height += wide * coupon.noise.octaves(x / long, y / long, 0.45, 0.3);
        if let Some(below) = coupon.outline.below_nick(p) {
            let on = rise(0.012, -0.012, below as f32);
            let notch = coupon.notch.at(x, y, cell);
            let height = patch.height;
            patch = patch.mixed(notch, on);
            patch.height = height * (1.0 - on) - 0.35 * on;
            share *= 1.0 - on;
        }
        // the edge is rounded and torn down a little
        let edge = (0.03 + distance as f32).max(0.0);
        patch.height -= 18.0 * edge * edge;
        for stain in &coupon.stains {
            stain.over(x, y, &mut patch, &mut colour);
        }
        self.up[k] = patch.height;
        self.patches[k] = patch;
        self.colours[k] = colour;
        self.case[k] = share;
        self.cover[k] = (0.5 - distance as f32 / cell).clamp(0.0, 1.0);
    }
}

/// Shares of case on a coarse grid.
struct Shares {
    width: usize,
    values: Vec<f32>,
}

impl Shares {
    fn of(coupon: &Coupon, map: &Relief) -> Self {
        let (width, height) = (map.width / COARSE + 2, map.height / COARSE + 2);
        let mut values = vec![0.0; width * height];
        if let Some(rim) = &coupon.rim {
            for (k, v) in values.iter_mut().enumerate() {
                let p = map.place(k % width * COARSE, k / width * COARSE);
                *v = rim.share(&coupon.outline.section, p) as f32;
            }
        }
        Self { width, values }
    }

    fn at(&self, i: usize, j: usize) -> f32 {
        let (x, y) = (i / COARSE, j / COARSE);
        let (s, t) = ((i % COARSE) as f32 / COARSE as f32, (j % COARSE) as f32 / COARSE as f32);
        let row = |y: usize| {
            let v = &self.values[y * self.width + x..];
            v[0] + s * (v[1] - v[0])
        };
        row(y) + t * (row(y + 1) - row(y))
    }
}
