use super::Doubtful;
use crate::hardness::{Alloy, Hardness, NoAnswer, Quench};
use crate::steel::PhaseLimits;
use crate::units::{CarbonPercent, Share, Temperature};

/// Coldest that a quenched coupon gets: a room, °C (judgement).
const ROOM_CELSIUS: f64 = 20.0;

/// Hardness of carbon after a quench.
#[derive(Debug, Clone, Copy)]
pub struct Hardening<'a> {
    /// The tables.
    pub hardness: &'a Hardness,
    /// Limits of austenite.
    pub phase: &'a PhaseLimits,
    /// What else is in the steel.
    pub alloy: Alloy,
}

/// How hard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hard {
    /// Softer than the Rockwell C scale reaches.
    Soft,
    /// HRC.
    At(Doubtful),
    /// The tables do not cover it.
    Unknown,
}

impl Hardening<'_> {
    /// Steel of `carbon` wt%, quenched from `heat` with this share of martensite.
    pub fn quenched(&self, carbon: f64, heat: Temperature, martensite: f64) -> Hard {
        let (Ok(carbon), Ok(coldest), Ok(martensite)) = (
            CarbonPercent::new(carbon.max(0.0)),
            Temperature::from_celsius(ROOM_CELSIUS),
            Share::new(martensite),
        ) else {
            return Hard::Unknown;
        };
        match self.hardness.as_quenched(self.phase, carbon, &self.alloy, &Quench { heat, coldest, martensite }) {
            Ok(hard) => hard.hrc.map_or(Hard::Soft, |hrc| {
                Hard::At(Doubtful::of_three(hrc.low().points(), hrc.best().points(), hrc.high().points()))
            }),
            Err(NoAnswer::NoAustenite { .. } | NoAnswer::TooPoor { .. }) => Hard::Soft,
            Err(NoAnswer::NotCovered { .. }) => Hard::Unknown,
        }
    }

    /// The same for carbon that is not known exactly: its doubt is carried through the curve.
    pub fn quenched_doubtful(&self, carbon: &Doubtful, heat: Temperature, martensite: f64) -> Hard {
        let at = |wt: f64| self.quenched(wt, heat, martensite);
        let Hard::At(best) = at(carbon.best) else { return at(carbon.best) };
        // the curve turns down where austenite is retained: either end may be the harder one
        let ends = [at(carbon.best - carbon.down), at(carbon.best + carbon.up)].map(|hard| match hard {
            Hard::At(hrc) => hrc.best - best.best,
            Hard::Soft => SOFT_HRC - best.best,
            Hard::Unknown => 0.0,
        });
        let (down, up) = (ends[0].min(ends[1]).min(0.0), ends[0].max(ends[1]).max(0.0));
        Hard::At(Doubtful { best: best.best, down: best.down.hypot(down), up: best.up.hypot(up) })
    }
}

/// Taken for steel below the scale, HRC: where the scale begins.
const SOFT_HRC: f64 = 20.0;
