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

/// Lean of the cells: facets differ much in size.
const LEAN: f32 = 0.42;

impl Cleavage {
    pub(crate) fn at(&self, x: f32, y: f32, cell: f32) -> Patch {
        let size = self.grain.max(1.7 * cell);
        let seen = self.grain / size;
        let warp = Noise(self.seed ^ 0x21);
        let (wx, wy) = (x / (1.1 * size), y / (1.1 * size));
        let qx = x / size + 0.35 * warp.octaves(wx, wy, 0.6, 0.2);
        let qy = y / size + 0.35 * warp.octaves(wx - 5.9, wy + 12.1, 0.6, 0.2);
        let coarse = Cells { seed: self.seed, lean: LEAN }.at(qx, qy);
        let lot = again(coarse.id ^ 0x99);
        // a facet in three is broken into smaller ones, on its own slope
        let broken = unit(lot) < 0.35 && size > 5.0 * cell;
        let fine = Cells { seed: self.seed ^ 0x1f, lean: LEAN }.at(2.6 * qx, 2.6 * qy);
        let (facet, part) = if broken { (fine, 1.0 / 2.6) } else { (coarse, 1.0) };
        let (a, b) = (again(facet.id), again(facet.id ^ 0x33));
        let steep = self.steep / LEAN * seen;
        let mut slope = [0, 1].map(|k| steep * (facet.tilt[k] - 0.12 * facet.from[k]));
        let mut height = size * part * steep * facet.height;
        if broken {
            height += 0.7 * size * steep * coarse.height;
            slope = [0, 1].map(|k| slope[k] + 0.7 * steep * coarse.tilt[k]);
        }
        let large = size * part > 6.0 * cell;
        let (sin, cos) = (std::f32::consts::TAU * unit(b)).sin_cos();
        let across = (facet.from[0] * cos + facet.from[1] * sin) * (4.0 + 7.0 * unit(lot));
        let across = across + 0.7 * warp.at(3.0 * qx, 3.0 * qy);
        let saw = across - across.floor() - 0.5;
        let river = if size * part > 8.0 * cell { self.rivers * unit(a) * saw } else { 0.0 };
        let soft = Noise(self.seed ^ 0x47).octaves(x / (0.25 * size), y / (0.25 * size), 0.6, 0.05);
        let groove = 0.5 * (1.0 - facet.edge * size * part / (1.1 * cell)).clamp(0.0, 1.0) * seen;
        let small = if large { [0.0; 2] } else { slope };
        Patch {
            height: if large { height } else { 0.0 },
            slope: [small[0] + 0.5 * river * cos + 0.06 * soft, small[1] + 0.5 * river * sin - 0.06 * soft],
            tone: self.tone * (1.0 + 0.15 * seen * bell(lot) + 0.10 * soft) * (1.0 - groove),
            gloss: self.gloss * (0.35 + 1.3 * unit(again(lot)) * unit(b)) * (1.0 - groove),
            rough: 0.10 + 0.25 * (1.0 - seen) + 0.12 * unit(again(b)),
        }
    }
}
