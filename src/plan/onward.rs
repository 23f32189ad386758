use super::course::Course;
use super::remedy::with_remedies;
use super::soak_plan::check;
use super::{Afterwards, Cased, Intent, LastHeat, Needed, PlanError, Start, Tables, Target};
use crate::crosscheck::{Answer, CrossCheck, Hardening, Part, Question, Sign, Step};
use crate::diffusion::Section;
use crate::prediction::{Inputs, PredictError, Prediction, Stories, Story};
use crate::units::{CarbonPercent, Depth, Time};

/// What comes next for a run that was held against its coupon.
#[derive(Debug, Clone, PartialEq)]
pub struct Onward {
    /// What becomes of its case. `None`: there is none to go on with.
    pub afterwards: Option<Afterwards>,
    /// How long a second soak must be, or why none helps. `None`: none is called for.
    pub second: Option<Result<SecondSoak, PlanError>>,
}

/// A second soak on top of one that gave too little.
#[derive(Debug, Clone, PartialEq)]
pub struct SecondSoak {
    /// What it is for.
    pub intent: Intent,
    /// How long the hold must be.
    pub needed: Needed,
    /// The hold that is planned, in full steps of a clock.
    pub hold: Time,
    /// Chance that it is long enough.
    pub chance: f64,
}

impl Onward {
    /// By the story that explains best what was seen.
    pub fn of(question: &Question, check: &CrossCheck, tables: &Tables) -> Self {
        Self { afterwards: afterwards(question, check, tables), second: second(question, check, tables) }
    }
}

/// Of its edge where that is what counts, else of the face.
fn afterwards(question: &Question, check: &CrossCheck, tables: &Tables) -> Option<Afterwards> {
    let Question { run, physics, need, hardness, .. } = *question;
    if !matches!(check.took.answer, Answer::Yes | Answer::Partly) {
        return None;
    }
    let story = Stories::of(run, physics).solve(&check.best).ok()?;
    let edge = match check.took.part {
        Part::FinishedEdge => story.outcome.edge.as_ref(),
        Part::Face { .. } => None,
    };
    let edge = run.piece.and_then(|p| p.edge_thickness).zip(edge);
    let (profile, section) = match edge {
        Some((thickness, profile)) => (profile, Section::both_faces(thickness)),
        None => (story.outcome.coupon.last()?, Section::of(&run.coupon.shape)),
    };
    let top = story.outcome.steel.iter().flat_map(|leg| &leg.points).map(|p| p.1).fold(0.0, f64::max);
    let rules = tables.rules;
    let grown = top > rules.ordinary_grain.value.kelvin() || check.signs.get(Sign::CoarseRim) == Some(true);
    let alloy = need.alloy(run.stock.manganese);
    let hardening = Hardening { hardness, phase: physics.phase, alloy };
    let hard = question.aim.and_then(|aim| aim.hardness).map(|hrc| hrc.low());
    let hard = hard.and_then(|hrc| Some((hrc.points(), hardening.carbon_for(need, hrc).ok()?)));
    let cased = Cased {
        profile,
        section,
        inputs: &check.best,
        wanted: hard.map_or(check.took.wanted, |(_, carbon)| carbon.wt_percent()),
        wanted_hrc: hard.map(|(hrc, _)| hrc),
        one_face: edge.is_none() && run.coupon.shape.one_face(),
        bevels: None,
        thickness: check.finish.thickness_mm,
        manganese: run.stock.manganese,
        refine: grown.then(|| rules.refining_heat(physics, check.best.core).best()),
    };
    Afterwards::of(&cased, &[], physics, need, &hardening, &rules.heats).ok()
}

/// From the case that soak and coupon together show, at the heat of the first by the thermometer, in the same kind of
/// compound, fresh.
fn second(question: &Question, seen: &CrossCheck, tables: &Tables) -> Option<Result<SecondSoak, PlanError>> {
    let again = |step: &Step| matches!(step, Step::SoakAgain | Step::ReachTheMiddle);
    let short = matches!(seen.took.answer, Answer::No | Answer::Partly);
    if !short || !(again(&seen.advice.first) || again(&seen.advice.then)) {
        return None;
    }
    let second = soak(question, seen, target(question, seen)?, tables);
    // what is likely there already asks for no soak
    Some(second).filter(|second| second.as_ref().map_or(true, |s| s.hold > Time::ZERO))
}

/// What the first soak was to give and did not: the depth where that is what lacks most, else the edge.
fn target(question: &Question, seen: &CrossCheck) -> Option<Target> {
    let took = &seen.took;
    let off = match took.part {
        Part::FinishedEdge => Depth::ZERO,
        Part::Face { off } => off,
    };
    let depth = || {
        let wanted = took.depth.as_ref()?;
        let depth = Depth::from_millimetres(wanted.wanted + off.millimetres()).ok()?;
        Some((wanted.enough, Target::Depth { criterion: wanted.criterion, depth }))
    };
    let edge = || {
        question.run.piece?.edge_thickness.filter(|_| took.part == Part::FinishedEdge)?;
        Some((took.enough, Target::Edge { carbon: CarbonPercent::new(took.wanted).ok()? }))
    };
    let lacks = |a: &(f64, Target), b: &(f64, Target)| a.0.total_cmp(&b.0);
    depth().into_iter().chain(edge()).min_by(lacks).map(|(_, target)| target)
}

fn soak(
    question: &Question,
    seen: &CrossCheck,
    target: Target,
    tables: &Tables,
) -> Result<SecondSoak, PlanError> {
    let run = question.run;
    let intent = Intent {
        stock: run.stock.clone(),
        pack: run.pack.clone(),
        coupon: *run.coupon,
        piece: run.piece.cloned(),
        wedge: None,
        thermometer: run.record.thermometer.clone(),
        temperature: LastHeat::of(run.record, question.physics)?.temperature,
        heat_up: None,
        choice: run.choice.clone(),
        target,
        hardness: None,
        weighed: None,
        first_seen: !seen.agreements.is_empty(),
        history: run.history.cloned(),
    };
    check(&intent, tables)?;
    let before = as_seen(question, seen)?;
    let start = Start::After(&before);
    let needed = Course::new(&intent, start, tables, intent.temperature).needed();
    let needed = needed.map_err(|error| with_remedies(error, &intent, start, tables))?;
    let aimed = tables.need.sure_enough.value;
    let hold = needed.planned(aimed).or(needed.planned(0.5)).unwrap_or_else(|| needed.best());
    Ok(SecondSoak { chance: needed.chance(hold), hold, needed, intent })
}

/// A run as the story that explains its coupon best tells it; as the soak alone does, if nothing was seen. What that story
/// takes for true stands; all else keeps the doubts that it has without a coupon.
pub fn as_seen(question: &Question, seen: &CrossCheck) -> Result<Prediction, PlanError> {
    let prediction = question.prediction;
    if seen.agreements.is_empty() {
        return Ok(prediction.clone());
    }
    let stories = Stories::of(question.run, question.physics);
    let usual = &prediction.story.inputs;
    let solve = |end: &Story| stories.solve(&doubted(&seen.best, usual, &end.inputs));
    let ends = prediction.ends.iter().map(|(doubt, low, high)| Ok((*doubt, solve(low)?, solve(high)?)));
    let ends = ends.collect::<Result<Vec<_>, PredictError>>()?;
    Ok(Prediction { story: stories.solve(&seen.best)?, ends, ..prediction.clone() })
}

/// The best story with one doubt at its `end`, where the story is as usual.
fn doubted(best: &Inputs, usual: &Inputs, end: &Inputs) -> Inputs {
    fn pick<T: Copy + PartialEq>(best: T, usual: T, end: T) -> T {
        if best == usual { end } else { best }
    }
    Inputs {
        temperature_shift: pick(best.temperature_shift, usual.temperature_shift, end.temperature_shift),
        container_radius: pick(best.container_radius, usual.container_radius, end.container_radius),
        pore: pick(best.pore, usual.pore, end.pore),
        charged_cold: pick(best.charged_cold, usual.charged_cold, end.charged_cold),
        late: pick(best.late, usual.late, end.late),
        time_factor: pick(best.time_factor, usual.time_factor, end.time_factor),
        open_air: pick(best.open_air, usual.open_air, end.open_air),
        law_factor: pick(best.law_factor, usual.law_factor, end.law_factor),
        potential: pick(best.potential, usual.potential, end.potential),
        transfer: pick(best.transfer, usual.transfer, end.transfer),
        cooling_law: pick(best.cooling_law, usual.cooling_law, end.cooling_law),
        times: pick(best.times, usual.times, end.times),
        core: pick(best.core, usual.core, end.core),
        piece_shift: pick(best.piece_shift, usual.piece_shift, end.piece_shift),
        visible_edge: pick(best.visible_edge, usual.visible_edge, end.visible_edge),
    }
}
