use super::hardening::{Hard, Hardening};
use super::{Doubtful, Mistaken};
use crate::diffusion::Profile;
use crate::units::{Interval, Temperature};

/// What one hypothesis says should be seen.
#[derive(Debug, Clone)]
pub struct Expected<'a> {
    /// Carbon that the sparks come from, wt%.
    pub sparks: Doubtful,
    /// Highest carbon below that, wt%.
    pub peak: Doubtful,
    /// Carbon as deep as somebody grinds, wt%.
    pub inward: Doubtful,
    /// Visible case depth, mm.
    pub visible: Doubtful,
    /// Chance that the case is through.
    pub through: f64,
    /// Mass gain of the coupon, mg.
    pub gain: Option<Doubtful>,
    /// What passes for a case on the face.
    pub mistaken: Option<Mistaken>,
    /// Carbon of the finished edge, wt%.
    pub edge: Option<Doubtful>,
    /// Chance that the coupon was hardened at all when the file was drawn over it.
    pub hardened: f64,
    /// Carbon of the stock, wt%.
    pub core: f64,
    /// The coupon as it is now.
    pub(super) profile: Profile,
    /// Doubt of its carbon: its best value does not count.
    pub(super) doubt: Doubtful,
    /// The quench.
    pub(super) quench: Quenched<'a>,
}

/// How the coupon was hardened.
#[derive(Debug, Clone, Copy)]
pub(super) struct Quenched<'a> {
    pub(super) hardening: Hardening<'a>,
    pub(super) heat: Interval<Temperature>,
    /// Share of martensite, 0 to 1.
    pub(super) martensite: Interval<f64>,
}

impl Expected<'_> {
    /// Carbon of the coupon this deep, wt%.
    pub fn carbon(&self, depth_mm: f64) -> Doubtful {
        Doubtful { best: self.profile.at(depth_mm * 1e-3), ..self.doubt }
    }

    /// Depth to this carbon, mm: as doubtful as the visible case depth is.
    pub fn depth_to(&self, wt: f64) -> Doubtful {
        let through = || if self.profile.far() >= wt { self.profile.extent() } else { 0.0 };
        let best = self.profile.depth_to(wt).unwrap_or_else(through) * 1e3;
        let factor = if self.visible.best > 0.0 { best / self.visible.best } else { 1.0 };
        Doubtful { best, down: self.visible.down * factor, up: self.visible.up * factor }
    }

    /// Hardness of the quenched coupon this deep.
    pub fn hardness(&self, depth_mm: f64) -> Hard {
        let Quenched { hardening, heat, martensite } = &self.quench;
        hardening.doubtful(&self.carbon(depth_mm), heat, martensite)
    }
}
