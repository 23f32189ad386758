//! Smooth and cellular noise on a plane, hashed from whole numbers: the same everywhere, and no tables.

/// Smooth noise of unit wavelength; its values lie within -1..1, mostly within half of that.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Noise(pub(crate) u32);

fn hash(x: i32, y: i32, seed: u32) -> u32 {
    let mut h = (x as u32).wrapping_mul(0x85EB_CA6B)
        ^ (y as u32).wrapping_mul(0xC2B2_AE35)
        ^ seed.wrapping_mul(0x9E37_79B9);
    h = (h ^ (h >> 15)).wrapping_mul(0x2C1B_3C6D);
    h = (h ^ (h >> 12)).wrapping_mul(0x297A_2D39);
    h ^ (h >> 15)
}

/// The whole number below; quicker than the library's.
fn floor(x: f32) -> i32 {
    let cut = x as i32;
    cut - i32::from(cut as f32 > x)
}

/// 0..1 out of some bits of a hash.
pub(crate) fn unit(hash: u32) -> f32 {
    (hash >> 8) as f32 / 16_777_216.0
}

/// Another hash of the same thing.
pub(crate) fn again(hash: u32) -> u32 {
    let h = (hash ^ (hash >> 16)).wrapping_mul(0x7FEB_352D);
    (h ^ (h >> 15)).wrapping_mul(0x846C_A68B)
}

/// Nearly normal of standard deviation 1, out of a hash.
pub(crate) fn bell(hash: u32) -> f32 {
    let sum = (0..4).map(|k| (hash >> (8 * k)) & 0xFF).sum::<u32>();
    // mean 4 * 127.5, standard deviation sqrt(4 (256^2 - 1) / 12)
    (sum as f32 - 510.0) / 147.8
}

impl Noise {
    /// Gradient noise (Perlin 2002): gradients at whole numbers, a fifth-degree fade between them.
    pub(crate) fn at(self, x: f32, y: f32) -> f32 {
        let (ix, iy) = (floor(x), floor(y));
        let (fx, fy) = (x - ix as f32, y - iy as f32);
        let corner = |dx: i32, dy: i32| {
            let h = hash(ix.wrapping_add(dx), iy.wrapping_add(dy), self.0);
            let gx = (h & 0xFFFF) as f32 / 32768.0 - 1.0;
            let gy = (h >> 16) as f32 / 32768.0 - 1.0;
            gx * (fx - dx as f32) + gy * (fy - dy as f32)
        };
        let fade = |t: f32| t * t * t * (t * (t * 6.0 - 15.0) + 10.0);
        let (u, v) = (fade(fx), fade(fy));
        let top = corner(0, 0) + u * (corner(1, 0) - corner(0, 0));
        let low = corner(0, 1) + u * (corner(1, 1) - corner(0, 1));
        1.4 * (top + v * (low - top))
    }

    /// Octaves of it, each of half the wavelength and `gain` times the height of the one before; stops where a
    /// wavelength falls below `finest`.
    pub(crate) fn octaves(self, x: f32, y: f32, gain: f32, finest: f32) -> f32 {
        let (mut sum, mut height, mut scale) = (0.0, 1.0, 1.0);
        for k in 0..9 {
            if scale * finest > 1.0 {
                break;
            }
            // each octave is shifted, so that their lattices never meet
            let shift = 17.3 * k as f32;
            sum += height * Noise(self.0 ^ (k * 7919)).at(x * scale + shift, y * scale - shift);
            height *= gain;
            scale *= 2.0;
        }
        sum
    }
}

/// A plane cut into cells of unit size round scattered points (Voronoi 1908). With a lean, each cell is a hill of its
/// own slope and the highest one is seen: cells differ in size, and their surface has creases but hardly a step.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cells {
    pub(crate) seed: u32,
    /// Standard deviation of the hills' slopes and of their heights, over those of a cell's own bend; 0 to 0.45.
    pub(crate) lean: f32,
}

/// The cell that holds a point.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cell {
    /// Its name, a hash.
    pub(crate) id: u32,
    /// From its middle to the point.
    pub(crate) from: [f32; 2],
    /// Distance to the border to the next cell, nearly.
    pub(crate) edge: f32,
    /// Slope of its hill.
    pub(crate) tilt: [f32; 2],
    /// Height there, without the bend.
    pub(crate) height: f32,
}

/// Sine and cosine of 0.56 rad: rows of cells never lie along a side.
const TURN: [f32; 2] = [0.531_2, 0.847_3];

impl Cells {
    pub(crate) fn plain(seed: u32) -> Self {
        Self { seed, lean: 0.0 }
    }

    pub(crate) fn at(self, x: f32, y: f32) -> Cell {
        let (x, y) = (x * TURN[1] - y * TURN[0], x * TURN[0] + y * TURN[1]);
        let (ix, iy) = (floor(x), floor(y));
        let mut best = Cell { id: 0, from: [0.0; 2], edge: 0.0, tilt: [0.0; 2], height: 0.0 };
        let (mut first, mut second) = (f32::MIN, f32::MIN);
        for dy in -1..=1 {
            for dx in -1..=1 {
                let (cx, cy) = (ix.wrapping_add(dx), iy.wrapping_add(dy));
                let id = hash(cx, cy, self.seed);
                let px = cx as f32 + 0.04 + 0.92 * (id & 0xFFFF) as f32 / 65535.0;
                let py = cy as f32 + 0.04 + 0.92 * (id >> 16) as f32 / 65535.0;
                let from = [x - px, y - py];
                let name = again(id);
                let (tilt, lift) = if self.lean > 0.0 {
                    let tilt = [self.lean * bell(name), self.lean * bell(again(name))];
                    (tilt, 0.5 * self.lean * bell(again(name ^ 0x5a5a)))
                } else {
                    ([0.0; 2], 0.0)
                };
                let plane = lift + tilt[0] * from[0] + tilt[1] * from[1];
                let high = plane - from[0] * from[0] - from[1] * from[1];
                if high > first {
                    second = first;
                    first = high;
                    best = Cell { id: name, from, edge: 0.0, tilt, height: plane };
                } else if high > second {
                    second = high;
                }
            }
        }
        best.edge = (first - second) / 2.2;
        let back = |v: [f32; 2]| [v[0] * TURN[1] + v[1] * TURN[0], v[1] * TURN[1] - v[0] * TURN[0]];
        best.from = back(best.from);
        best.tilt = back(best.tilt);
        best
    }
}
