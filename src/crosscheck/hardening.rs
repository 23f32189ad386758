use super::{Bath, Doubtful, Need, tempered};
use crate::diffusion::Profile;
use crate::hardness::{Alloy, Hardness, HardnessProfile, NoAnswer, Quench, Slack};
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

    /// The least carbon, wt%, that is `hrc` hard at best when quenched as a case should be and given the usual temper.
    /// `Err`: the hardest that any carbon stays, HRC.
    pub fn carbon_for(&self, need: &Need, hrc: Hrc) -> Result<CarbonPercent, f64> {
        /// Steps of carbon, in 1/1000 wt%, from the leanest to where steel gets no harder.
        const STEPS: std::ops::RangeInclusive<i32> = 100..=900;
        let heat = need.hardening.value.best();
        let mut hardest = Hrc::LEAST;
        for step in STEPS {
            let wt = f64::from(step) / 1000.0;
            let Hard::At(quenched) = self.quenched(wt, heat, need.martensite.value) else { continue };
            let (low, high) = quenched.nine_in_ten();
            let left = Interval::new(low, quenched.best, high).and_then(|quenched| {
                tempered(self.hardness, &quenched, wt, need.temper.value, need.temper_time.value)
            });
            hardest = left.map_or(hardest, |left| left.best().max(hardest));
            if let (true, Ok(carbon)) = (hardest >= hrc.points(), CarbonPercent::new(wt)) {
                return Ok(carbon);
            }
        }
        Err(hardest)
    }

    /// Hardness against depth, quenched as a case should be: in this bath, which may be too slow for it, or as if all
    /// became martensite. `None`: the tables do not cover it.
    pub fn profile(&self, bath: Option<&Bath>, need: &Need, profile: &Profile) -> Option<HardnessProfile> {
        along(profile, |depth, carbon| self.hv(bath, need, carbon, depth))
    }

    /// Hardness of this carbon so far below the face, quenched like that.
    pub(super) fn hv(
        &self,
        bath: Option<&Bath>,
        need: &Need,
        carbon: CarbonPercent,
        depth: Depth,
    ) -> Option<Interval<Hv>> {
        let Some(bath) = bath else {
            let hard = self.hardness.as_quenched(self.phase, carbon, &self.alloy, &quench(need)?);
            return self.or_soft(hard.map(|hard| hard.hv));
        };
        match self.slack(bath, need, carbon, depth) {
            Ok(slack) => slack.interval(&self.hardness.martensite.ferrite.value),
            Err(why) => self.or_soft(Err(why)),
        }
    }

    /// Steel of this carbon so far below the face in this bath.
    pub fn slack(
        &self,
        bath: &Bath,
        need: &Need,
        carbon: CarbonPercent,
        depth: Depth,
    ) -> Result<Slack, NoAnswer> {
        let martensite = need.martensite.value;
        let untold = NoAnswer::NotCovered { percent: carbon.wt_percent(), martensite };
        let quench = quench(need).ok_or(untold)?;
        self.hardness.slack(self.phase, carbon, &bath.alloys, &quench, &bath.section.asks_for(depth))
    }

    /// What is too poor for the formulas counts as ferrite; `None` where no table answers.
    fn or_soft(&self, hard: Result<Interval<Hv>, NoAnswer>) -> Option<Interval<Hv>> {
        match hard {
            Ok(hv) => Some(hv),
            Err(NoAnswer::TooPoor { .. } | NoAnswer::NoAustenite { .. }) => {
                Some(self.hardness.martensite.ferrite.value)
            }
            Err(NoAnswer::NotCovered { .. }) => None,
        }
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

/// As a case should be quenched.
fn quench(need: &Need) -> Option<Quench> {
    Some(Quench {
        heat: need.hardening.value.best(),
        coldest: Temperature::from_celsius(ROOM_CELSIUS).ok()?,
        martensite: Share::new(need.martensite.value).ok()?,
    })
}

/// Hardness along a carbon profile, closer points near the face.
fn along(
    profile: &Profile,
    hv: impl Fn(Depth, CarbonPercent) -> Option<Interval<Hv>>,
) -> Option<HardnessProfile> {
    let deepest = profile.extent();
    let at = |i: usize| deepest * (i as f64 / (POINTS - 1) as f64).powi(2);
    let point = |i: usize| {
        let depth = Depth::from_metres(at(i)).ok()?;
        Some((depth, hv(depth, CarbonPercent::new(profile.at(at(i))).ok()?)?))
    };
    HardnessProfile::new((0..POINTS).map(point).collect::<Option<Vec<_>>>()?)
}
