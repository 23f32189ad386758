use super::cooling::{COLD_K, COOLED_K, cooling_start, fall, newton, thinned};
use super::{Cooled, HeatEvidence, SoakLog, SoakRecord, Stage, StageKind, Step};
use crate::sources::Sourced;
use crate::units::{Interval, Temperature, Time};
use thiserror::Error;

/// A furnace hotter than this at the start of a log was lit before it, K (judgement: 200 °C).
const STARTS_HOT_K: f64 = 473.15;
/// How fast a pack cools when nobody said: time constant of Newton's cooling to 20 °C,
/// T - 20 °C falls by e in this time.
#[derive(Debug, Clone, PartialEq)]
pub struct CoolingDefault {
    /// In the closed pack, out of the heat.
    pub closed_pack: Sourced<Interval<Time>>,
    /// The bare steel in air.
    pub in_air: Sourced<Interval<Time>>,
}

/// A stretch of the run: one stage and its temperatures.
#[derive(Debug, Clone, PartialEq)]
pub struct Leg {
    /// What happens.
    pub stage: Stage,
    /// Seconds since the start, kelvin; straight between points.
    pub points: Vec<(f64, f64)>,
}

/// The whole run as the thermometer saw it.
#[derive(Debug, Clone, PartialEq)]
pub struct Timeline {
    /// Stretches in order.
    pub legs: Vec<Leg>,
    /// Where cooling was taken to start, s, if that had to be guessed from the log.
    pub guessed_cooling: Option<f64>,
    /// Whether cooling was made up from a time constant.
    pub assumed_cooling: bool,
}

/// Why a record makes no timeline.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum TimelineError {
    /// No temperature at all.
    #[error("nothing tells how hot it was")]
    NoTemperature,
    /// Witnesses exclude each other.
    #[error(
        "a witness melted at {melted_celsius:.0} °C or more while one that melts below {kept_celsius:.0} °C kept its shape"
    )]
    WitnessesContradict {
        /// What the melted one proves, °C.
        melted_celsius: f64,
        /// What the other one excludes, °C.
        kept_celsius: f64,
    },
    /// The first step does not say how hot.
    #[error("the first step does not say at what temperature")]
    FirstStepWithoutTemperature,
    /// No step at all.
    #[error("there is no step")]
    NoStep,
    /// Something after the quench.
    #[error("step {0} comes after a quench or after the pack was opened")]
    AfterTheEnd(usize),
}

/// What a story takes for the times that nobody measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Guesses {
    /// Time constant of cooling in the closed pack, s.
    pub closed_pack: f64,
    /// Time constant of cooling in air, s.
    pub in_air: f64,
    /// Time at heat, s, where only that is known.
    pub at_heat: f64,
    /// Time from lighting to heat, s, likewise.
    pub heat_up: f64,
    /// A hold after all that the record tells, before the pack cools; `None`: nothing follows.
    pub then: Option<Hold>,
}

/// Steady heat in the pack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hold {
    /// How long, s.
    pub seconds: f64,
    /// At what the thermometer reads, K.
    pub kelvin: f64,
}

impl Timeline {
    /// From what is known, with guesses for the rest.
    pub fn new(record: &SoakRecord, guesses: &Guesses) -> Result<Self, TimelineError> {
        let mut quenched = record.cooled == Cooled::QuenchedFromHeat;
        let still_hot = quenched || guesses.then.is_some();
        let mut timeline = match &record.evidence {
            HeatEvidence::Log(log) => Self::from_log(log, record.cooled, still_hot),
            HeatEvidence::Steps(steps) => {
                quenched |= steps.iter().any(|s| matches!(s, Step::Quench { .. }));
                Self::from_steps(steps, guesses)?
            }
            HeatEvidence::TimeAtHeat { .. } => {
                let top = record.judged_temperature()?.best().kelvin();
                let (up, end) = (guesses.heat_up, guesses.heat_up + guesses.at_heat);
                let mut points = vec![(0.0, COLD_K), (up, top)];
                points.extend((end > up).then_some((end, top)));
                Self::of(vec![Leg { stage: Stage::SOAK, points }])
            }
        };
        if let Some(hold) = guesses.then {
            timeline.hold(hold);
            quenched = false;
        }
        if !quenched {
            timeline.finish(record.cooled, guesses);
        }
        if timeline.legs.is_empty() { Err(TimelineError::NoStep) } else { Ok(timeline) }
    }

    /// Whether it starts in a hot furnace: then either a cold container was put into it, or the log
    /// was switched on late.
    pub fn starts_hot(&self) -> bool {
        self.legs.first().and_then(|l| l.points.first()).is_some_and(|p| p.1 > STARTS_HOT_K)
    }

    fn of(legs: Vec<Leg>) -> Self {
        Self { legs, guessed_cooling: None, assumed_cooling: false }
    }

    /// `still_hot`: the log ends at heat, whatever it looks like.
    fn from_log(log: &SoakLog, cooled: Cooled, still_hot: bool) -> Self {
        let points: Vec<(f64, f64)> =
            log.points().iter().map(|p| (p.time.seconds(), p.temperature.kelvin())).collect();
        // a quench ends the log's use: up to there all of it is soak
        if log.points().iter().any(|p| p.stage.is_some()) {
            return Self::of(by_stage(log, &points));
        }
        let points = thinned(points);
        let Some(i) = cooling_start(&points).filter(|_| !still_hot) else {
            return Self::of(vec![Leg { stage: Stage::SOAK, points }]);
        };
        let mut legs = Vec::new();
        if i > 0 {
            legs.push(Leg { stage: Stage::SOAK, points: points[..=i].to_vec() });
        }
        legs.push(Leg { stage: cooling_stage(cooled), points: points[i..].to_vec() });
        Self { guessed_cooling: Some(points[i].0), ..Self::of(legs) }
    }

    fn from_steps(steps: &[Step], guesses: &Guesses) -> Result<Self, TimelineError> {
        let mut legs: Vec<Leg> = Vec::new();
        let mut now = (0.0, COLD_K);
        let mut ended = false;
        let mut opened = false;
        for (i, step) in steps.iter().enumerate() {
            let later_heat =
                matches!(step, Step::SealedHeat { .. } | Step::AirHeat { .. } | Step::Quench { .. });
            if ended || (opened && !later_heat) {
                return Err(TimelineError::AfterTheEnd(i + 1));
            }
            let (stage, points) = match *step {
                Step::HeatTo { to, over } => (Stage::SOAK, vec![now, (now.0 + over.seconds(), to.kelvin())]),
                Step::Hold { time, at } => {
                    let kelvin = match at {
                        Some(t) => t.kelvin(),
                        None if legs.is_empty() => return Err(TimelineError::FirstStepWithoutTemperature),
                        None => now.1,
                    };
                    (Stage::SOAK, vec![(now.0, kelvin), (now.0 + time.seconds(), kelvin)])
                }
                Step::CoolInPack { time, to } => {
                    let time = time.map(Time::seconds);
                    let constant = match (time, to) {
                        (None, _) => guesses.closed_pack,
                        (Some(t), to) => t / fall(now.1, to.map(Temperature::kelvin)),
                    };
                    (Stage::PACK_COOL, newton(now, constant, time))
                }
                Step::OpenHot => (Stage::AIR_COOL, newton(now, guesses.in_air, None)),
                Step::SealedHeat { time, at } => (Stage::SEALED_REHEAT, hold(now.0, time, at)),
                Step::AirHeat { time, at } => (Stage::AIR_REHEAT, hold(now.0, time, at)),
                Step::Quench { .. } => {
                    ended = true;
                    continue;
                }
            };
            opened |= stage == Stage::AIR_COOL || later_heat;
            now = points[points.len() - 1];
            match legs.last_mut() {
                Some(last) if last.stage == stage && stage == Stage::SOAK => last.points.extend(points),
                _ => legs.push(Leg { stage, points }),
            }
        }
        if legs.is_empty() { Err(TimelineError::NoStep) } else { Ok(Self::of(legs)) }
    }

    /// Adds a hold to the soak that the record ends with.
    fn hold(&mut self, Hold { seconds, kelvin }: Hold) {
        let Some(last) = self.legs.last_mut().filter(|l| l.stage == Stage::SOAK) else { return };
        let end = last.points[last.points.len() - 1];
        last.points.extend((end.1 != kelvin).then_some((end.0, kelvin)));
        last.points.extend((seconds > 0.0).then_some((end.0 + seconds, kelvin)));
    }

    /// Adds the cooling that was not described: after the soak, or where a log stops in its fall.
    fn finish(&mut self, cooled: Cooled, guesses: &Guesses) {
        let Some(last) = self.legs.last_mut() else { return };
        let end = last.points[last.points.len() - 1];
        if end.1 <= COOLED_K || last.stage.kind == StageKind::Reheat {
            return;
        }
        let stage = if last.stage == Stage::SOAK { cooling_stage(cooled) } else { last.stage };
        let constant = if stage == Stage::AIR_COOL { guesses.in_air } else { guesses.closed_pack };
        let points = newton(end, constant, None);
        if last.stage == stage {
            last.points.extend_from_slice(&points[1..]);
        } else {
            self.legs.push(Leg { stage, points });
        }
        self.assumed_cooling = true;
    }
}

fn hold(start: f64, time: Time, at: Temperature) -> Vec<(f64, f64)> {
    vec![(start, at.kelvin()), (start + time.seconds(), at.kelvin())]
}

fn cooling_stage(cooled: Cooled) -> Stage {
    match cooled {
        Cooled::OpenedHot => Stage::AIR_COOL,
        Cooled::ClosedPack | Cooled::Unknown | Cooled::QuenchedFromHeat => Stage::PACK_COOL,
    }
}

fn by_stage(log: &SoakLog, points: &[(f64, f64)]) -> Vec<Leg> {
    let mut legs: Vec<Leg> = Vec::new();
    let mut stage = Stage::SOAK;
    for (point, &p) in log.points().iter().zip(points) {
        stage = point.stage.unwrap_or(stage);
        match legs.last_mut() {
            Some(last) if last.stage == stage => last.points.push(p),
            Some(last) => {
                last.points.push(p);
                legs.push(Leg { stage, points: vec![p] });
            }
            None => legs.push(Leg { stage, points: vec![p] }),
        }
    }
    legs.retain(|leg| leg.points.len() > 1);
    for leg in &mut legs {
        leg.points = thinned(std::mem::take(&mut leg.points));
    }
    legs
}

#[cfg(test)]
mod tests {
    use super::super::{LogPoint, Thermometer, ThermometerPlace, WitnessMetal, WitnessPlace, WitnessReading};
    use super::*;
    use crate::sources::Status;
    use crate::units::TemperatureStep;

    fn c(celsius: f64) -> Temperature {
        Temperature::from_celsius(celsius).unwrap()
    }
    fn min(minutes: f64) -> Time {
        Time::from_minutes(minutes).unwrap()
    }
    fn sourced<T>(value: T) -> Sourced<T> {
        Sourced { value, source: String::new(), place: String::new(), status: Status::Judgement }
    }
    fn record(evidence: HeatEvidence, cooled: Cooled) -> SoakRecord {
        let error = sourced(Interval::exact(TemperatureStep::from_kelvin(0.0)));
        let thermometer = Thermometer { place: ThermometerPlace::BesideSteel, error };
        SoakRecord { evidence, thermometer, witnesses: Vec::new(), cooled, furnace: None }
    }
    fn timeline(record: &SoakRecord) -> Result<Timeline, TimelineError> {
        let at_heat = match &record.evidence {
            HeatEvidence::TimeAtHeat { time, .. } => time.best().seconds(),
            _ => 0.0,
        };
        Timeline::new(
            record,
            &Guesses { closed_pack: 2400.0, in_air: 240.0, at_heat, heat_up: 2700.0, then: None },
        )
    }
    fn log(points: &[(f64, f64)], cooled: Cooled) -> SoakRecord {
        let point = |&(m, t): &(f64, f64)| LogPoint { time: min(m), temperature: c(t), stage: None };
        let log = SoakLog::new(points.iter().map(point).collect()).unwrap();
        record(HeatEvidence::Log(log), cooled)
    }
    fn stages(timeline: &Timeline) -> Vec<Stage> {
        timeline.legs.iter().map(|l| l.stage).collect()
    }

    #[test]
    fn finds_where_a_log_begins_to_cool() {
        let run = log(&[(0.0, 20.0), (45.0, 900.0), (90.0, 905.0), (180.0, 300.0)], Cooled::ClosedPack);
        let t = timeline(&run).unwrap();
        assert_eq!(stages(&t), [Stage::SOAK, Stage::PACK_COOL]);
        assert_eq!(t.guessed_cooling, Some(90.0 * 60.0));
        // a dip inside the soak is no cooling
        let dip = log(
            &[(0.0, 20.0), (45.0, 900.0), (60.0, 860.0), (75.0, 900.0), (120.0, 900.0), (121.0, 895.0)],
            Cooled::QuenchedFromHeat,
        );
        assert_eq!(stages(&timeline(&dip).unwrap()), [Stage::SOAK]);
    }

    #[test]
    fn makes_up_the_cooling_that_nobody_described() {
        let hot = log(&[(0.0, 20.0), (45.0, 900.0), (90.0, 900.0)], Cooled::Unknown);
        let t = timeline(&hot).unwrap();
        assert_eq!(stages(&t), [Stage::SOAK, Stage::PACK_COOL]);
        assert!(t.assumed_cooling);
        // Newton: after one time constant (40 min) 1/e of the excess is left
        let cool = &t.legs[1].points;
        let last = cool[cool.len() - 1];
        assert!((last.1 - COOLED_K).abs() < 1e-6);
        let opened = timeline(&log(&[(0.0, 900.0), (90.0, 900.0)], Cooled::OpenedHot)).unwrap();
        assert_eq!(stages(&opened), [Stage::SOAK, Stage::AIR_COOL]);
    }

    #[test]
    fn steps_become_stages() {
        let steps = vec![
            Step::HeatTo { to: c(925.0), over: min(20.0) },
            Step::Hold { time: min(75.0), at: None },
            Step::CoolInPack { time: Some(min(120.0)), to: Some(c(500.0)) },
            Step::SealedHeat { time: min(10.0), at: c(800.0) },
            Step::Quench { medium: None },
        ];
        let t = timeline(&record(HeatEvidence::Steps(steps), Cooled::Unknown)).unwrap();
        assert_eq!(stages(&t), [Stage::SOAK, Stage::PACK_COOL, Stage::SEALED_REHEAT]);
        let cool = &t.legs[1].points;
        assert!((cool[cool.len() - 1].1 - 773.15).abs() < 1e-6);
        assert!((cool[cool.len() - 1].0 - 215.0 * 60.0).abs() < 1e-6);
        let after = vec![Step::Quench { medium: None }, Step::Hold { time: min(1.0), at: Some(c(900.0)) }];
        let error = timeline(&record(HeatEvidence::Steps(after), Cooled::Unknown)).unwrap_err();
        assert_eq!(error, TimelineError::AfterTheEnd(2));
    }

    #[test]
    fn witnesses_bracket_a_soak_without_log() {
        let metal = |low, high| WitnessMetal {
            name: String::new(),
            aliases: Vec::new(),
            solidus: sourced(Interval::exact(c(low))),
            liquidus: sourced(Interval::exact(c(high))),
            note: String::new(),
            keep_out: false,
        };
        let at_heat =
            HeatEvidence::TimeAtHeat { temperature: None, time: Interval::exact(min(60.0)), heat_up: None };
        let mut run = record(at_heat, Cooled::QuenchedFromHeat);
        assert_eq!(timeline(&run).unwrap_err(), TimelineError::NoTemperature);
        let read = |metal, melted| WitnessReading { metal, melted, place: WitnessPlace::BesideSteel };
        run.witnesses = vec![read(metal(888.0, 899.0), true), read(metal(916.0, 954.0), false)];
        let t = run.judged_temperature().unwrap();
        assert_eq!((t.low(), t.high()), (c(888.0), c(954.0)));
        run.witnesses = vec![read(metal(961.8, 961.8), true), read(metal(888.0, 899.0), false)];
        assert!(matches!(timeline(&run), Err(TimelineError::WitnessesContradict { .. })));
    }
}
