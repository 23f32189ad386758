//! A tough break: torn, woolly, dull, with hollows that swallow light.

use super::Patch;
use crate::support::draw_faces::noise::{Cells, Noise, again, unit};

/// All values are judgements.
#[derive(Clone, Debug)]
pub(crate) struct Fibrous {
    pub(crate) seed: u32,
    /// Wavelength of the largest tearing, mm; 0.2 to 1.2.
    pub(crate) scale: f32,
    /// Slope of its flanks; 0.3 to 1.2.
    pub(crate) steep: f32,
    /// Direction of the fibres, rad, and how much longer than wide they are.
    pub(crate) grain: (f32, f32),
    /// Sharp crests (1) or round lumps (0).
    pub(crate) torn: f32,
    /// Height of each finer tearing over that of the next wider one; 0.45 to 0.75.
    pub(crate) woolly: f32,
    /// Size of the hollows, mm; 0.02 to 0.15.
    pub(crate) hollow: f32,
    /// How deep they are, 0..1.
    pub(crate) dimpled: f32,
    pub(crate) tone: f32,
    /// How dark the hollows are, 0..1.
    pub(crate) dark: f32,
    pub(crate) gloss: f32,
    /// Share of torn crests that shine.
    pub(crate) flecks: f32,
}

/// The finest tearing that counts in a break's steepness, mm.
const FINEST_MM: f32 = 0.012;
/// Each tearing is so much finer than the next wider one, and turned by these: sine and cosine.
const FINER: f32 = 2.03;
const TURN: [f32; 2] = [0.650, 0.760];

impl Fibrous {
    pub(crate) fn at(&self, x: f32, y: f32, cell: f32) -> Patch {
        let (sin, cos) = self.grain.0.sin_cos();
        let (along, across) =
            ((x * cos + y * sin) / (self.scale * self.grain.1), (y * cos - x * sin) / self.scale);
        let warp = Noise(self.seed ^ 0x3d);
        let mut u = along + 0.22 * warp.octaves(1.7 * along, 1.7 * across, 0.6, 0.1);
        let mut v = across + 0.22 * warp.octaves(1.7 * along + 9.1, 1.7 * across - 4.7, 0.6, 0.1);
        let (mut height, mut light, mut weights) = (0.0, 0.0, 0.0);
        let (mut size, mut wave, mut carry, mut steepness) = (1.0_f32, self.scale, 1.0_f32, 0.0_f32);
        let mut crest = 0.0;
        for k in 0..8 {
            if wave < FINEST_MM {
                break;
            }
            steepness += (size * self.scale / wave).powi(2);
            if wave > 2.2 * cell {
                let n = Noise(self.seed ^ (k * 104_729)).at(u + 5.3 * k as f32, v - 3.1 * k as f32);
                let sharp = 1.0 - (2.0 * n).abs().min(1.0);
                crest = self.torn * sharp + (1.0 - self.torn) * (0.5 + 0.9 * n).clamp(0.0, 1.0);
                height += size * carry * crest;
                light += size.sqrt() * crest;
                weights += size.sqrt();
                // torn finely on the crests, smoother in the hollows
                carry = 0.45 + 0.55 * crest;
            }
            (u, v) = (FINER * (u * TURN[1] - v * TURN[0]), FINER * (u * TURN[0] + v * TURN[1]));
            size *= self.woolly;
            wave /= FINER;
        }
        let light = if weights > 0.0 { light / weights } else { 0.55 };
        let (deep, seen) = self.dimple(x, y, cell, along, across);
        let lot = again(
            (self.seed ^ ((x / (2.0 * cell)) as i32 as u32))
                .wrapping_add(((y / (2.0 * cell)) as i32 as u32) << 11),
        );
        let fleck = crest > 0.8 && unit(lot) < self.flecks;
        let hidden = (1.25 - 1.2 * light - 0.45 * deep * self.dimpled * seen).clamp(0.0, 1.0);
        let steep = self.steep * self.scale * 1.1 / steepness.sqrt();
        Patch {
            height: steep * height + 0.6 * self.dimpled * seen * self.hollow * deep,
            slope: [0.0; 2],
            tone: self.tone * (1.0 - self.dark * hidden.powf(1.4)),
            gloss: self.gloss * (1.0 - hidden) + if fleck { 0.25 } else { 0.0 },
            rough: 0.42,
        }
    }

    /// Hollows of two sizes: how far up their walls a point is, 0..1, and how much of them can be drawn.
    fn dimple(&self, x: f32, y: f32, cell: f32, along: f32, across: f32) -> (f32, f32) {
        let wide = self.hollow.max(1.8 * cell);
        let cup = |seed: u32, wide: f32| {
            let cup = Cells { seed, lean: 0.25 }.at(x / wide + 0.4 * along, y / wide + 0.4 * across);
            (1.4 * (cup.from[0] * cup.from[0] + cup.from[1] * cup.from[1])).min(1.0)
        };
        let fine = cup(self.seed ^ 0xa5, wide);
        (0.6 * fine + 0.8 * cup(self.seed ^ 0xc7, 2.9 * wide), self.hollow / wide)
    }
}
