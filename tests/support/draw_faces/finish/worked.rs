//! Sawn, filed, ground, smeared: stripes in one direction.

use super::Patch;
use crate::support::draw_faces::noise::Noise;

/// All values are judgements.
#[derive(Clone, Debug)]
pub(crate) struct Worked {
    pub(crate) seed: u32,
    /// Of the stripes, rad.
    pub(crate) direction: f32,
    /// Their bend, 1/mm: a disc leaves arcs.
    pub(crate) bend: f32,
    /// Wavelength of the widest stripes, mm; 0.02 to 0.5.
    pub(crate) pitch: f32,
    /// How much longer than wide they are; 8 to 60.
    pub(crate) long: f32,
    /// Slope across them; 0.02 to 0.5.
    pub(crate) steep: f32,
    pub(crate) tone: f32,
    pub(crate) gloss: f32,
}

impl Worked {
    pub(crate) fn at(&self, x: f32, y: f32, cell: f32) -> Patch {
        let (sin, cos) = self.direction.sin_cos();
        let u = x * cos + y * sin;
        let v = -x * sin + y * cos + 0.5 * self.bend * u * u;
        let stripes = |k: u32, pitch: f32| {
            let long = self.long * pitch;
            let wander = 0.6 * Noise(self.seed ^ 0x7e).at(u / (0.4 * long), v / (9.0 * pitch));
            Noise(self.seed ^ (k * 613)).at(u / long, v / pitch + wander)
        };
        let mut slope = 0.0;
        let mut shade = 0.0;
        let (mut pitch, mut size) = (self.pitch, 1.0);
        for k in 0..5 {
            if pitch < 1.6 * cell {
                break;
            }
            let s = stripes(k, pitch);
            slope += size * s;
            shade += size * stripes(k + 40, pitch);
            size *= 0.75;
            pitch *= 0.47;
        }
        let slope = 2.2 * self.steep * slope;
        Patch {
            height: 0.0,
            slope: [-slope * sin, slope * cos],
            tone: self.tone * (1.0 + 0.12 * shade),
            gloss: self.gloss * (1.0 + 0.25 * shade).max(0.2),
            rough: 0.22,
        }
    }
}
