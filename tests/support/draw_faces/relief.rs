//! The face of a coupon as a fine map: heights, and what each point is made of.

use super::coupon::{Coupon, Lip};
use super::finish::Patch;
use super::noise::{Cells, Noise, unit};
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

/// What changes slowly is worked out once for so many cells each way.
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
        let slow = Coarse::of(coupon, &map);
        for j in 0..height {
            for i in 0..width {
                let p = map.place(i, j);
                let distance = coupon.outline.distance(p);
                if distance < 3.0 * cell {
                    map.fill(coupon, j * width + i, p, distance, slow.at(i, j));
                }
            }
        }
        map
    }

    /// Middle of a cell, mm.
    fn place(&self, i: usize, j: usize) -> [f64; 2] {
        [self.low[0] + i as f64 * self.cell, self.low[1] + j as f64 * self.cell]
    }

    fn fill(&mut self, coupon: &Coupon, k: usize, p: [f64; 2], distance: f64, slow: Slow) {
        let [share, swell, blotch] = slow;
        let cell = self.cell as f32;
        let (x, y) = (p[0] as f32, p[1] as f32);
        let (size, pure) = coupon.mottle;
        let (smooth, mut share) = (share, share);
        if pure > 0.0 && share > 0.01 && share < 0.99 {
            let wander = 0.6 * coupon.noise.at(x / size, y / size);
            let lot = unit(Cells::plain(coupon.noise.0 ^ 0xbeef).at(x / size + wander, y / size - wander).id);
            let all = rise(-0.06, 0.06, share - (0.03 + 0.94 * lot));
            share += pure * (all - share);
        }
        let mut patch = if share > 0.995 && smooth > 0.995 {
            coupon.case.at(x, y, cell)
        } else if share < 0.005 && smooth < 0.005 {
            coupon.core.at(x, y, cell)
        } else {
            let (core, case) = (coupon.core.at(x, y, cell), coupon.case.at(x, y, cell));
            // a patch of the other kind stands no higher than its neighbours
            let height = core.height + smooth * (case.height - core.height);
            Patch { height, ..core.mixed(case, share) }
        };
        patch.height += coupon.step * (1.0 - smooth);
        let mut colour =
            [0, 1, 2].map(|c| coupon.tints[1][c] + share * (coupon.tints[0][c] - coupon.tints[1][c]));
        let (from, tall, count) = coupon.marks;
        if tall > 0.0 {
            let (dx, dy) = (x - from[0], y - from[1]);
            let far = dx.hypot(dy);
            let turn = dy.atan2(dx) + 0.35 / count * coupon.noise.octaves(0.8 * dx, 0.8 * dy, 0.5, 0.2);
            let mark = coupon.noise.octaves(turn * count, 0.45 * far, 0.55, 0.2);
            // of the same slope everywhere: wider and taller away from where it began
            patch.height += tall * far / count * mark * rise(0.2, 2.0, far) * (1.0 - 0.6 * share);
        }
        if let Some(lip) = &coupon.lip {
            share *= 1.0 - self.slant(coupon, lip, p, &mut patch);
        }
        patch.height += swell;
        if let Some(below) = coupon.outline.below_nick(p) {
            let on = rise(0.012, -0.012, below as f32);
            let notch = coupon.notch.at(x, y, cell);
            let height = patch.height;
            patch = patch.mixed(notch, on);
            patch.height = height * (1.0 - on) - 0.35 * on;
            share *= 1.0 - on;
        }
        // the edge is torn up or down a little
        if distance > -0.11 {
            let ragged = coupon.noise.octaves(x / 0.35, y / 0.35, 0.6, 0.1);
            let wide = 0.05 * (1.0 + 1.2 * ragged).clamp(0.2, 2.0);
            let edge = (1.0 + distance as f32 / wide).max(0.0);
            patch.height += coupon.burr * (0.6 + ragged) * edge * edge;
        }
        patch.tone *= 1.0 + coupon.uneven * blotch;
        colour[2] *= 1.0 - 0.25 * coupon.uneven * blotch.max(0.0);
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

impl Relief {
    /// Lays a lip over a patch; how much of it covers the point, 0..1.
    fn slant(&self, coupon: &Coupon, lip: &Lip, p: [f64; 2], patch: &mut Patch) -> f32 {
        let below = |side: usize| {
            let (along, below) = coupon.outline.section.below(side, p);
            below - lip.reach(side, along, coupon.noise)
        };
        let nearest = lip.sides.iter().map(|(side, finish)| (below(*side), finish));
        let Some((low, finish)) = nearest.min_by(|a, b| a.0.total_cmp(&b.0)) else { return 0.0 };
        let on = rise(0.03, -0.03, low as f32);
        if on > 0.0 {
            let rough = patch.height;
            *patch = patch.mixed(finish.at(p[0] as f32, p[1] as f32, self.cell as f32), 0.65 * on);
            // torn, then smeared: a little of the break shows through
            let far = (-low as f32).clamp(0.0, 2.0 * lip.width as f32);
            patch.height = rough * (1.0 - 0.55 * on) + lip.slope * far * (0.5 + 0.5 * far / lip.width as f32);
        }
        on
    }
}

/// What changes slowly over a face, on a coarse grid.
struct Coarse {
    width: usize,
    values: Vec<Slow>,
}

/// Share of case, swell of the break (mm), and its uneven tone.
type Slow = [f32; 3];

impl Coarse {
    fn of(coupon: &Coupon, map: &Relief) -> Self {
        let (width, height) = (map.width / COARSE + 2, map.height / COARSE + 2);
        let blotches = Noise(coupon.noise.0 ^ 0x6b);
        let (wide, long) = coupon.swell;
        let value = |k: usize| {
            let p = map.place(k % width * COARSE, k / width * COARSE);
            let (x, y) = (p[0] as f32, p[1] as f32);
            let share = coupon.rim.as_ref().map_or(0.0, |r| r.share(&coupon.outline.section, p));
            let swell = wide * coupon.noise.octaves(x / long, y / long, 0.45, 0.3);
            [share as f32, swell, blotches.octaves(0.9 * x, 0.9 * y, 0.55, 0.1)]
        };
        Self { width, values: (0..width * height).map(value).collect() }
    }

    fn at(&self, i: usize, j: usize) -> Slow {
        let (x, y) = (i / COARSE, j / COARSE);
        let (s, t) = ((i % COARSE) as f32 / COARSE as f32, (j % COARSE) as f32 / COARSE as f32);
        std::array::from_fn(|k| {
            let row = |y: usize| {
                let v = &self.values[y * self.width + x..];
                v[0][k] + s * (v[1][k] - v[0][k])
            };
            row(y) + t * (row(y + 1) - row(y))
        })
    }
}
