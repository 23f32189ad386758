//! A blank struck between dies: a raised rim, beads, a flower. No coin that anybody pays with.

use super::Patch;
use crate::support::draw_faces::noise::Noise;
use crate::support::draw_faces::stain::rise;

/// All values are judgements.
#[derive(Clone, Debug)]
pub(crate) struct Struck {
    pub(crate) seed: u32,
    /// Of the blank, mm.
    pub(crate) radius: f32,
    /// Petals of the flower.
    pub(crate) petals: f32,
    pub(crate) beads: f32,
    pub(crate) tone: f32,
    pub(crate) gloss: f32,
}

impl Struck {
    pub(crate) fn at(&self, x: f32, y: f32, _cell: f32) -> Patch {
        let (far, turn) = (x.hypot(y) / self.radius, y.atan2(x));
        let rim = rise(0.90, 0.93, far);
        let bead = ((turn * self.beads).cos() - 0.2).max(0.0) * rise(0.03, 0.0, (far - 0.84).abs());
        let petal = rise(0.0, 0.12, 0.30 + 0.22 * (turn * self.petals).cos() - far);
        let heart = rise(0.02, 0.0, (far - 0.14).abs());
        let vein = 0.15 * (far * 60.0).sin() * petal;
        let n = Noise(self.seed);
        let worn = n.octaves(x * 1.5, y * 1.5, 0.6, 0.02);
        Patch {
            height: 0.03 * self.radius * (rim + 0.8 * bead + 0.7 * petal + 0.3 * vein + 0.4 * heart),
            slope: [0.03 * n.at(x * 40.0, y * 3.0), 0.03 * n.at(x * 3.0, y * 40.0)],
            tone: self.tone * (1.0 + 0.3 * worn),
            gloss: self.gloss,
            rough: 0.22,
        }
    }
}
