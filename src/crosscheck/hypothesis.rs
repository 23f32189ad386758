use super::expected::Expected;
use super::hardening::Hardening;
use super::telling::Left;
use super::{Causes, Eyes, Move, Need, Seen};
use crate::diffusion::Potential;
use crate::prediction::{
    Conditions, Inputs, OpenAir, Physics, PredictError, Prediction, Run, Stories, Story,
};
use crate::soak::{Bracket, CoolingLaw, Leg, StageKind, WitnessPlace};
use crate::steel::{Coupon, Shape};
use crate::units::{CarbonPercent, Depth};

/// Weight of either end of a doubt in three points that stand for its normal curve: their spread is the
/// curve's. 1 / (2 · 1.645²).
const END_WEIGHT: f64 = 0.185;

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
    /// The same as whoever was there would say it.
    pub(super) conditions: Conditions,
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
        self.expected(&stories, &self.prediction.story, &Move::default(), Left::All)
    }

    /// All hypotheses: each doubt of the prediction at three points, and each change of each cause.
    pub(super) fn hypotheses(&self) -> Vec<Hypothesis<'a>> {
        let stories = Stories::of(self.run, self.physics);
        let usual = self.causes.usual.value;
        let unchanged = Move::default();
        let mut list = Vec::new();
        let ends = &self.prediction.ends;
        let share = usual / ends.len().max(1) as f64;
        let mut add = |story: &Story, weight: f64, left: Left| {
            let expected = self.expected(&stories, story, &unchanged, left);
            let weight = weight * self.heat_witnesses(story);
            list.push(Hypothesis {
                cause: None,
                change: unchanged,
                weight,
                inputs: story.inputs,
                conditions: stories.conditions(story),
                expected,
            });
        };
        for (doubt, low, high) in ends {
            add(low, share * END_WEIGHT, Left::But(*doubt));
            add(high, share * END_WEIGHT, Left::But(*doubt));
        }
        let middle = if ends.is_empty() { usual } else { usual * (1.0 - 2.0 * END_WEIGHT) };
        add(&self.prediction.story, middle, Left::All);
        let changes = self.changes();
        let asked: Vec<Inputs> = changes
            .iter()
            .filter(|c| c.1.asks_the_run())
            .map(|c| self.changed_inputs(&self.prediction.story.inputs, c.1))
            .collect();
        let mut solved = stories.solve_all(&asked).into_iter();
        for (i, change) in changes {
            let told = if change.asks_the_run() { solved.next() } else { None };
            list.extend(self.changed(&stories, i, change, told).ok());
        }
        list
    }

    /// Every change that can be made of this run, with the index of its cause.
    pub(super) fn changes(&self) -> Vec<(usize, &'a Move)> {
        let causes: &'a Causes = self.causes;
        let all = causes.list.iter().enumerate();
        all.flat_map(|(i, cause)| cause.moves.iter().map(move |change| (i, change)))
            .filter(|(_, change)| self.applies(change))
            .collect()
    }

    /// Whether a change can be made of this run.
    fn applies(&self, change: &Move) -> bool {
        let size_told = self.run.coupon.shape.size().is_some();
        let rich = |core: f64| core > self.run.stock.carbon.high().wt_percent();
        !(change.thickness.is_some() && size_told)
            && change.ground.is_none_or(|ground| ground > self.prediction.ground)
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
        let make = |stories: &Stories<'_>, story: &Story| Hypothesis {
            cause: Some(cause),
            change: *change,
            weight: weight * self.heat_witnesses(story),
            inputs: story.inputs,
            conditions: stories.conditions(story),
            expected: self.expected(stories, story, change, Left::All),
        };
        match (told, change.thickness) {
            (Some(story), _) => Ok(make(stories, &story?)),
            (None, Some(thickness)) => {
                let coupon = thinner(self.run.coupon, thickness);
                let run = Run { coupon: &coupon, ..*self.run };
                let stories = Stories::of(&run, self.physics);
                Ok(make(
                    &stories,
                    &stories.solve(&self.changed_inputs(&self.prediction.story.inputs, change))?,
                ))
            }
            (None, None) => {
                // the same carbon, seen otherwise
                let story = Story {
                    inputs: self.changed_inputs(&self.prediction.story.inputs, change),
                    ..self.prediction.story.clone()
                };
                Ok(make(stories, &story))
            }
        }
    }

    /// A story with this change on top.
    pub(super) fn changed_inputs(&self, best: &Inputs, change: &Move) -> Inputs {
        let best = *best;
        let potential = best.potential.times(change.potential_factor.unwrap_or(1.0));
        let potential = match (potential, change.co2_factor) {
            (other, None) => other,
            (Potential::Fixed(wt), Some(co2)) => {
                let top = self.prediction.story.outcome.equivalent.map_or(0.0, |e| e.kelvin);
                let hot = top.max(self.physics.phase.a1.value.kelvin());
                Potential::Fixed(self.physics.phase.less_active(wt, co2, hot))
            }
            (other, Some(co2)) => other.with_co2(co2),
        };
        // where the surface is held: the compound's own, or a live pack's
        let own =
            [best.transfer, self.run.pack.compound.transfer.value.best()].into_iter().find(|t| t.is_finite());
        let finite = own.unwrap_or(self.physics.priors.held_as.value);
        let at_heat = self.prediction.story.outcome.equivalent.map_or(0.0, |e| e.seconds);
        Inputs {
            temperature_shift: best.temperature_shift + change.temperature_kelvin.unwrap_or(0.0),
            time_factor: best.time_factor * change.time_factor.unwrap_or(1.0),
            late: best.late + change.late_share.map_or(0.0, |share| share * at_heat),
            potential,
            transfer: change.transfer_factor.map_or(best.transfer, |factor| finite * factor),
            cooling_law: if change.follows_acm { CoolingLaw::FollowsAcm } else { best.cooling_law },
            open_air: change
                .open_air
                .map(|(time, heat)| OpenAir { seconds: time.seconds(), kelvin: heat.kelvin() }),
            core: change.core.map_or(best.core, CarbonPercent::wt_percent),
            // a slack quench shows no more than a good one, whatever was learned of that
            visible_edge: change
                .visible_edge
                .map_or(best.visible_edge, |edge| edge.wt_percent().max(best.visible_edge)),
            ..best
        }
    }

    /// How well a story agrees with the metal witnesses beside the steel.
    pub(super) fn heat_witnesses(&self, story: &Story) -> f64 {
        let bracket = Bracket::of(&self.run.record.witnesses, WitnessPlace::BesideSteel);
        let Eyes { metal_kelvin, against_metal, .. } = &self.causes.eyes;
        let in_pack = |l: &&Leg| matches!(l.stage.kind, StageKind::Soak | StageKind::PackCool);
        let points = story.outcome.steel.iter().filter(in_pack).flat_map(|l| &l.points);
        let top = points.map(|p| p.1).fold(0.0, f64::max);
        let cold = bracket.at_least.is_some_and(|t| top < t.kelvin() - metal_kelvin.value);
        let hot = bracket.below.is_some_and(|t| top > t.kelvin() + metal_kelvin.value);
        if cold || hot { against_metal.value } else { 1.0 }
    }
}

pub(super) fn thinner(coupon: &Coupon, size: Depth) -> Coupon {
    let shape = match coupon.shape {
        Shape::Flat { faces, .. } => Shape::Flat { thickness: Some(size), faces },
        Shape::Round { .. } => Shape::Round { diameter: Some(size) },
    };
    Coupon { shape, ..*coupon }
}
