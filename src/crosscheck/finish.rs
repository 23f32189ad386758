use super::hypothesis::Ground;
use super::quenching::Quenching;
use super::{Doubtful, Hard, Part, Question, Took};
use crate::hardness::{CaseHardeningDepth, Hardness, HardnessProfile, Reach};
use crate::prediction::{Inputs, OpenAir, Reading, Stories, Story};
use crate::steel::QuenchMedium;
use crate::units::{CarbonPercent, Depth, Hrc, Interval, Temperature, Time};

/// Section under which water is likely to crack an edge, mm (common practice, no source).
pub const CRACKS_MM: f64 = 3.0;

/// What hardening makes of the case, and what an open-air heat would.
#[derive(Debug, Clone, PartialEq)]
pub struct FinishedEdge {
    /// Thickness that must harden, mm, if known.
    pub thickness_mm: Option<f64>,
    /// What to quench it in.
    pub medium: QuenchMedium,
    /// Whether that is likely to crack it.
    pub cracks: bool,
    /// HRC as quenched, where the answer speaks of; 20 stands for softer than the scale.
    pub quenched: Option<Interval<f64>>,
    /// HRC after the temper. `None`: too poor for the chart.
    pub tempered: Option<Interval<f64>>,
    /// Whether the section is known: else the depths are as if all became martensite.
    pub slack: bool,
    /// Depth to 50 HRC below a face as the coupon's, quenched like that.
    pub effective: Reach,
    /// Depth to 550 HV there, or why there is none.
    pub case_hardening: CaseHardeningDepth,
    /// Depth that keeps the wanted carbon on the coupon, mm: no more may be ground off.
    pub holds_to: Doubtful,
    /// What a short heat in open air would leave. `None`: it would melt the case.
    pub after_air: Option<AfterAir>,
    /// Whether the part that the answer speaks of would keep the wanted carbon in it.
    pub outlives_air: bool,
}

/// Carbon after a short heat in open air, wt%.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AfterAir {
    /// Of the part that the answer speaks of, once it is ground.
    pub part: f64,
    /// Where the coupon is richest, below a skin without carbon.
    pub peak: f64,
}

impl FinishedEdge {
    /// `inputs` is the story that explains best what was seen, `depths` the hardened depths
    /// (50 HRC, 550 HV) over all stories.
    pub(super) fn of(
        question: &Question<'_>,
        ground: &Ground<'_>,
        (took, quenching): (&Took, &Quenching),
        inputs: &Inputs,
        depths: [Option<Interval<Depth>>; 2],
        holds_to: Doubtful,
    ) -> Self {
        let Question { run, need, hardness, .. } = *question;
        let heat = need.hardening.value.best();
        let share = need.martensite.value;
        let carbon = took.carbon.unwrap_or_else(|| Interval::exact(0.0));
        let quenched = quenched(ground, &carbon, heat, share);
        let Quenching { thickness_mm, medium, .. } = *quenching;
        let bath = quenching.bath.as_ref();
        let wet = medium != QuenchMedium::Oil;
        let stories = Stories::of(run, question.physics);
        let told = stories.solve(inputs).ok();
        let profile = told.as_ref().and_then(|s| s.outcome.coupon.last());
        let hard = profile.and_then(|p| ground.hardening.profile(bath, need, p));
        let after_air = told.as_ref().and_then(|before| after_air(&stories, before, ground, took));
        Self {
            thickness_mm,
            medium,
            cracks: wet && carbon.high() >= took.wanted && thickness_mm.is_none_or(|mm| mm < CRACKS_MM),
            tempered: quenched.and_then(|hrc| {
                // carbide that stayed behind does not temper
                let dissolved = carbon.best().min(question.physics.phase.acm_wt_percent(heat.kelvin()));
                tempered(hardness, &hrc, dissolved, need.temper.value, need.temper_time.value)
            }),
            quenched,
            slack: bath.is_some(),
            effective: hard.as_ref().map_or(Reach::Nowhere, |p| match (effective(hardness, p), depths[0]) {
                (Reach::To(_), Some(depth)) => Reach::To(depth),
                (reach, _) => reach,
            }),
            case_hardening: hard.map_or(CaseHardeningDepth::NotReached, |p| {
                match (p.case_hardening_depth(&hardness.depth), depths[1]) {
                    (CaseHardeningDepth::Stands { sure, .. }, Some(depth)) => {
                        CaseHardeningDepth::Stands { depth, sure }
                    }
                    (other, _) => other,
                }
            }),
            holds_to,
            outlives_air: took.enough >= need.sure_enough.value
                && after_air.is_some_and(|air| air.part >= took.wanted),
            after_air,
        }
    }
}

/// HRC for carbon from its lowest to its highest.
fn quenched(
    ground: &Ground<'_>,
    carbon: &Interval<f64>,
    heat: Temperature,
    share: f64,
) -> Option<Interval<f64>> {
    let at = |wt: f64| match ground.hardening.quenched(wt, heat, share) {
        Hard::At(hrc) => Some((hrc.nine_in_ten(), hrc.best)),
        Hard::Soft => Some(((Hrc::LEAST, Hrc::LEAST), Hrc::LEAST)),
        Hard::Unknown => None,
    };
    let all = [at(carbon.low())?, at(carbon.best())?, at(carbon.high())?];
    let low = all.iter().map(|h| h.0.0).fold(f64::INFINITY, f64::min);
    let high = all.iter().map(|h| h.0.1).fold(0.0, f64::max);
    Interval::new(low, all[1].1, high)
}

/// HRC that a temper leaves of `hrc`; `wt` is the carbon that was dissolved, wt%. `None` outside the chart.
pub fn tempered(
    hardness: &Hardness,
    hrc: &Interval<f64>,
    wt: f64,
    temperature: Temperature,
    time: Time,
) -> Option<Interval<f64>> {
    let [low, best, high] = [hrc.low(), hrc.best(), hrc.high()].map(Hrc::new);
    let as_quenched = Interval::new(low.ok()?, best.ok()?, high.ok()?)?;
    let carbon = CarbonPercent::new(wt).ok()?;
    let left = hardness.temper.hrc(&as_quenched, carbon, temperature, time)?;
    Interval::new(left.low().points(), left.best().points(), left.high().points())
}

fn effective(hardness: &Hardness, profile: &HardnessProfile) -> Reach {
    hardness.conversion.to_hv(hardness.depth.effective.value).map_or(Reach::Nowhere, |hv| profile.reach(hv))
}

/// After a short heat in open air on top of all else.
fn after_air(stories: &Stories<'_>, before: &Story, ground: &Ground<'_>, took: &Took) -> Option<AfterAir> {
    let (need, inputs) = (ground.need, &before.inputs);
    let (time, heat) = (need.open_air_time.value.seconds(), need.open_air.value.kelvin());
    let untold = inputs.open_air.map_or(0.0, |air| air.seconds);
    let air = OpenAir { seconds: time + untold, kelvin: heat };
    let after = stories.solve(&Inputs { open_air: Some(air), ..*inputs }).ok()?;
    let part = |story: &Story| {
        let stage = story.outcome.coupon.len() - 1;
        let face = || stories.read(story, Reading::GroundFace, stage, Depth::ZERO).map(|v| v.number);
        match took.part {
            // the ground faces behind it must stay hard as well
            Part::FinishedEdge => Some(ground.edge(stories, story)?.min(face()?)),
            Part::Face { off } => Some(story.outcome.coupon.last()?.at(off.metres())),
        }
    };
    // one story tells what share is left; all of them together told how much there is
    let left = (part(&after)? / part(before)?.max(f64::MIN_POSITIVE)).min(1.0);
    let there = took.carbon.as_ref().map_or(0.0, Interval::best);
    let part = there * left;
    // the coupon is nowhere poorer at its richest than the part is by all stories
    Some(AfterAir { part, peak: after.outcome.coupon.last()?.peak().max(part) })
}
