//! A brittle break through coarse grains: flat bright facets at all angles, with river lines.

use super::Patch;
use crate::support::draw_faces::noise::{Cells, Noise, again, bell, unit};

/// All but the grain are judgements.
#[derive(Clone, Debug)]
pub(crate) struct Cleavage {
    pub(crate) seed: u32,
    /// Mean diameter of a facet, mm.
    pub(crate) grain: f32,
    /// Standard deviation of the facets' slope; 0.2 to 0.6.
    pub(crate) steep: f32,
    pub(crate) tone: f32,
    pub(crate) gloss: f32,
    /// Height of the steps on a facet, of its slope, 0..1.
    pub(crate) rivers: f32,
}

impl Cleavage {
    pub(crate) fn at(&self, x: f32, y: f32, cell: f32) -> Patch {
        let size = self.grain.max(1.7 * cell);
        let seen = self.grain / size;
        let warp = Noise(self.seed ^ 0x21);
        let (wx, wy) = (x / (0.8 * size), y / (0.8 * size));
        let qx = x / size + 0.22 * warp.octaves(wx, wy, 0.6, 0.3);
        let qy = y / size + 0.22 * warp.octaves(wx - 5.9, wy + 12.1, 0.6, 0.3);
        let facet = Cells(self.seed).at(qx, qy);
        let (a, b, c) = (again(facet.id), again(facet.id ^ 0x33), again(facet.id ^ 0x99));
        // a facet in three is broken into smaller ones
        let (facet, part) = if unit(c) < 0.35 && size > 5.0 * cell {
            (Cells(self.seed ^ 0x1f).at(2.3 * qx, 2.3 * qy), 1.0 / 2.3)
        } else {
            (facet, 1.0)
        };
        let (tx, ty) = (bell(facet.id ^ a), bell(again(facet.id) ^ a));
        let tilt = [tx * self.steep * seen, ty * self.steep * seen];
        let turn = std::f32::consts::TAU * unit(b);
        let (sin, cos) = turn.sin_cos();
        let across = (facet.from[0] * cos + facet.from[1] * sin) * (4.0 + 7.0 * unit(c));
        let across = across + 0.5 * warp.at(3.0 * qx, 3.0 * qy);
        let river =
            self.rivers * seen * ((across.fract() + 1.0).fract() - 0.5) * (size > 8.0 * cell) as u8 as f32;
        let large = size * part > 6.0 * cell;
        let height =
            size * part * if large { tilt[0] * facet.from[0] + tilt[1] * facet.from[1] } else { 0.0 };
        let slope = if large { [0.0; 2] } else { tilt };
        let fine = Noise(self.seed ^ 0x47).at(x / (3.0 * cell), y / (3.0 * cell));
        let groove = 0.5 * (1.0 - facet.edge * size * part / (1.1 * cell)).clamp(0.0, 1.0) * seen;
        Patch {
            height,
            slope: [slope[0] + river * cos * 0.5 + 0.05 * fine, slope[1] + river * sin * 0.5 - 0.05 * fine],
            tone: self.tone * (1.0 + 0.15 * seen * bell(c)) * (1.0 - groove),
            gloss: self.gloss * (0.35 + 1.3 * unit(again(c)) * unit(b)) * (1.0 - groove),
            rough: 0.10 + 0.25 * (1.0 - seen) + 0.12 * unit(again(b)),
        }
    }
}
