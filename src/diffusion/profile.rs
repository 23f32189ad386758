use crate::steel::STEEL_DENSITY_KG_M3;
use crate::transport::Mesh;

/// A depth is found this closely, m.
const CLOSE_M: f64 = 1e-10;

/// Carbon against depth at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// Distance from the surface, m; starts at 0, rises.
    depth: Vec<f64>,
    /// Carbon, wt%, at each depth.
    carbon: Vec<f64>,
    /// ∫ (C - C0) dV per area of surface, wt% m.
    uptake: f64,
}

impl Profile {
    pub(super) fn new(mesh: &Mesh, carbon: &[f64], core: f64) -> Self {
        let uptake = mesh.total(carbon) - core * mesh.volume.iter().sum::<f64>();
        Self { depth: mesh.x.clone(), carbon: carbon.to_vec(), uptake }
    }

    /// Carbon at the surface, wt%.
    pub fn surface(&self) -> f64 {
        self.carbon[0]
    }

    /// Carbon at the sealed end (middle, axis, far face), wt%.
    pub fn far(&self) -> f64 {
        self.carbon[self.carbon.len() - 1]
    }

    /// Deepest computed point, m.
    pub fn extent(&self) -> f64 {
        self.depth[self.depth.len() - 1]
    }

    /// Highest carbon, wt%.
    pub fn peak(&self) -> f64 {
        self.carbon.iter().copied().fold(0.0, f64::max)
    }

    /// Computed points: depth m, carbon wt%.
    pub fn points(&self) -> impl Iterator<Item = (f64, f64)> {
        self.depth.iter().copied().zip(self.carbon.iter().copied())
    }

    /// Mass gain per area of surface, g/m².
    pub fn mass_gain_g_per_m2(&self) -> f64 {
        // wt% m x kg/m³ / 100 = kg/m²
        self.uptake * STEEL_DENSITY_KG_M3 / 100.0 * 1e3
    }

    /// Uptake ∫ (C - C0) dV per area, wt% mm.
    pub fn uptake_wt_percent_mm(&self) -> f64 {
        self.uptake * 1e3
    }

    /// Carbon at `metres` below the surface; beyond the computed depth the far value holds.
    pub fn at(&self, metres: f64) -> f64 {
        let n = self.depth.len();
        if metres <= 0.0 {
            return self.surface();
        }
        if metres >= self.depth[n - 1] {
            return self.far();
        }
        let i = self.depth.partition_point(|x| *x <= metres) - 1;
        self.cubic(i.min(n - 2), metres)
    }

    /// The deepest place where carbon is still `wt` or more, m. `None`: nowhere, or everywhere
    /// down to the sealed end.
    pub fn depth_to(&self, wt: f64) -> Option<f64> {
        if self.far() >= wt {
            return None;
        }
        let i = self.carbon.iter().rposition(|c| *c >= wt)?;
        let (mut low, mut high) = (self.depth[i], self.depth[i + 1]);
        while high - low > CLOSE_M {
            let middle = f64::midpoint(low, high);
            if self.cubic(i, middle) >= wt { low = middle } else { high = middle }
        }
        Some(low)
    }

    /// What is left below `metres`, from there on; `core` is the carbon that uptake counts from, wt%.
    #[must_use]
    pub fn below(&self, metres: f64, core: f64) -> Self {
        // some of it is always left
        let off = metres.clamp(0.0, 0.999 * self.extent());
        let left = self.points().filter(|(x, _)| *x > off).map(|(x, c)| (x - off, c));
        let (depth, carbon): (Vec<f64>, Vec<f64>) = std::iter::once((0.0, self.at(off))).chain(left).unzip();
        let slabs = depth.windows(2).zip(carbon.windows(2));
        let uptake = slabs.map(|(x, c)| (x[1] - x[0]) * (f64::midpoint(c[0], c[1]) - core)).sum();
        Self { depth, carbon, uptake }
    }

    /// Distance between the computed points around `metres`, m; beyond the last one there is nothing to follow.
    pub(super) fn spacing_at(&self, metres: f64) -> f64 {
        let above = self.depth.partition_point(|x| *x <= metres);
        match (above.checked_sub(1), self.depth.get(above)) {
            (Some(below), Some(next)) => next - self.depth[below],
            _ => f64::INFINITY,
        }
    }

    /// Mean carbon of the layer from the surface to `metres`, wt%, as sparks see when that much is
    /// ground away evenly.
    pub fn mean_over(&self, metres: f64) -> f64 {
        if metres <= 0.0 {
            return self.surface();
        }
        let inside = metres.min(self.extent());
        // Simpson on fine slices; the curve is smooth between nodes
        let slices = 16;
        let h = inside / f64::from(slices);
        let simpson = |i: i32| {
            let a = f64::from(i) * h;
            (self.at(a) + 4.0 * self.at(a + h / 2.0) + self.at(a + h)) / 6.0
        };
        let mean = (0..slices).map(simpson).sum::<f64>() / f64::from(slices);
        // below what was computed all is as at its end
        (mean * inside + self.far() * (metres - inside)) / metres
    }

    /// Cubic Lagrange through the four nodes around interval `i`, kept between its two ends.
    fn cubic(&self, i: usize, x: f64) -> f64 {
        let n = self.depth.len();
        let first = i.saturating_sub(1).min(n.saturating_sub(4));
        let nodes = first..(first + 4).min(n);
        let mut sum = 0.0;
        for j in nodes.clone() {
            let mut weight = self.carbon[j];
            for k in nodes.clone().filter(|k| *k != j) {
                weight *= (x - self.depth[k]) / (self.depth[j] - self.depth[k]);
            }
            sum += weight;
        }
        let (a, b) = (self.carbon[i], self.carbon[i + 1]);
        sum.clamp(a.min(b), a.max(b))
    }
}
