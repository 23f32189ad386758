use super::expected::{Expected, Quenched};
use super::hardening::{Hard, Hardening};
use super::{Causes, Doubtful, Eyes, Move, Need, Seen};
use crate::diffusion::{Potential, Profile};
use crate::features::HardeningHeat;
use crate::prediction::{
    DepthCriterion, Doubt, Inputs, OpenAir, Physics, PredictError, Prediction, Reading, Run, Spread, Stories,
    Story,
};
use crate::soak::{Bracket, CoolingLaw, Leg, StageKind, WitnessPlace};
use crate::steel::{Bevels, Coupon, QuenchMedium, Shape};
use crate::units::{CarbonPercent, Depth, Hrc, Interval, Temperature};

/// Weight of either end of a doubt in three points that stand for its normal curve: their spread is the
/// curve's. 1 / (2 · 1.645²).
const END_WEIGHT: f64 = 0.185;
/// Doubt of carbon and of depth that no story is without, wt% and mm (judgement: the solver's own is a
/// hundredth of it; the rest is for coupons that are not alike all over).
const LEAST_CARBON: f64 = 0.03;
const LEAST_DEPTH_MM: f64 = 0.03;
/// Chance of a story against which a metal witness speaks (judgement: an alloy that is none of those
/// known, a piece that was moved).
const AGAINST_WITNESS: f64 = 0.05;
/// How far a story may miss a witness before that counts, K (judgement).
const WITNESS_K: f64 = 5.0;
/// Carbon at which quenched steel is hardest, wt%: above it austenite is retained (A255, plateau).
const HARDEST_WT: f64 = 0.8;
/// Chance that a coupon of which nobody said how it was quenched is hard when it is filed (judgement).
const HARDENED_UNSAID: f64 = 0.8;

/// One way that the run may have been, with what it gives.
#[derive(Debug, Clone)]
pub(super) struct Hypothesis<'a> {
    /// Index of its cause; `None`: nothing but the usual doubts.
    pub(super) cause: Option<usize>,
    /// What the cause changes.
    pub(super) change: Move,
    /// Weight before anything was seen of the coupon.
    pub(super) weight: f64,
    /// What it takes for true.
    pub(super) inputs: Inputs,
    /// What should be seen.
    pub(super) expected: Expected<'a>,
}

/// Everything that hypotheses of one run are made from.
#[derive(Clone, Copy)]
pub(super) struct Ground<'a> {
    pub(super) run: &'a Run<'a>,
    pub(super) physics: &'a Physics<'a>,
    pub(super) prediction: &'a Prediction,
    pub(super) hardening: Hardening<'a>,
    pub(super) causes: &'a Causes,
    pub(super) need: &'a Need,
    pub(super) seen: &'a Seen<'a>,
}

impl<'a> Ground<'a> {
    /// The best story with all its doubts: what should have been seen.
    pub(super) fn usual(&self) -> Expected<'a> {
        let stories = Stories::of(self.run, self.physics);
        self.expected(&stories, &self.prediction.story, &Move::default(), None)
    }

    /// All hypotheses: each doubt of the prediction at three points, and each change of each cause.
    pub(super) fn hypotheses(&self) -> Vec<Hypothesis<'a>> {
        let stories = Stories::of(self.run, self.physics);
        let usual = self.causes.usual.value;
        let unchanged = Move::default();
        let mut list = Vec::new();
        let ends = &self.prediction.ends;
        let share = usual / ends.len().max(1) as f64;
        let mut add = |story: &Story, weight: f64, moved: Option<Doubt>| {
            let expected = self.expected(&stories, story, &unchanged, moved);
            let weight = weight * self.heat_witnesses(story);
            list.push(Hypothesis { cause: None, change: unchanged, weight, inputs: story.inputs, expected });
        };
        for (doubt, low, high) in ends {
            add(low, share * END_WEIGHT, Some(*doubt));
            add(high, share * END_WEIGHT, Some(*doubt));
        }
        let middle = if ends.is_empty() { usual } else { usual * (1.0 - 2.0 * END_WEIGHT) };
        add(&self.prediction.story, middle, None);
        let changes: Vec<(usize, &Move)> = self
            .causes
            .list
            .iter()
            .enumerate()
            .flat_map(|(i, cause)| cause.moves.iter().map(move |change| (i, change)))
            .filter(|(_, change)| self.applies(change))
            .collect();
        let asked: Vec<Inputs> =
            changes.iter().filter(|c| c.1.asks_the_run()).map(|c| self.inputs(c.1)).collect();
        let mut solved = stories.solve_all(&asked).into_iter();
        for (i, change) in changes {
            let told = if change.asks_the_run() { solved.next() } else { None };
            list.extend(self.changed(&stories, i, change, told).ok());
        }
        list
    }

    /// Whether a change can be made of this run.
    fn applies(&self, change: &Move) -> bool {
        let size_told = match self.run.coupon.shape {
            Shape::Flat { thickness, .. } => thickness.is_some(),
            Shape::Round { diameter } => diameter.is_some(),
        };
        let rich = |core: f64| core > self.run.stock.carbon.high().wt_percent();
        !(change.thickness.is_some() && size_told)
            && change.core.is_none_or(|core| rich(core.wt_percent()))
            && !(change.follows_acm && self.prediction.story.inputs.cooling_law == CoolingLaw::FollowsAcm)
    }

    /// `told` is the story of this change, if it changes the run itself.
    fn changed(
        &self,
        stories: &Stories<'a>,
        cause: usize,
        change: &Move,
        told: Option<Result<Story, PredictError>>,
    ) -> Result<Hypothesis<'a>, PredictError> {
        let blamed = &self.causes.list[cause];
        let weight = blamed.weight.value / blamed.moves.len() as f64;
        let make = |stories: &Stories<'_>, story: &Story, weight| Hypothesis {
            cause: Some(cause),
            change: *change,
            weight,
            inputs: story.inputs,
            expected: self.expected(stories, story, change, None),
        };
        match (told, change.thickness) {
            (Some(story), _) => {
                let story = story?;
                Ok(make(stories, &story, weight * self.heat_witnesses(&story)))
            }
            (None, Some(thickness)) => {
                let coupon = thinner(self.run.coupon, thickness);
                let run = Run { coupon: &coupon, ..*self.run };
                let stories = Stories::of(&run, self.physics);
                Ok(make(&stories, &stories.solve(&self.inputs(change))?, weight))
            }
            (None, None) => {
                // the same carbon, seen otherwise
                let story = Story { inputs: self.inputs(change), ..self.prediction.story.clone() };
                Ok(make(stories, &story, weight))
            }
        }
    }

    fn inputs(&self, change: &Move) -> Inputs {
        let best = self.prediction.story.inputs;
        let potential = match (best.potential, change.potential_factor.unwrap_or(1.0)) {
            (Potential::ShareOfAcm(share), factor) => Potential::ShareOfAcm(share * factor),
            (Potential::Fixed(wt), factor) => Potential::Fixed(wt * factor),
        };
        let finite = if best.transfer.is_finite() { best.transfer } else { self.usual_transfer() };
        let at_heat = self.prediction.story.outcome.equivalent.map_or(0.0, |e| e.seconds);
        Inputs {
            temperature_shift: best.temperature_shift + change.temperature_kelvin.unwrap_or(0.0),
            late: best.late + change.late_share.map_or(0.0, |share| share * at_heat),
            potential,
            transfer: change.transfer_factor.map_or(best.transfer, |factor| finite * factor),
            cooling_law: if change.follows_acm { CoolingLaw::FollowsAcm } else { best.cooling_law },
            open_air: change
                .open_air
                .map(|(time, heat)| OpenAir { seconds: time.seconds(), kelvin: heat.kelvin() }),
            core: change.core.map_or(best.core, CarbonPercent::wt_percent),
            visible_edge: change.visible_edge.map_or(best.visible_edge, CarbonPercent::wt_percent),
            ..best
        }
    }

    /// Transfer coefficient of a surface that is held: the compound's own, or a live pack's, m/s.
    fn usual_transfer(&self) -> f64 {
        /// Live charcoal (judgement: between the two ends of packs.toml).
        const LIVE: f64 = 3e-7;
        let own = self.run.pack.compound.transfer.value.best();
        if own.is_finite() { own } else { LIVE }
    }

    /// How well a story agrees with the metal witnesses beside the steel.
    fn heat_witnesses(&self, story: &Story) -> f64 {
        let bracket = Bracket::of(&self.run.record.witnesses, WitnessPlace::BesideSteel);
        let in_pack = |l: &&Leg| matches!(l.stage.kind, StageKind::Soak | StageKind::PackCool);
        let points = story.outcome.steel.iter().filter(in_pack).flat_map(|l| &l.points);
        let top = points.map(|p| p.1).fold(0.0, f64::max);
        let cold = bracket.at_least.is_some_and(|t| top < t.kelvin() - WITNESS_K);
        let hot = bracket.below.is_some_and(|t| top > t.kelvin() + WITNESS_K);
        if cold || hot { AGAINST_WITNESS } else { 1.0 }
    }

    /// What a story says should be seen; `moved` is the doubt that it has used up already.
    fn expected(
        &self,
        stories: &Stories<'_>,
        story: &Story,
        change: &Move,
        moved: Option<Doubt>,
    ) -> Expected<'a> {
        let prediction = self.prediction;
        let last = story.outcome.coupon.len() - 1;
        // sparks come before any reheat that was told; one that nobody told of came before them
        let before_reheat = story.timeline.legs.iter().rposition(|l| l.stage.kind != StageKind::Reheat);
        let sparked = if story.inputs.open_air.is_some() { last } else { before_reheat.unwrap_or(last) };
        let profile = &story.outcome.coupon[sparked];
        let rest = |which: Reading| rest_of(prediction.last().readings.get(&which), moved);
        let read = |which, stage| stories.read(story, which, stage, prediction.ground).map(|v| v.number);

        let bias = change.spark_bias.unwrap_or(0.0);
        let ground = change.ground.map_or(prediction.ground, |g| g);
        let at_wheel = match change.ground {
            Some(depth) => profile.at(depth.metres()),
            None => profile.mean_over(ground.metres()),
        };
        let carbon = rest(Reading::GroundMean).read_to(LEAST_CARBON);
        let deep = self.causes.eyes.inward_mm.value * 1e-3;
        let wt = |best: f64| Doubtful { best, ..carbon };

        let depth =
            scaled(rest(Reading::Visible), prediction, Reading::Visible, read(Reading::Visible, last));
        let visible =
            Doubtful { best: read(Reading::Visible, last).unwrap_or(0.0), ..depth.read_to(LEAST_DEPTH_MM) };
        Expected {
            sparks: wt(at_wheel + bias),
            peak: wt(peak_below(profile, ground.metres()) + bias),
            inward: wt(profile.at(deep.max(ground.metres()))),
            visible,
            through: self.through(&story.outcome.coupon[last], &story.inputs, rest(Reading::Far)),
            gain: read(Reading::CouponGain, last).map(|mg| {
                let doubt = scaled(rest(Reading::CouponGain), prediction, Reading::CouponGain, Some(mg));
                Doubtful { best: mg, ..doubt }
            }),
            mistaken: change.face,
            edge: self
                .edge(stories, story)
                .map(|wt| Doubtful { best: wt, ..rest(Reading::Edge).read_to(LEAST_CARBON) }),
            hardened: self.hardened(),
            core: story.inputs.core,
            profile: story.outcome.coupon[last].clone(),
            doubt: carbon,
            quench: self.quench(change),
        }
    }

    /// Case depth of a hypothesis by a criterion, mm.
    pub(super) fn depth(&self, expected: &Expected<'_>, criterion: DepthCriterion) -> Doubtful {
        let criteria = self.physics.criteria;
        let hardness = self.hardening.hardness;
        match criterion {
            DepthCriterion::Visible => expected.visible,
            DepthCriterion::Total => {
                expected.depth_to(expected.core + criteria.total_above_core.value.wt_percent())
            }
            DepthCriterion::Carburization => expected.depth_to(criteria.carburization.value.wt_percent()),
            DepthCriterion::Effective50Hrc => self.hard_to(expected, Some(hardness.depth.effective.value)),
            DepthCriterion::Effective550Hv => {
                self.hard_to(expected, hardness.conversion.to_hrc(hardness.depth.case_hardening.value))
            }
        }
    }

    /// Depth to a hardness, mm: to the least carbon that gets so hard in the quench that was told.
    fn hard_to(&self, expected: &Expected<'_>, limit: Option<Hrc>) -> Doubtful {
        let limit = limit.map_or(f64::INFINITY, Hrc::points);
        let Quenched { heat, martensite, .. } = expected.quench;
        let (mut soft, mut hard) = (0.0, HARDEST_WT);
        for _ in 0..30 {
            let middle = f64::midpoint(soft, hard);
            let enough = match self.hardening.quenched(middle, heat.best(), martensite.best()) {
                Hard::At(hrc) => hrc.best >= limit,
                Hard::Soft | Hard::Unknown => false,
            };
            if enough { hard = middle } else { soft = middle }
        }
        expected.depth_to(hard)
    }

    /// Carbon of the finished edge, wt%: of the middle, or of the face that is not ground, cleaned up.
    pub(super) fn edge(&self, stories: &Stories<'_>, story: &Story) -> Option<f64> {
        let last = story.outcome.coupon.len() - 1;
        match (self.run.piece?.bevels, &story.outcome.edge) {
            (Some(Bevels::One), Some(profile)) => Some(profile.at(self.need.cleaning.value.metres())),
            _ => stories.read(story, Reading::Edge, last, Depth::ZERO).map(|v| v.number),
        }
    }

    /// Chance that the middle has the carbon of the visible edge.
    fn through(&self, profile: &Profile, inputs: &Inputs, far: Doubtful) -> f64 {
        // a section of unknown size counts as thick
        let known = match self.run.coupon.shape {
            Shape::Flat { thickness, .. } => thickness.is_some(),
            Shape::Round { diameter } => diameter.is_some(),
        };
        let edge = &self.physics.criteria.visible.value;
        let edge = [edge.low(), edge.best(), edge.high()].map(CarbonPercent::wt_percent);
        let edge = Doubtful::of_three(edge[0], edge[1], edge[2]);
        let far = Doubtful { best: profile.far(), ..far.read_to(LEAST_CARBON) };
        let chance = 1.0 - far.against(&edge).below(inputs.visible_edge);
        if known || profile.far() > inputs.core + LEAST_CARBON { chance } else { 0.0 }
    }

    fn hardened(&self) -> f64 {
        match self.seen.face.and_then(|(features, _)| features.quenched) {
            Some(true) => 1.0,
            Some(false) => 0.0,
            None => HARDENED_UNSAID,
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

/// The doubt of a reading without the part that is moved already.
fn rest_of(spread: Option<&Spread>, moved: Option<Doubt>) -> Doubtful {
    let effects = spread.map_or(&[][..], |s| &s.effects);
    let kept = || effects.iter().filter(|e| Some(e.doubt) != moved);
    let down = kept().map(|e| e.down * e.down).sum::<f64>().sqrt();
    let up = kept().map(|e| e.up * e.up).sum::<f64>().sqrt();
    Doubtful::of_three(-down, 0.0, up)
}

/// A doubt that grows with the reading itself.
fn scaled(doubt: Doubtful, prediction: &Prediction, which: Reading, value: Option<f64>) -> Doubtful {
    let best = prediction.last().readings.get(&which).map_or(0.0, |s| s.interval.best());
    let factor = if best > 0.0 { value.map_or(1.0, |v| (v / best).clamp(0.2, 3.0)) } else { 1.0 };
    Doubtful { best: doubt.best, down: doubt.down * factor, up: doubt.up * factor }
}

/// Highest carbon from `metres` inward, wt%.
fn peak_below(profile: &Profile, metres: f64) -> f64 {
    let inner = profile.points().filter(|p| p.0 >= metres).map(|p| p.1);
    inner.fold(profile.at(metres), f64::max)
}

fn thinner(coupon: &Coupon, size: Depth) -> Coupon {
    let shape = match coupon.shape {
        Shape::Flat { faces, .. } => Shape::Flat { thickness: Some(size), faces },
        Shape::Round { .. } => Shape::Round { diameter: Some(size) },
    };
    Coupon { shape, ..*coupon }
}
