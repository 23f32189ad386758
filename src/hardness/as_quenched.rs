use super::austenite::dissolved;
use super::lines::interval;
use super::{Alloy, Hardness};
use crate::steel::PhaseLimits;
use crate::units::{CarbonPercent, Hrc, Hv, Interval, Share, Temperature};
use thiserror::Error;

/// How the steel was hardened.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quench {
    /// Heat that it was quenched from, steel all through.
    pub heat: Temperature,
    /// Coldest it got before the temper: the bath, or the room.
    pub coldest: Temperature,
    /// Share of the transformed austenite that became martensite, not something softer.
    pub martensite: Share,
}

/// Steel of one carbon content after the quench.
#[derive(Debug, Clone, PartialEq)]
pub struct AsQuenched {
    /// Carbon of the austenite at the quench heat, wt%: less than the steel's when carbide stayed
    /// behind, more when ferrite did.
    pub dissolved: CarbonPercent,
    /// Share of the steel that was austenite at the quench heat; the rest was ferrite.
    pub austenite: Share,
    /// Share of that austenite that the quench left.
    pub retained: Interval<Share>,
    /// Vickers hardness.
    pub hv: Interval<Hv>,
    /// Rockwell hardness; `None` where it falls below the scale.
    pub hrc: Option<Interval<Hrc>>,
}

/// Why there is no hardness to tell.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum NoAnswer {
    /// Below A1 nothing hardens.
    #[error("quenched from {heat:.0} °C: below {a1:.0} °C there is no austenite, so nothing hardens")]
    NoAustenite {
        /// Heat, °C.
        heat: f64,
        /// A1, °C.
        a1: f64,
    },
    /// Austenite poorer than any source covers: softer than the poorest that one covers.
    #[error(
        "{percent:.2} %C in the austenite is below {least:.2} %C, the least that the hardness formula covers"
    )]
    TooPoor {
        /// Carbon, wt%.
        percent: f64,
        /// Least carbon, wt%.
        least: f64,
    },
    /// Austenite richer than the source of retained austenite covers, or less than half martensite.
    #[error(
        "{percent:.2} %C in the austenite, a share of {martensite:.2} martensite: outside what the sources cover"
    )]
    NotCovered {
        /// Carbon, wt%.
        percent: f64,
        /// Share of martensite.
        martensite: f64,
    },
}

impl Hardness {
    /// Hardness of steel with `carbon`, quenched. Only carbon dissolved at the quench heat counts:
    /// above Acm the rest stays carbide (which is not counted as hard); below A3 the austenite has
    /// the carbon of the A3 line and takes the share C / C(A3) of the steel, ferrite the rest.
    pub fn as_quenched(
        &self,
        phase: &PhaseLimits,
        carbon: CarbonPercent,
        alloy: &Alloy,
        quench: &Quench,
    ) -> Result<AsQuenched, NoAnswer> {
        let Quench { heat, coldest, martensite: share } = *quench;
        let a1 = phase.a1.value;
        if heat < a1 {
            return Err(NoAnswer::NoAustenite { heat: heat.celsius(), a1: a1.celsius() });
        }
        let (inside, austenite) = match on_a3(phase, carbon, heat) {
            Some(rich) => (rich, carbon.wt_percent() / rich.wt_percent()),
            None => (dissolved(phase, carbon, heat), 1.0),
        };
        let percent = inside.wt_percent();
        let least = self.martensite.full_range.value.low();
        if inside < least {
            return Err(NoAnswer::TooPoor { percent, least: least.wt_percent() });
        }
        let not_covered = NoAnswer::NotCovered { percent, martensite: share.fraction() };
        let hard = self.martensite.hrc(inside, share).ok_or(not_covered)?;
        let hard = self.conversion.interval_to_hv(&hard).ok_or(not_covered)?;
        let retained = self.austenite.retained(inside, alloy, coldest).ok_or(not_covered)?;
        let mixed = self.austenite.mixed(&hard, &retained).ok_or(not_covered)?;
        let austenite = Share::new(austenite).map_err(|_| not_covered)?;
        let hv = self.beside_ferrite(&mixed, austenite).ok_or(not_covered)?;
        let hrc = self.conversion.interval_to_hrc(&hv);
        Ok(AsQuenched { dissolved: inside, austenite, retained, hv, hrc })
    }

    fn beside_ferrite(&self, hard: &Interval<Hv>, share: Share) -> Option<Interval<Hv>> {
        let soft = &self.martensite.ferrite.value;
        let mix =
            |hard: Hv, soft: Hv| share.fraction() * hard.number() + (1.0 - share.fraction()) * soft.number();
        let mixed =
            [mix(hard.low(), soft.low()), mix(hard.best(), soft.best()), mix(hard.high(), soft.high())];
        interval(mixed, Hv::new)
    }
}

/// Carbon of the A3 line at `heat` if the steel is poorer than it: then ferrite is there too.
fn on_a3(phase: &PhaseLimits, carbon: CarbonPercent, heat: Temperature) -> Option<CarbonPercent> {
    /// Where the A3 fit holds, wt%.
    const FIT: (f64, f64) = (0.02, 0.76);
    let a3 = |c: f64| CarbonPercent::new(c).map_or(f64::INFINITY, |c| phase.a3_celsius(c));
    let c = carbon.wt_percent().max(FIT.0);
    if c >= FIT.1 || a3(c) <= heat.celsius() {
        return None;
    }
    // A3 falls as carbon rises
    let (mut poor, mut rich) = (c, FIT.1);
    for _ in 0..50 {
        let middle = f64::midpoint(poor, rich);
        if a3(middle) > heat.celsius() { poor = middle } else { rich = middle }
    }
    CarbonPercent::new(rich).ok()
}
