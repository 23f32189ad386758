use super::lines::{interval, three};
use crate::sources::Sourced;
use crate::steel::PhaseLimits;
use crate::units::{CarbonPercent, Hv, Interval, Share, Temperature};

/// What else is in a plain carbon steel, wt%.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Alloy {
    /// Manganese, wt%.
    pub manganese: f64,
    /// Silicon, wt%.
    pub silicon: f64,
}

/// `a - mn Mn - si Si - c (1 - exp(-e C))`, contents in wt%.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exponential {
    /// Value of pure iron.
    pub a: f64,
    /// Per wt% manganese.
    pub mn: f64,
    /// Per wt% silicon.
    pub si: f64,
    /// What endless carbon would take away.
    pub c: f64,
    /// How fast carbon takes it away, per wt%.
    pub e: f64,
}

impl Exponential {
    /// The value for `carbon` wt%.
    pub fn at(&self, carbon: f64, alloy: &Alloy) -> f64 {
        let Self { a, mn, si, c, e } = *self;
        a - mn * alloy.manganese - si * alloy.silicon - c * (1.0 - libm::exp(-e * carbon))
    }
}

/// Austenite that the quench leaves: S. M. C. van Bohemen 2012, in the form of Koistinen and Marburger.
#[derive(Debug, Clone, PartialEq)]
pub struct Austenite {
    /// Ms, °C.
    pub ms: Sourced<Exponential>,
    /// Rate k, 1/1000 K.
    pub rate: Sourced<Exponential>,
    /// Dissolved carbon that both are used for, wt%.
    pub range: Sourced<Interval<CarbonPercent>>,
    /// Factor on the share that is left.
    pub spread: Sourced<Interval<f64>>,
    /// HV of retained austenite.
    pub hv: Sourced<Interval<Hv>>,
}

impl Austenite {
    /// Where martensite starts. `dissolved` is the carbon of the austenite, not of the steel.
    pub fn ms(&self, dissolved: CarbonPercent, alloy: &Alloy) -> Option<Temperature> {
        self.inside(dissolved)?;
        Temperature::from_celsius(self.ms.value.at(dissolved.wt_percent(), alloy)).ok()
    }

    /// Share of the austenite that is left when the steel has been as cold as `coldest`: the bath,
    /// or the room if it cooled down to it before the temper.
    /// f = exp(-k (Ms - T)), all of it if T is above Ms. `None` outside the range.
    pub fn retained(
        &self,
        dissolved: CarbonPercent,
        alloy: &Alloy,
        coldest: Temperature,
    ) -> Option<Interval<Share>> {
        let ms = self.ms(dissolved, alloy)?;
        let k = self.rate.value.at(dissolved.wt_percent(), alloy) * 1e-3;
        let below = (ms - coldest).kelvin().max(0.0);
        let left = libm::exp(-k * below);
        interval(three(&self.spread.value, |factor| (left * factor).min(1.0)), Share::new)
    }

    /// HV of a mixture by shares: (1 - f) of martensite and f of austenite. The softest mixture has
    /// the most austenite.
    pub fn mixed(&self, martensite: &Interval<Hv>, retained: &Interval<Share>) -> Option<Interval<Hv>> {
        let mix = |hard: Hv, soft: Hv, f: Share| {
            (1.0 - f.fraction()) * hard.number() + f.fraction() * soft.number()
        };
        let austenite = &self.hv.value;
        let mixed = [
            mix(martensite.low(), austenite.low(), retained.high()),
            mix(martensite.best(), austenite.best(), retained.best()),
            mix(martensite.high(), austenite.high(), retained.low()),
        ];
        interval(mixed, Hv::new)
    }

    fn inside(&self, dissolved: CarbonPercent) -> Option<()> {
        let range = &self.range.value;
        (range.low() <= dissolved && dissolved <= range.high()).then_some(())
    }
}

/// Carbon that austenite holds at `heat`: all of it, or as much as Acm lets dissolve. The rest stays
/// behind as carbide.
pub(super) fn dissolved(phase: &PhaseLimits, carbon: CarbonPercent, heat: Temperature) -> CarbonPercent {
    let most = phase.acm_wt_percent(heat.kelvin().min(phase.eutectic.value.kelvin()));
    CarbonPercent::new(carbon.wt_percent().min(most)).unwrap_or(carbon)
}
