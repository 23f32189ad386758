use super::{Doubtful, Need};
use crate::diffusion::Profile;
use crate::hardness::{Alloy, Hardness, HardnessProfile, NoAnswer, Quench};
use crate::steel::PhaseLimits;
use crate::units::{CarbonPercent, Depth, Hrc, Hv, Interval, Share, Temperature};

/// Coldest that quenched steel gets: a room, °C (judgement).
pub(super) const ROOM_CELSIUS: f64 = 20.0;
/// Points that a hardness profile is made from.
const POINTS: usize = 48;

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
        match self.hardness.as_quenched(
            self.phase,
            carbon,
            &self.alloy,
            &Quench { heat, coldest, martensite },
        ) {
            Ok(hard) => hard.hrc.map_or(Hard::Soft, |hrc| {
                Hard::At(Doubtful::of_three(hrc.low().points(), hrc.best().points(), hrc.high().points()))
            }),
            Err(NoAnswer::NoAustenite { .. } | NoAnswer::TooPoor { .. }) => Hard::Soft,
            Err(NoAnswer::NotCovered { .. }) => Hard::Unknown,
        }
    }

    /// Hardness against depth, quenched as a case should be. `None`: the tables do not cover it.
    pub fn profile(&self, need: &Need, profile: &Profile) -> Option<HardnessProfile> {
        let quench = Quench {
            heat: need.hardening.value.best(),
            coldest: Temperature::from_celsius(ROOM_CELSIUS).ok()?,
            martensite: Share::new(need.martensite.value).ok()?,
        };
        let hv = |metres: f64| -> Option<Interval<Hv>> {
            let carbon = CarbonPercent::new(profile.at(metres)).ok()?;
            match self.hardness.as_quenched(self.phase, carbon, &self.alloy, &quench) {
                Ok(hard) => Some(hard.hv),
                Err(NoAnswer::TooPoor { .. } | NoAnswer::NoAustenite { .. }) => {
                    Some(self.hardness.martensite.ferrite.value)
                }
                Err(NoAnswer::NotCovered { .. }) => None,
            }
        };
        let deepest = profile.extent();
        let at = |i: usize| deepest * (i as f64 / (POINTS - 1) as f64).powi(2);
        let points = (0..POINTS).map(|i| Some((Depth::from_metres(at(i)).ok()?, hv(at(i))?)));
        HardnessProfile::new(points.collect::<Option<Vec<_>>>()?)
    }

    /// Hardness where carbon, heat and share of martensite are not known exactly: each moved alone, root sum
    /// of squares.
    pub fn doubtful(
        &self,
        carbon: &Doubtful,
        heat: &Interval<Temperature>,
        martensite: &Interval<f64>,
    ) -> Hard {
        let (wt, t, m) = (carbon.best, heat.best(), martensite.best());
        let Hard::At(hrc) = self.quenched(wt, t, m) else { return self.quenched(wt, t, m) };
        let off = |hard: Hard| match hard {
            Hard::At(end) => end.best - hrc.best,
            Hard::Soft => Hrc::LEAST - hrc.best,
            Hard::Unknown => 0.0,
        };
        let (poor, rich) = carbon.nine_in_ten();
        // the curve turns down where austenite is retained: either end may be the harder one
        let ends = [
            [self.quenched(poor, t, m), self.quenched(rich, t, m)],
            [self.quenched(wt, heat.low(), m), self.quenched(wt, heat.high(), m)],
            [self.quenched(wt, t, martensite.low()), self.quenched(wt, t, martensite.high())],
        ];
        let (mut down, mut up) = (hrc.down, hrc.up);
        for [low, high] in ends.map(|pair| pair.map(off)) {
            let moved = Doubtful::of_three(low.min(high).min(0.0), 0.0, low.max(high).max(0.0));
            (down, up) = (down.hypot(moved.down), up.hypot(moved.up));
        }
        Hard::At(Doubtful { best: hrc.best, down, up })
    }
}
