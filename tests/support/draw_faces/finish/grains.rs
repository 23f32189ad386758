//! A hard, brittle break along grains or through fine ones: porcelain, silk, sugar.

use super::Patch;
use crate::support::draw_faces::noise::{Cells, Noise, again, bell, unit};

/// All but the grain are judgements.
#[derive(Clone, Debug)]
pub(crate) struct Grains {
    pub(crate) seed: u32,
    /// Mean diameter, mm.
    pub(crate) grain: f32,
    /// Standard deviation of the facets' slope; 0.1 to 0.5.
    pub(crate) steep: f32,
    /// How round a grain stands out, 0 flat to 1.
    pub(crate) round: f32,
    pub(crate) tone: f32,
    /// Of a typical facet.
    pub(crate) gloss: f32,
    /// Share of facets that mirror.
    pub(crate) glints: f32,
    /// Darkness of the grooves between grains, 0..1.
    pub(crate) grooves: f32,
}

/// Lean of the cells: how much grains differ in size.
const LEAN: f32 = 0.3;

impl Grains {
    pub(crate) fn at(&self, x: f32, y: f32, cell: f32) -> Patch {
        // grains that cannot be drawn are drawn larger and flatter, as the mean of many is
        let size = self.grain.max(1.7 * cell);
        let seen = self.grain / size;
        let warp = Noise(self.seed ^ 0x11);
        let (wx, wy) = (x / (2.3 * size), y / (2.3 * size));
        let (qx, qy) = (x / size + 0.7 * warp.at(wx, wy), y / size + 0.7 * warp.at(wx + 31.7, wy - 8.3));
        let facet = Cells { seed: self.seed, lean: LEAN }.at(qx, qy);
        let (a, b) = (again(facet.id ^ 0x1b), again(facet.id ^ 0x5bd1));
        let steep = self.steep / LEAN * seen;
        let slope = [0, 1].map(|k| steep * (facet.tilt[k] - 1.2 * self.round * facet.from[k]));
        let bowl = facet.from[0] * facet.from[0] + facet.from[1] * facet.from[1];
        let large = size > 6.0 * cell;
        let height = if large { size * steep * (facet.height - 0.6 * self.round * bowl) } else { 0.0 };
        let swell = Noise(self.seed ^ 0x77);
        let wide = swell.octaves(x / (5.0 * size), y / (5.0 * size), 0.6, 0.45);
        // a groove is drawn where it is wider than a cell
        let groove = (1.0 - facet.edge * size / (0.9 * cell + 0.05 * size)).clamp(0.0, 1.0);
        let groove = self.grooves * groove * seen;
        let mirrors = unit(b) < self.glints;
        let gloss = self.gloss * (0.5 + unit(again(b))) + if mirrors { 0.45 * seen * seen } else { 0.0 };
        Patch {
            height: height + 0.25 * self.steep * size * wide,
            slope: if large { [0.0; 2] } else { slope },
            tone: self.tone * (1.0 + 0.10 * seen * bell(again(a)) + 0.04 * wide) * (1.0 - groove),
            gloss: gloss * (1.0 - groove),
            rough: 0.12 + 0.38 * (1.0 - seen) + 0.16 * unit(a),
        }
    }
}
