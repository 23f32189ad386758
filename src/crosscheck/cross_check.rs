use super::advice::{Advice, Situation};
use super::agreement::{Agreement, Fits};
use super::finish::FinishedEdge;
use super::hypothesis::Ground;
use super::judge::Judge;
use super::normal::Doubtful;
use super::power::Powers;
use super::quenching::Quenching;
use super::sound::Sound;
use super::telling::Limit;
use super::took::{Basis, DEEPEST, DepthLeft, Evidence, Part, Took};
use super::weighed::Weighed;
use super::{Cause, Causes, Expected, Hardening, Inference, Move, Need, Observation, Seen, Sign, Signs};
use crate::hardness::Hardness;
use crate::prediction::{Aim, DepthCriterion, Inputs, Physics, Prediction, Run};
use crate::units::{Depth, Interval};

/// What is wanted to be known of one run.
#[derive(Clone, Copy)]
pub struct Question<'a> {
    /// The run.
    pub run: &'a Run<'a>,
    /// The tables of the prediction.
    pub physics: &'a Physics<'a>,
    /// What the soak should have given.
    pub prediction: &'a Prediction,
    /// What was seen.
    pub seen: &'a Seen<'a>,
    /// What is wanted of the piece.
    pub aim: Option<&'a Aim>,
    /// Causes and how well eyes tell.
    pub causes: &'a Causes,
    /// What a use asks for.
    pub need: &'a Need,
    /// Hardness.
    pub hardness: &'a Hardness,
}

/// A cause with how well it explains what was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blamed<'a> {
    /// The cause.
    pub cause: &'a Cause,
    /// Its share among all causes and the run without fault, 0 to 1.
    pub share: f64,
    /// The change of it that explains most.
    pub change: Move,
}

/// What soak and coupon say together.
#[derive(Debug, Clone)]
pub struct CrossCheck<'a> {
    /// Whether it took, for its use.
    pub took: Took,
    /// Whether it fits the soak.
    pub fits: Fits,
    /// One by one, what was seen beside what should have been.
    pub agreements: Vec<Agreement>,
    /// Share of a run without fault, 0 to 1.
    pub usual: f64,
    /// The causes, the likeliest first.
    pub causes: Vec<Blamed<'a>>,
    /// Hardness where it matters.
    pub finish: FinishedEdge,
    /// What to do now: two steps.
    pub advice: Advice<'a>,
    /// What was seen of each sign.
    pub signs: Signs,
    /// What should have been seen.
    pub expected: Expected<'a>,
    /// The story of the run that explains best what was seen.
    pub best: Inputs,
    /// What the drawn stories tell beside; `None`: none were drawn, or nothing was seen.
    pub inference: Option<Inference<'a>>,
}

/// Deepest skin that loses carbon while a piece cools or in a short heat, mm (judgement: 15 min at 925 °C leave
/// nine tenths of the carbon from 0.31 mm on).
const MOST_BARE_MM: f64 = 0.5;

/// Holds what was seen of the coupon against what the soak should have given.
pub fn cross_check<'a>(question: &Question<'a>) -> CrossCheck<'a> {
    let Question { run, prediction, seen, causes, need, .. } = *question;
    let ground = question.ground();
    let eyes = &causes.eyes;
    let observations = seen.observations(question.hardness, eyes);
    let signs = seen.signs(run, eyes);

    let drawn = !prediction.drawn.is_empty();
    let hypotheses = if drawn { ground.drawn() } else { ground.hypotheses() };
    let sound = drawn.then(|| Sound::of(hypotheses.iter()));
    let expected = ground.usual();
    let expected = sound.as_ref().map_or(expected.clone(), |sound| sound.together(expected));
    let judge = Judge { expected: &expected, causes, need };
    let place = |seen: &Observation| match &sound {
        Some(sound) => sound.place(seen, eyes),
        None => seen.place(&expected, eyes),
    };
    let powers = (drawn && !observations.is_empty()).then(|| Powers::new(&observations, &hypotheses, &judge));
    let limits = powers.as_ref().map_or_else(|| judge.limits(observations.len()), |powers| *powers.limits());
    let agreement = |seen: &Observation| Some(judge.agreement(*seen, place(seen)?, limits.tail));
    let agreements: Vec<Agreement> = observations.iter().filter_map(agreement).collect();
    let weighed = Weighed::of(hypotheses, &observations, &signs, causes);
    let usual = weighed.share(None);
    let blamed = weighed.blamed(causes);
    let fits = judge.fits(&agreements, usual, &limits);

    let other_steel = signs.get(Sign::NotPlainCarbon) == Some(true);
    let (took, quenching) = verdict(question, &ground, &weighed, &observations, other_steel);

    let likeliest = if drawn { weighed.typical() } else { weighed.likeliest() };
    let inputs = likeliest.map_or(prediction.story.inputs, |h| h.inputs);
    let holds_to = likeliest.map_or(&expected, |h| &h.expected).depth_to(took.wanted);
    let depths = [DepthCriterion::Effective50Hrc, DepthCriterion::Effective550Hv].map(|criterion| {
        let limit = ground.limit(criterion, quenching.bath.as_ref());
        hardened_depth(&limit, &weighed, (&observations, drawn))
    });
    let finish = FinishedEdge::of(question, &ground, (&took, &quenching), &inputs, depths, holds_to);
    let situation = Situation { fits, usual, other_steel, causes: &blamed, seen: observations.len() };
    let advice = Advice::of(question, &took, &situation, &finish);
    CrossCheck {
        took,
        fits,
        agreements,
        usual,
        causes: blamed,
        finish,
        advice,
        signs,
        best: inputs,
        inference: powers.map(|powers| Inference::of(&ground, &weighed, (&observations, &signs), &powers)),
        expected,
    }
}

/// Depth of the rim, if it was measured, mm.
fn depth_seen(observations: &[Observation]) -> Option<Doubtful> {
    observations.iter().find_map(|seen| match seen {
        Observation::Rim { depth, .. } => *depth,
        _ => None,
    })
}

/// A hardened depth, from all hypotheses by what they weigh.
fn hardened_depth(
    limit: &Limit,
    weighed: &Weighed<'_>,
    (observations, drawn): (&[Observation], bool),
) -> Option<Interval<Depth>> {
    /// Correlation of two depths of one profile (judgement).
    const ALIKE: f64 = 0.95;
    let depths = weighed.mixture(|e| {
        let own = limit.depth(e);
        match depth_seen(observations) {
            Some(seen) if e.mistaken.is_none() && !drawn => own.given(&e.visible, &seen, ALIKE),
            _ => own,
        }
    });
    let mm = depths.nine_in_ten((0.0, DEEPEST))?;
    let [low, best, high] = [mm.low(), mm.best(), mm.high()].map(Depth::from_millimetres);
    Interval::new(low.ok()?, best.ok()?, high.ok()?)
}

/// Whether it took, from all hypotheses by what they weigh.
fn verdict(
    question: &Question<'_>,
    ground: &Ground<'_>,
    weighed: &Weighed<'_>,
    observations: &[Observation],
    other_steel: bool,
) -> (Took, Quenching) {
    let Question { run, aim, need, .. } = *question;
    // drawn runs move edge and depth together by themselves
    let drawn = !question.prediction.drawn.is_empty();
    let part = Part::of(run, aim, need);
    let together = ground.edge_with_depth();
    let edge = |e: &Expected<'_>| match (e.edge, depth_seen(observations)) {
        // a deeper case on the coupon is more carbon in the middle of the edge
        (Some(edge), Some(seen)) if e.mistaken.is_none() && !drawn => edge.given(&e.visible, &seen, together),
        (Some(edge), _) => edge,
        (None, _) => e.carbon(0.0),
    };
    let carbon = weighed.mixture(|e| match part {
        Part::FinishedEdge => edge(e),
        Part::Face { off } => e.carbon(off.millimetres()),
    });
    let edge_untold = part.edge_untold(run, aim);
    let quenching = Quenching::of(question, part, edge_untold, carbon.quantile(0.5));
    let depth = wanted_depth(part, aim, need).map(|(criterion, wanted, off)| {
        let limit = ground.limit(criterion, quenching.bath.as_ref());
        DepthLeft::of(criterion, wanted, off, &weighed.mixture(|e| limit.depth(e)))
    });
    let faces = weighed.mixture(|e| e.carbon(need.cleaning.value.millimetres()));
    let leanest = match part {
        // nothing takes carbon out of the middle of an edge
        Part::FinishedEdge => run.stock.carbon.low().wt_percent(),
        // a bare skin is no deeper than that
        Part::Face { off } if off.millimetres() > MOST_BARE_MM => run.stock.carbon.low().wt_percent(),
        Part::Face { .. } => 0.0,
    };
    let evidence = Evidence::of(observations, other_steel);
    let basis = Basis { part, aim, carbon: &carbon, faces: &faces, depth, leanest, evidence, edge_untold };
    (Took::judge(basis, need), quenching)
}

impl<'a> Question<'a> {
    pub(super) fn ground(&self) -> Ground<'a> {
        let Self { run, physics, prediction, causes, need, seen, hardness, .. } = *self;
        let alloy = need.alloy(run.stock.manganese);
        let hardening = Hardening { hardness, phase: physics.phase, alloy };
        Ground { run, physics, prediction, hardening, causes, need, seen }
    }
}

/// Depth that is asked for, with the metal that comes off before.
fn wanted_depth(part: Part, aim: Option<&Aim>, need: &Need) -> Option<(DepthCriterion, Depth, Depth)> {
    let told = aim.and_then(|a| a.depth).map(|d| d.low());
    let criterion = aim.and_then(|a| a.criterion).unwrap_or(DepthCriterion::Visible);
    match (part, told) {
        (Part::Face { off }, told) => Some((criterion, told.unwrap_or(need.depth.value), off)),
        // an edge is judged by its carbon; a depth is held against it only if one was asked for
        (Part::FinishedEdge, told) => Some((criterion, told?, Depth::ZERO)),
    }
}
