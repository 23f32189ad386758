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
    /// The same where all of the case hardened: what water shows of it, mm.
    pub full: Doubtful,
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
        self.as_seen(self.profile.depth_to(wt).unwrap_or_else(through) * 1e3)
    }

    /// A depth, mm, as doubtful as the visible case depth is.
    pub(super) fn as_seen(&self, best: f64) -> Doubtful {
        let factor = if self.visible.best > 0.0 { best / self.visible.best } else { 1.0 };
        Doubtful { best, down: self.visible.down * factor, up: self.visible.up * factor }
    }

    /// Hardness of the quenched coupon this deep.
    pub fn hardness(&self, depth_mm: f64) -> Hard {
        self.hardness_of(&self.carbon(depth_mm))
    }

    /// Hardness of this carbon, quenched like that.
    pub(super) fn hardness_of(&self, carbon: &Doubtful) -> Hard {
        self.quench.hardness(carbon)
    }
}

impl Quenched<'_> {
    /// Hardness of this carbon.
    pub(super) fn hardness(&self, carbon: &Doubtful) -> Hard {
        self.hardening.doubtful(carbon, &self.heat, &self.martensite)
    }
}

#[cfg(test)]
pub(super) mod tests {
    // A test fails by panicking.
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::diffusion::{Case, Exchange, Fineness, Leg, Section, march};
    use crate::files::Models;

    /// A case as it should be seen: this carbon at the touch, wt%, this visible depth, mm, this chance of
    /// being through. The profile is a flat one of that carbon.
    pub(crate) fn case(models: &Models, carbon: f64, visible: f64, through: f64) -> Expected<'_> {
        let doubt = Doubtful { best: carbon, down: 0.05, up: 0.05 };
        let law = models.law(&models.default_law).unwrap();
        let flat = Case {
            form: &law.form.value,
            factor: 1.0,
            phase: &models.phase,
            section: Section::Thick,
            core: carbon,
            fineness: Fineness::DEFAULT,
        };
        let points = [(0.0, 1173.15), (1.0, 1173.15)];
        let profile =
            march(&flat, &[Leg { points: &points, exchange: Exchange::CLOSED }]).unwrap().profiles.remove(0);
        let hardening =
            Hardening { hardness: &models.hardness, phase: &models.phase, alloy: models.need.alloy(None) };
        let martensite = models.causes.eyes.water_martensite.value;
        let quench = Quenched { hardening, heat: models.need.hardening.value, martensite };
        Expected {
            sparks: doubt,
            peak: doubt,
            inward: Doubtful { best: 0.18, ..doubt },
            visible: Doubtful { best: visible, down: 0.1, up: 0.1 },
            full: Doubtful { best: visible, down: 0.1, up: 0.1 },
            through,
            gain: None,
            mistaken: None,
            edge: None,
            hardened: 1.0,
            core: carbon,
            profile,
            doubt,
            quench,
        }
    }

    #[test]
    fn a_doubt_in_carbon_widens_the_hardness() {
        let models = Models::shipped().unwrap();
        let mut wide = case(&models, 0.5, 0.5, 0.0);
        let Hard::At(narrow) = wide.hardness(0.0) else { panic!("0.5 %C hardens") };
        wide.doubt = Doubtful { best: 0.5, down: 0.15, up: 0.15 };
        let Hard::At(wide) = wide.hardness(0.0) else { panic!("0.5 %C hardens") };
        assert_eq!(narrow.best, wide.best);
        assert!(wide.down > 1.5 * narrow.down, "{narrow:?} {wide:?}");
    }

    #[test]
    fn below_a_tenth_of_a_percent_nothing_hardens() {
        let models = Models::shipped().unwrap();
        assert_eq!(case(&models, 0.05, 0.0, 0.0).hardness(0.0), Hard::Soft);
    }
}
