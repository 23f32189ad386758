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

impl Grains {
    pub(crate) fn at(&self, x: f32, y: f32, cell: f32) -> Patch {
        // grains that cannot be drawn are drawn larger and flatter, as the mean of many is
        let size = self.grain.max(1.7 * cell);
        let seen = self.grain / size;
        let warp = Noise(self.seed ^ 0x11);
        let (wx, wy) = (x / (2.3 * size), y / (2.3 * size));
        let (qx, qy) = (x / size + 0.5 * warp.at(wx, wy), y / size + 0.5 * warp.at(wx + 31.7, wy - 8.3));
        let facet = Cells(self.seed).at(qx, qy);
        let (a, b) = (again(facet.id), again(facet.id ^ 0x5bd1));
        let tilt = [bell(facet.id) * self.steep * seen, bell(a) * self.steep * seen];
        let dome = self.round * 0.9 * seen;
        let slope = [0, 1].map(|k| tilt[k] - dome * facet.from[k]);
        let swell = Noise(self.seed ^ 0x77);
        let (sx, sy) = (x / (5.0 * size), y / (5.0 * size));
        let wide = swell.octaves(sx, sy, 0.6, 0.45);
        let large = size > 6.0 * cell;
        let height = size * if large { slope[0] * facet.from[0] + slope[1] * facet.from[1] } else { 0.0 };
        // a groove is drawn where it is wider than a cell
        let groove =
            self.grooves * (1.0 - facet.edge * size / (0.9 * cell + 0.05 * size)).clamp(0.0, 1.0) * seen;
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
