//! A tough break: torn, woolly, dull, with hollows that swallow light.

use super::Patch;
use crate::support::draw_faces::noise::{Cells, Noise, unit};

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
    /// Size of the hollows, mm; 0.02 to 0.15.
    pub(crate) hollow: f32,
    pub(crate) tone: f32,
    /// How dark the hollows are, 0..1.
    pub(crate) dark: f32,
    pub(crate) gloss: f32,
    /// Share of hollows with a bright torn edge.
    pub(crate) flecks: f32,
}

impl Fibrous {
    pub(crate) fn at(&self, x: f32, y: f32, cell: f32) -> Patch {
        let (sin, cos) = self.grain.0.sin_cos();
        let (u, v) = ((x * cos + y * sin) / self.grain.1, -x * sin + y * cos);
        let warp = Noise(self.seed ^ 0x3d);
        let (wx, wy) = (u / self.scale, v / self.scale);
        let u = u / self.scale + 0.35 * warp.octaves(1.3 * wx, 1.3 * wy, 0.5, 0.3);
        let v = v / self.scale + 0.35 * warp.octaves(1.3 * wx + 9.1, 1.3 * wy - 4.7, 0.5, 0.3);
        let (mut height, mut light, mut size, mut scale) = (0.0, 0.0, 1.0_f32, 1.0_f32);
        let mut carry = 1.0;
        for k in 0..7 {
            if self.scale / scale < 2.2 * cell {
                break;
            }
            let shift = 13.7 * k as f32;
            let crest = Noise(self.seed ^ (k * 104_729)).crests(u * scale + shift, v * scale - shift);
            height += size * crest * carry;
            light += crest * (if k == 0 { 0.6 } else { 1.0 });
            // torn finely on the crests, smoother in the hollows
            carry = 0.35 + 0.65 * crest;
            size *= 0.56;
            scale *= 2.07;
        }
        let octaves = (self.scale / (2.2 * cell)).max(1.0).log2().floor().clamp(0.0, 6.0) + 1.0;
        let light = light / octaves;
        let wide = self.hollow.max(1.8 * cell);
        let seen = self.hollow / wide;
        let cup = Cells(self.seed ^ 0xa5).at(x / wide + 0.4 * u, y / wide + 0.4 * v);
        let deep = (cup.from[0] * cup.from[0] + cup.from[1] * cup.from[1]).min(0.6);
        let fleck = unit(cup.id) < self.flecks && cup.edge < 0.22;
        // light 0 in the hollows to 1 on the crests
        let hidden = (1.1 - light - 0.5 * deep * seen).clamp(0.0, 1.0);
        Patch {
            height: 0.33 * self.steep * self.scale * height + 0.7 * seen * wide * deep * self.steep,
            slope: [0.0; 2],
            tone: self.tone * (1.0 - self.dark * hidden * hidden),
            gloss: self.gloss * (1.0 - hidden) + if fleck { 0.30 * seen } else { 0.0 },
            rough: 0.45,
        }
    }
}
