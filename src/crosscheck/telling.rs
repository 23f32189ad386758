//! What a hypothesis says should be seen of the coupon.

use super::demand::Demand;
use super::expected::{Expected, Quenched};
use super::hypothesis::Ground;
use super::{Bath, Doubtful, Eyes, Move};
use crate::diffusion::Profile;
use crate::features::HardeningHeat;
use crate::prediction::{DepthCriterion, Doubt, Inputs, Reading, Spread, StagePrediction, Stories, Story};
use crate::soak::StageKind;
use crate::steel::{Bevels, QuenchMedium};
use crate::units::{CarbonPercent, Depth, Interval, Temperature};

/// Where a case ends.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Limit {
    /// At the edge that an eye sees.
    SeenEdge,
    /// At this carbon, wt%.
    Carbon(f64),
    /// At so much above the core, wt%.
    AboveCore(f64),
    /// Where it is no longer so hard, whatever the coupon's own quench was.
    Hard(Demand),
}

impl Limit {
    /// Case depth of a hypothesis, mm.
    pub(super) fn depth(&self, expected: &Expected<'_>) -> Doubtful {
        match self {
            Self::SeenEdge => expected.visible,
            Self::Carbon(wt) => expected.depth_to(*wt),
            Self::AboveCore(wt) => expected.depth_to(expected.core + wt),
            Self::Hard(demand) => demand.depth(expected),
        }
    }
}

/// Which doubts a story leaves open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Left {
    /// All: it is the best one.
    All,
    /// All but the one that it stands at an end of.
    But(Doubt),
    /// None: it is drawn, each number of it.
    None,
}

impl Left {
    /// What it leaves open of a reading, around 0.
    fn of(self, spread: Option<&Spread>) -> Doubtful {
        let effects = spread.map_or(&[][..], |s| &s.effects);
        let kept = || {
            effects.iter().filter(|e| match self {
                Self::All => true,
                Self::But(moved) => e.doubt != moved,
                Self::None => false,
            })
        };
        let down = kept().map(|e| e.down * e.down).sum::<f64>().sqrt();
        let up = kept().map(|e| e.up * e.up).sum::<f64>().sqrt();
        Doubtful::of_three(-down, 0.0, up)
    }
}

impl<'a> Ground<'a> {
    /// What a story says should be seen, with the doubt that is left in it.
    pub(super) fn expected(
        &self,
        stories: &Stories<'_>,
        story: &Story,
        change: &Move,
        left: Left,
    ) -> Expected<'a> {
        let (prediction, eyes) = (self.prediction, &self.causes.eyes);
        let last = story.outcome.coupon.len() - 1;
        // sparks and scales come before any reheat that was told, unless the coupon was sparked hard; a heat that
        // nobody told of came before the sparks
        let before_reheat = story.timeline.legs.iter().rposition(|l| l.stage.kind != StageKind::Reheat);
        let packed = before_reheat.unwrap_or(last).min(last);
        let late = story.inputs.open_air.is_some() || self.seen.sparked_hard == Some(true);
        let sparked = if late { last } else { packed };
        let profile = &story.outcome.coupon[sparked];
        let stage = |at: usize| &prediction.stages[at.min(prediction.stages.len() - 1)];
        let rest_at = |which: Reading, at: usize| left.of(stage(at).readings.get(&which));
        let rest = |which: Reading| rest_at(which, last);
        let read = |which, stage| stories.read(story, which, stage, prediction.ground).map(|v| v.number);

        let bias = change.spark_bias.unwrap_or(0.0);
        let ground = change.ground.unwrap_or(prediction.ground);
        let at_wheel = match change.ground {
            Some(depth) => profile.at(depth.metres()),
            None => profile.mean_over(ground.metres()),
        };
        let carbon = rest_at(Reading::GroundMean, sparked).read_to(eyes.uneven.value);
        let now = rest(Reading::GroundMean).read_to(eyes.uneven.value);
        let deep = (eyes.inward_mm.value * 1e-3).min(profile.extent());
        let wt = |best: f64| Doubtful { best, ..carbon };

        let depth =
            scaled(rest(Reading::Visible), stage(last), Reading::Visible, read(Reading::Visible, last));
        let visible = Doubtful {
            best: read(Reading::Visible, last).unwrap_or(0.0),
            ..depth.read_to(eyes.uneven_mm.value)
        };
        // a slack quench hides a part of the case; a good one does not
        let full = if change.visible_edge.is_none() {
            visible
        } else {
            let edge = self.physics.criteria.visible.value.best().wt_percent();
            let last = &story.outcome.coupon[last];
            let through = if last.far() >= edge { last.extent() } else { 0.0 };
            Doubtful { best: 1e3 * last.depth_to(edge).unwrap_or(through), ..visible }
        };
        Expected {
            sparks: wt(at_wheel + bias),
            peak: wt(peak_below(profile, ground.metres()) + bias),
            inward: wt(profile.at(deep.max(ground.metres()))),
            visible,
            full,
            through: self.through(&story.outcome.coupon[last], &story.inputs, (rest(Reading::Far), left)),
            gain: read(Reading::CouponGain, packed).map(|mg| {
                let doubt = rest_at(Reading::CouponGain, packed);
                let doubt = scaled(doubt, stage(packed), Reading::CouponGain, Some(mg));
                Doubtful { best: mg, ..doubt }
            }),
            mistaken: change.face,
            edge: self
                .edge(stories, story)
                .map(|wt| Doubtful { best: wt, ..rest(Reading::Edge).read_to(eyes.uneven.value) }),
            hardened: self.hardened(),
            core: story.inputs.core,
            profile: story.outcome.coupon[last].clone(),
            doubt: now,
            quench: self.quench(change),
        }
    }

    /// What a case depth by this criterion is a depth to; hardness in this bath, or as if all became martensite.
    pub(super) fn limit(&self, criterion: DepthCriterion, bath: Option<&Bath>) -> Limit {
        let criteria = self.physics.criteria;
        let hardness = self.hardening.hardness;
        let deepest = self.prediction.story.outcome.coupon.last().map_or(0.0, Profile::extent);
        let quenched = (bath, deepest);
        match criterion {
            DepthCriterion::Visible => Limit::SeenEdge,
            DepthCriterion::Total => Limit::AboveCore(criteria.total_above_core.value.wt_percent()),
            DepthCriterion::Carburization => Limit::Carbon(criteria.carburization.value.wt_percent()),
            DepthCriterion::Effective50Hrc => {
                let limit = hardness.conversion.to_hv(hardness.depth.effective.value);
                Limit::Hard(Demand::of(&self.hardening, self.need, limit, quenched))
            }
            DepthCriterion::Effective550Hv => {
                let limit = Some(hardness.depth.case_hardening.value);
                Limit::Hard(Demand::of(&self.hardening, self.need, limit, quenched))
            }
        }
    }

    /// Carbon of the finished edge, wt%: of the middle, or of the face that is not ground, cleaned up.
    pub(super) fn edge(&self, stories: &Stories<'_>, story: &Story) -> Option<f64> {
        let last = story.outcome.coupon.len() - 1;
        match (self.run.piece?.bevels, &story.outcome.edge) {
            (Some(Bevels::One), Some(profile)) => Some(profile.at(self.need.cleaning.value.metres())),
            _ => stories.read(story, Reading::Edge, last, Depth::ZERO).map(|v| v.number),
        }
    }

    /// How far the carbon of the edge and the visible case depth of the coupon move together, 0 to 1: the
    /// correlation of what the doubts do to both. More heat, time or carbon is more of either.
    pub(super) fn edge_with_depth(&self) -> f64 {
        let readings = &self.prediction.last().readings;
        let (Some(edge), Some(depth)) = (readings.get(&Reading::Edge), readings.get(&Reading::Visible))
        else {
            return 0.0;
        };
        let width = |spread: &Spread, doubt: Doubt| {
            spread.effects.iter().find(|e| e.doubt == doubt).map_or(0.0, |e| e.up - e.down)
        };
        let square = |spread: &Spread| spread.effects.iter().map(|e| (e.up - e.down).powi(2)).sum::<f64>();
        let both: f64 = depth
            .effects
            .iter()
            // the carbon at the edge of the rim is a matter of the eye: it moves no carbon
            .filter(|e| e.doubt != Doubt::VisibleEdge)
            .map(|e| (e.up - e.down) * width(edge, e.doubt))
            .sum();
        let all = (square(edge) * square(depth)).sqrt();
        if all > 0.0 { (both / all).clamp(0.0, 1.0) } else { 0.0 }
    }

    /// Chance that the middle has the carbon of the visible edge.
    fn through(&self, profile: &Profile, inputs: &Inputs, (far, left): (Doubtful, Left)) -> f64 {
        // a section of unknown size counts as thick
        let (known, eyes) = (self.run.coupon.shape.size().is_some(), &self.causes.eyes);
        let edge = &self.physics.criteria.visible.value;
        let edge = [edge.low(), edge.best(), edge.high()].map(CarbonPercent::wt_percent);
        let edge = match left {
            Left::None => Doubtful { best: inputs.visible_edge, down: 0.0, up: 0.0 },
            Left::All | Left::But(_) => Doubtful::of_three(edge[0], edge[1], edge[2]),
        };
        let far = Doubtful { best: profile.far(), ..far.read_to(eyes.uneven.value) };
        let chance = 1.0 - far.against(&edge).below(inputs.visible_edge);
        if known || profile.far() > inputs.core + eyes.uneven.value { chance } else { 0.0 }
    }

    fn hardened(&self) -> f64 {
        match self.seen.face.and_then(|(features, _)| features.quenched) {
            Some(true) => 1.0,
            Some(false) => 0.0,
            None => self.causes.eyes.hardened_unsaid.value,
        }
    }

    fn quench(&self, change: &Move) -> Quenched<'a> {
        let eyes: &'a Eyes = &self.causes.eyes;
        let features = self.seen.face.map(|(features, _)| features);
        let medium = features.and_then(|f| f.medium);
        let usual = match medium {
            Some(QuenchMedium::Water | QuenchMedium::Brine) => eyes.water_martensite.value,
            Some(QuenchMedium::Oil) | None => eyes.oil_martensite.value,
        };
        let martensite = change.martensite.map_or(usual, Interval::exact);
        let soak = || {
            let top = self.prediction.last().readings.get(&Reading::TopTemperature).map(|s| s.interval);
            let [low, best, high] = [top?.low(), top?.best(), top?.high()].map(Temperature::from_celsius);
            Interval::new(low.ok()?, best.ok()?, high.ok()?)
        };
        let told = match features.and_then(|f| f.heat) {
            Some(HardeningHeat::At(heat)) => Some(heat),
            Some(HardeningHeat::JustPastMagnet) => Some(eyes.past_magnet.value),
            Some(HardeningHeat::FromSoak) => soak(),
            None => None,
        };
        let heat = change.quench_heat.map(Interval::exact).or(told).unwrap_or(eyes.hardening.value);
        Quenched { hardening: self.hardening, heat, martensite }
    }
}

/// A doubt that grows with the reading itself.
fn scaled(doubt: Doubtful, stage: &StagePrediction, which: Reading, value: Option<f64>) -> Doubtful {
    let best = stage.readings.get(&which).map_or(0.0, |s| s.interval.best());
    let factor = if best > 0.0 { value.map_or(1.0, |v| (v / best).clamp(0.2, 3.0)) } else { 1.0 };
    Doubtful { best: doubt.best, down: doubt.down * factor, up: doubt.up * factor }
}

/// Highest carbon from `metres` inward, wt%.
fn peak_below(profile: &Profile, metres: f64) -> f64 {
    let inner = profile.points().filter(|p| p.0 >= metres).map(|p| p.1);
    inner.fold(profile.at(metres), f64::max)
}
