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
        let (x0, y0) = (x.floor(), y.floor());
        let (fx, fy) = (x - x0, y - y0);
        let (ix, iy) = (x0 as i32, y0 as i32);
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

    /// Sharp crests between round hollows, 0..1 and falling.
    pub(crate) fn crests(self, x: f32, y: f32) -> f32 {
        1.0 - (2.0 * self.at(x, y)).abs().min(1.0)
    }
}

/// A plane cut into cells of unit size round scattered points (Voronoi 1908).
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cells(pub(crate) u32);

/// The cell that holds a point.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cell {
    /// Its name, a hash.
    pub(crate) id: u32,
    /// From its middle to the point.
    pub(crate) from: [f32; 2],
    /// Distance to the border to the next cell, nearly.
    pub(crate) edge: f32,
}

impl Cells {
    pub(crate) fn at(self, x: f32, y: f32) -> Cell {
        let (ix, iy) = (x.floor() as i32, y.floor() as i32);
        let mut best = Cell { id: 0, from: [0.0; 2], edge: 0.0 };
        let (mut first, mut second) = (f32::MAX, f32::MAX);
        for dy in -1..=1 {
            for dx in -1..=1 {
                let (cx, cy) = (ix.wrapping_add(dx), iy.wrapping_add(dy));
                let id = hash(cx, cy, self.0);
                let px = cx as f32 + 0.06 + 0.88 * (id & 0xFFFF) as f32 / 65535.0;
                let py = cy as f32 + 0.06 + 0.88 * (id >> 16) as f32 / 65535.0;
                let from = [x - px, y - py];
                let far = from[0] * from[0] + from[1] * from[1];
                if far < first {
                    second = first;
                    first = far;
                    best = Cell { id: again(id), from, edge: 0.0 };
                } else if far < second {
                    second = far;
                }
            }
        }
        best.edge = 0.5 * (second.sqrt() - first.sqrt());
        best
    }
}
