use super::marginal::Marginal;
use super::note::notes_of;
use super::prior::{Prior, best, reading_error};
use super::story::on_all_cores;
use super::{
    Doubt, HeatPath, History, Inputs, Kept, Note, Outcome, Physics, Reading, Run, Spread, Stories, Story,
};
use crate::diffusion::Purpose;
use crate::diffusion::{Profile, Section};
use crate::soak::{Bracket, Leg, Stage, StageKind, Timeline, TimelineError, WitnessPlace};
use crate::transport::NotConverged;
use crate::units::{Depth, Interval, Temperature};
use std::collections::BTreeMap;
use thiserror::Error;

/// Depth that one light touch on the wheel takes off, mm (judgement; measure it with a micrometer).
const ONE_TOUCH_MM: f64 = 0.05;
/// Time above the eutectic that is taken for a bad reading, s (judgement).
const SPIKE_S: f64 = 30.0;
/// How far beyond a witness that contradicts the thermometer the range goes, K (judgement).
const BEYOND_K: f64 = 40.0;

/// Why there is no prediction.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PredictError {
    /// No timeline.
    #[error(transparent)]
    Timeline(#[from] TimelineError),
    /// Hotter than the phase limits reach.
    #[error(
        "the steel reaches {got:.0} °C, above the iron-carbon eutectic at {limit:.0} °C, where a case melts"
    )]
    AboveEutectic {
        /// °C.
        got: f64,
        /// °C.
        limit: f64,
    },
    /// The solver did not settle.
    #[error(transparent)]
    NotConverged(#[from] NotConverged),
}

impl PredictError {
    /// What to do about it.
    pub fn help(&self) -> &'static str {
        match self {
            Self::Timeline(TimelineError::NoTemperature) => {
                "give a log, steps, a colour, a temperature, or a metal witness"
            }
            Self::Timeline(TimelineError::WitnessesContradict { .. }) => {
                "check which piece was which alloy, and whether both sat in the same place"
            }
            Self::Timeline(TimelineError::FirstStepWithoutTemperature) => {
                "write \"20 min to 925C\" first, or \"hold 75 min at 925C\""
            }
            Self::Timeline(TimelineError::NoStep) => {
                "write at least one step, such as \"hold 75 min at 925C\""
            }
            Self::Timeline(TimelineError::AfterTheEnd(_)) => {
                "a quench ends the run; after the pack was opened only \"foil ...\", \"air ...\" and \"quench\" can follow"
            }
            Self::AboveEutectic { .. } => {
                "check the log and its unit (Fahrenheit read as Celsius?); a case that hot is molten or burnt"
            }
            Self::NotConverged(_) => "this is a fault of the program: please report it with the run sheet",
        }
    }
}

/// The coupon after one stage.
#[derive(Debug, Clone, PartialEq)]
pub struct StagePrediction {
    /// The stage.
    pub stage: Stage,
    /// Profile of the best story.
    pub profile: Profile,
    /// Readings with their ranges.
    pub readings: BTreeMap<Reading, Spread>,
}

/// What the logged soak should have given.
#[derive(Debug, Clone, PartialEq)]
pub struct Prediction {
    /// The coupon, stage by stage; never empty.
    pub stages: Vec<StagePrediction>,
    /// Name of the diffusivity law.
    pub law: String,
    /// The best story.
    pub story: Story,
    /// What is not known exactly of the run.
    pub prior: Prior,
    /// How the thermometer's temperature became the steel's.
    pub path: HeatPath,
    /// Each doubt with the story at its low and at its high end.
    pub ends: Vec<(Doubt, Story, Story)>,
    /// The stories drawn of the run, draw by draw; empty if none were. `None`: nothing comes of that draw.
    pub drawn: Vec<Option<Story>>,
    /// Depth that [`Reading::GroundMean`] is a mean over.
    pub ground: Depth,
    /// Whether that depth was told or is the usual one touch.
    pub ground_told: bool,
    /// What to know.
    pub notes: Vec<Note>,
}

impl Prediction {
    /// The coupon as it is now.
    pub fn last(&self) -> &StagePrediction {
        &self.stages[self.stages.len() - 1]
    }

    /// What comes of a doubt at its low and at its high end; of the best story, if it is no doubt here.
    pub fn outcomes(&self, doubt: Doubt) -> [&Outcome; 2] {
        self.ends
            .iter()
            .find(|end| end.0 == doubt)
            .map_or([&self.story.outcome; 2], |(_, low, high)| [&low.outcome, &high.outcome])
    }
}

/// Predicts a run.
pub fn predict(run: &Run, physics: &Physics) -> Result<Prediction, PredictError> {
    predict_after(None, run, physics)
}

/// Predicts a run with steel that went through another one `before`. A doubt of both moves both alike: it is
/// the same charcoal, steel and thermometer.
pub fn predict_after(
    before: Option<&Prediction>,
    run: &Run,
    physics: &Physics,
) -> Result<Prediction, PredictError> {
    let stories = Stories::of(run, physics);
    let path = stories.path();
    let judged = if HeatPath::by_eye(run) { Some(run.record.judged_temperature()?) } else { None };
    let error = reading_error(run, physics, judged.as_ref());
    let mut notes = Vec::new();

    // what the witnesses allow is judged on the story without any shift
    let plain = best(run, physics, error.best());
    let start = before.map(|b| &b.story.outcome);
    let first = stories.solve_after(start, &plain)?;
    let shift = if judged.is_some() {
        (error.best(), Marginal::at_least(error, f64::NEG_INFINITY))
    } else {
        with_witnesses(run, path, &first.timeline, &first.outcome, error, &mut notes)
    };
    let prior = Prior::of(run, physics, path, &first.timeline, shift);
    let prior = match run.history {
        Some(history) => prior.with(history, &comparable(history, &notes)),
        None => prior,
    };
    let inputs = prior.best();
    let story = if inputs == plain { first } else { stories.solve_after(start, &inputs)? };

    let mut doubts = prior.ends();
    let told = |b: &&(Doubt, Story, Story)| doubts.iter().all(|(doubt, ..)| *doubt != b.0);
    let only_before: Vec<_> = before.iter().flat_map(|b| b.ends.iter().filter(told)).map(|b| b.0).collect();
    doubts.extend(only_before.into_iter().map(|doubt| (doubt, inputs, inputs)));
    let ends: Vec<(Option<&Outcome>, Inputs)> = doubts
        .iter()
        .flat_map(|(doubt, low, high)| {
            let [first, second] = before.map_or([None; 2], |b| b.outcomes(*doubt).map(Some));
            [(first, *low), (second, *high)]
        })
        .collect();
    let solved = on_all_cores(ends.len(), |i| stories.solve_capped(ends[i].0, &ends[i].1));
    let mut capped = false;
    let mut solved = solved.into_iter().map(|solved| solved.inspect(|(_, cap)| capped |= *cap));
    let mut variants: Vec<(Doubt, Story, Story)> = Vec::with_capacity(doubts.len());
    for (doubt, ..) in &doubts {
        if let (Some(low), Some(high)) = (solved.next(), solved.next()) {
            variants.push((*doubt, low?.0, high?.0));
        }
    }
    drop(solved);
    if capped {
        notes.push(Note::CappedAtEutectic { limit_celsius: physics.phase.eutectic.value.celsius() });
    }

    let ends = variants.iter().flat_map(|(_, low, high)| [low, high]);
    let richest = ends.map(|s| stories.potential(s)).fold(stories.potential(&story), f64::max);

    let one_touch = Depth::from_millimetres(ONE_TOUCH_MM).unwrap_or(Depth::ZERO);
    let ground = run.ground.unwrap_or(one_touch);
    let stages = story
        .timeline
        .legs
        .iter()
        .enumerate()
        .map(|(i, leg)| {
            let read = |which, story: &Story| stories.read(story, which, i, ground);
            let readings = ALL_READINGS
                .iter()
                .filter_map(|&which| {
                    let value = read(which, &story)?;
                    let moved: Vec<_> = variants
                        .iter()
                        .filter_map(|(d, low, high)| Some((*d, read(which, low)?, read(which, high)?)))
                        .collect();
                    let ends = moved.iter().flat_map(|(_, a, b)| [a.number, b.number]);
                    let least = ends.fold(value.number, f64::min);
                    Some((which, Spread::new(value, &moved, limits(which, run, physics, (least, richest)))))
                })
                .collect();
            StagePrediction { stage: leg.stage, profile: story.outcome.coupon[i].clone(), readings }
        })
        .collect();
    notes.extend(notes_of(run, physics, path, &story.timeline, &story.outcome, &inputs));
    notes.sort_by_key(|n| *n != Note::SealedContainer);
    let law = physics.law.name.clone();
    let ground_told = run.ground.is_some();
    Ok(Prediction {
        stages,
        law,
        story,
        prior,
        path,
        ends: variants,
        drawn: Vec::new(),
        ground,
        ground_told,
        notes,
    })
}

/// What a reading cannot leave, whatever the doubts, given its least value and the highest potential in
/// any story: a case cannot be deeper than the section; carbon cannot be leaner than the leanest stock,
/// unless some story takes it out, nor richer than stock and potential; and mass is not lost unless some
/// story loses it.
fn limits(which: Reading, run: &Run, physics: &Physics, (least, richest): (f64, f64)) -> (f64, f64) {
    let leanest = run.stock.carbon.low().wt_percent().min(least);
    match which {
        Reading::Total | Reading::Carburization | Reading::Visible => {
            (0.0, Section::of(&run.coupon.shape).depth() * 1e3)
        }
        Reading::Surface | Reading::Far | Reading::GroundMean | Reading::Edge | Reading::GroundFace => {
            (leanest, richest.max(run.stock.carbon.high().wt_percent()))
        }
        Reading::MassGain | Reading::CouponGain if least < 0.0 => (f64::NEG_INFINITY, f64::INFINITY),
        Reading::MassGain | Reading::CouponGain | Reading::EquivalentMinutes => (0.0, f64::INFINITY),
        Reading::TopTemperature => (0.0, physics.phase.eutectic.value.celsius()),
    }
}

const ALL_READINGS: [Reading; 12] = [
    Reading::Surface,
    Reading::Far,
    Reading::GroundMean,
    Reading::Total,
    Reading::Carburization,
    Reading::Visible,
    Reading::MassGain,
    Reading::CouponGain,
    Reading::Edge,
    Reading::GroundFace,
    Reading::EquivalentMinutes,
    Reading::TopTemperature,
];

pub(super) fn top_kelvin<'a>(legs: impl Iterator<Item = &'a Leg>) -> f64 {
    legs.flat_map(|l| &l.points).map(|p| p.1).fold(0.0, f64::max)
}

/// Refuses a heat that melts the case. Less than [`SPIKE_S`] above the limit is a reading, not a heat.
pub(super) fn check_top(steel: &[Leg], physics: &Physics) -> Result<(), PredictError> {
    let limit = physics.phase.eutectic.value;
    let (mut above, mut got) = (0.0, 0.0_f64);
    for w in steel.iter().flat_map(|l| l.points.windows(2)) {
        let hotter = f64::midpoint(w[0].1, w[1].1);
        if hotter > limit.kelvin() {
            above += w[1].0 - w[0].0;
            got = got.max(w[0].1).max(w[1].1);
        }
    }
    // textbook laws with a fixed surface are asked for at any temperature
    if above <= SPIKE_S || physics.law.purpose == Purpose::Textbook {
        return Ok(());
    }
    Err(PredictError::AboveEutectic { got: got - 273.15, limit: limit.celsius() })
}

/// What earlier runs tell that can be held against this one: a thermometer that its witnesses contradict is off by more than
/// its usual curve says.
fn comparable(history: &History, notes: &[Note]) -> Vec<Kept> {
    let against = notes.iter().any(|note| matches!(note, Note::WitnessAgainstLog { .. }));
    history.told.iter().copied().filter(|kept| !(against && *kept == Kept::Offset)).collect()
}

/// Narrows the shift of the thermometer to what the witnesses allow: the best, and how it is spread. A witness beside steel that lags
/// bounds the outside from below only; how late the steel was is settled by it in [`HeatPath`].
fn with_witnesses(
    run: &Run,
    path: HeatPath,
    timeline: &Timeline,
    outcome: &Outcome,
    error: Interval<f64>,
    notes: &mut Vec<Note>,
) -> (f64, Marginal) {
    let beside = Bracket::of(&run.record.witnesses, WitnessPlace::BesideSteel);
    let mut wall = Bracket::of(&run.record.witnesses, WitnessPlace::AtWall);
    if !HeatPath::at_wall(run) {
        // a wall hotter than the steel proves nothing of a thermometer inside
        wall.at_least = None;
    }
    let packed = |legs: &[Leg]| {
        let in_pack = |l: &&Leg| matches!(l.stage.kind, StageKind::Soak | StageKind::PackCool);
        top_kelvin(legs.iter().filter(in_pack))
    };
    let outside = packed(&timeline.legs);
    let steel = if path.lags() { outside } else { packed(&outcome.steel) - error.best() };
    let room = |bound: Option<Temperature>, top: f64| bound.map(|t| t.kelvin() - top);
    let below_beside = if path.lags() { None } else { beside.below };
    let lows = [room(beside.at_least, steel), room(wall.at_least, outside)];
    let highs = [room(below_beside, steel), room(wall.below, outside)];
    let least = lows.into_iter().flatten().fold(f64::NEG_INFINITY, f64::max);
    let most = highs.into_iter().flatten().fold(f64::INFINITY, f64::min);
    let (low, high) = (least.max(error.low()), most.min(error.high()));
    if low <= high {
        return (error.best().clamp(low, high), Marginal::Normal { range: error, least, most });
    }
    let both = beside.and(wall);
    notes.push(Note::WitnessAgainstLog {
        at_least_celsius: both.at_least.map(Temperature::celsius),
        below_celsius: both.below.map(Temperature::celsius),
        log_celsius: steel - 273.15,
    });
    // metal that melted or did not is believed; the range reaches back to the thermometer
    let believed = if low > error.high() {
        Interval::new(error.low(), low, low + BEYOND_K)
    } else {
        Interval::new(high - BEYOND_K, high, error.high())
    };
    let believed = believed.unwrap_or(error);
    (believed.best(), Marginal::at_least(believed, f64::NEG_INFINITY))
}
