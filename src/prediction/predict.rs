use super::doubt::{best, doubts, reading_error};
use super::note::notes_of;
use super::{Doubt, HeatPath, Inputs, Note, Outcome, Physics, Reading, Run, Spread};
use crate::diffusion::Purpose;
use crate::diffusion::{Profile, Section};
use crate::soak::{Bracket, Leg, Stage, Surroundings, Timeline, TimelineError, WitnessPlace};
use crate::transport::NotConverged;
use crate::units::{Depth, Interval, Temperature, Time};
use std::collections::BTreeMap;
use thiserror::Error;

/// Depth that one light touch on the wheel takes off, mm (judgement; measure it with a micrometer).
const ONE_TOUCH_MM: f64 = 0.05;

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
    /// The best story.
    pub inputs: Inputs,
    /// How the thermometer's temperature became the steel's.
    pub path: HeatPath,
    /// Everything of the best story.
    pub outcome: Outcome,
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
}

/// Predicts a run.
pub fn predict(run: &Run, physics: &Physics) -> Result<Prediction, PredictError> {
    let path = HeatPath::of(run);
    let judged = if HeatPath::by_eye(run) { Some(run.record.judged_temperature()?) } else { None };
    let error = reading_error(run, judged.as_ref()).unwrap_or_else(|| Interval::exact(0.0));
    let mut notes = Vec::new();

    let solve = |inputs: &Inputs| -> Result<(Timeline, Outcome), PredictError> {
        let constant = |s: f64| Time::from_seconds(s).unwrap_or(Time::ZERO);
        let timeline =
            Timeline::new(run.record, constant(inputs.pack_cooling), constant(inputs.air_cooling))?;
        let steel = path.steel(&timeline, run, inputs)?;
        check_top(&steel, physics)?;
        let outcome = Outcome::solve(&timeline, path, run, physics, inputs)?;
        Ok((timeline, outcome))
    };

    // what the witnesses allow is judged on the story without any shift
    let plain = best(run, physics, &error);
    let (timeline, first) = solve(&plain)?;
    let shift =
        if judged.is_some() { error } else { with_witnesses(run, &timeline, &first, error, &mut notes) };
    let inputs = best(run, physics, &shift);
    let outcome = if inputs == plain { first } else { solve(&inputs)?.1 };

    let variants = doubts(run, physics, path, &timeline, &shift)
        .into_iter()
        .map(|(doubt, low, high)| {
            // a story at the edge of what is possible may leave the limits; it then counts as the best
            let end = |i: Inputs| match solve(&i) {
                Ok((_, outcome)) => Ok((i, outcome)),
                Err(PredictError::AboveEutectic { .. }) => Ok((inputs, outcome.clone())),
                Err(e) => Err(e),
            };
            Ok((doubt, end(low)?, end(high)?))
        })
        .collect::<Result<Vec<(Doubt, (Inputs, Outcome), (Inputs, Outcome))>, PredictError>>()?;

    let one_touch = Depth::from_millimetres(ONE_TOUCH_MM).unwrap_or(Depth::ZERO);
    let ground = run.ground.unwrap_or(one_touch);
    let stages = timeline
        .legs
        .iter()
        .enumerate()
        .map(|(i, leg)| {
            let read = |which, (inputs, outcome): &(Inputs, Outcome)| {
                outcome.reading(which, i, run, physics, inputs, ground)
            };
            let best = (inputs, outcome.clone());
            let readings = ALL_READINGS
                .iter()
                .filter_map(|&which| {
                    let value = read(which, &best)?;
                    let moved: Vec<_> = variants
                        .iter()
                        .filter_map(|(d, low, high)| Some((*d, read(which, low)?, read(which, high)?)))
                        .collect();
                    let limits = limits(which, run, &timeline);
                    Some((which, Spread::new(value, &moved, limits)))
                })
                .collect();
            StagePrediction { stage: leg.stage, profile: outcome.coupon[i].clone(), readings }
        })
        .collect();
    notes.extend(notes_of(run, physics, path, &timeline, &outcome, &inputs));
    Ok(Prediction { stages, inputs, path, outcome, ground, ground_told: run.ground.is_some(), notes })
}

/// What a reading cannot leave, whatever the doubts: a case cannot be deeper than the section, and
/// only air takes the surface below the leanest stock.
fn limits(which: Reading, run: &Run, timeline: &Timeline) -> (f64, f64) {
    let burnt = timeline.legs.iter().any(|l| l.stage.around == Surroundings::Air);
    let leanest = if burnt { 0.0 } else { run.stock.carbon.low().wt_percent() };
    match which {
        Reading::Total | Reading::Carburization | Reading::Visible => {
            (0.0, Section::of(&run.coupon.shape).depth() * 1e3)
        }
        Reading::Surface | Reading::Far | Reading::GroundMean | Reading::Edge | Reading::GroundFace => {
            (leanest, f64::INFINITY)
        }
        Reading::MassGain if burnt => (f64::NEG_INFINITY, f64::INFINITY),
        Reading::MassGain | Reading::EquivalentMinutes | Reading::TopTemperature => (0.0, f64::INFINITY),
    }
}

const ALL_READINGS: [Reading; 11] = [
    Reading::Surface,
    Reading::Far,
    Reading::GroundMean,
    Reading::Total,
    Reading::Carburization,
    Reading::Visible,
    Reading::MassGain,
    Reading::Edge,
    Reading::GroundFace,
    Reading::EquivalentMinutes,
    Reading::TopTemperature,
];

pub(super) fn top_kelvin<'a>(legs: impl Iterator<Item = &'a Leg>) -> f64 {
    legs.flat_map(|l| &l.points).map(|p| p.1).fold(0.0, f64::max)
}

fn check_top(steel: &[Leg], physics: &Physics) -> Result<(), PredictError> {
    let (got, limit) = (top_kelvin(steel.iter()) - 273.15, physics.phase.eutectic.value.celsius());
    // textbook laws with a fixed surface are asked for at any temperature
    let textbook = physics.law.purpose == Purpose::Textbook;
    if got > limit && !textbook { Err(PredictError::AboveEutectic { got, limit }) } else { Ok(()) }
}

/// Narrows the shift of the thermometer to what the witnesses allow.
fn with_witnesses(
    run: &Run,
    timeline: &Timeline,
    outcome: &Outcome,
    error: Interval<f64>,
    notes: &mut Vec<Note>,
) -> Interval<f64> {
    let beside = Bracket::of(&run.record.witnesses, WitnessPlace::BesideSteel);
    let wall = Bracket::of(&run.record.witnesses, WitnessPlace::AtWall);
    let steel_top = top_kelvin(outcome.steel.iter()) - error.best();
    let wall_top = top_kelvin(timeline.legs.iter());
    let room = |bound: Option<Temperature>, top: f64| bound.map(|t| t.kelvin() - top);
    let lows = [room(beside.at_least, steel_top), room(wall.at_least, wall_top)];
    let highs = [room(beside.below, steel_top), room(wall.below, wall_top)];
    let low = lows.into_iter().flatten().fold(error.low(), f64::max);
    let high = highs.into_iter().flatten().fold(error.high(), f64::min);
    let inside = error.best().clamp(low.min(high), high.max(low));
    if let Some(shift) = Interval::new(low, inside, high) {
        return shift;
    }
    let both = beside.and(wall);
    notes.push(Note::WitnessAgainstLog {
        at_least_celsius: both.at_least.map(Temperature::celsius),
        below_celsius: both.below.map(Temperature::celsius),
        log_celsius: steel_top - 273.15,
    });
    // neither is trusted alone: the range spans both
    Interval::new(high.min(error.low()), error.best(), low.max(error.high())).unwrap_or(error)
}
