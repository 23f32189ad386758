use super::conditions::lost_minutes;
use super::heat::{known_radius, sizes_contradict};
use super::predict::top_kelvin;
use super::{HeatPath, Inputs, Outcome, Physics, Run};
use crate::soak::{Surroundings, Timeline, Vent};

/// Something that the reader of a prediction must know.
#[derive(Debug, Clone, PartialEq)]
pub enum Note {
    /// The steel never got hot enough for any case.
    NeverAboveA1 {
        /// Highest temperature of the steel, °C.
        top_celsius: f64,
        /// A1, °C.
        a1_celsius: f64,
    },
    /// The log does not name the stages; cooling was taken to start here.
    CoolingGuessed {
        /// Minutes from the start.
        minutes: f64,
    },
    /// Nobody described the cooling.
    CoolingAssumed,
    /// The furnace was hot when the log starts.
    StartsHot {
        /// First reading, °C.
        celsius: f64,
    },
    /// The container's size is not known.
    ContainerUnknown,
    /// The steel followed late.
    Lag {
        /// Minutes at the top temperature lost against the thermometer.
        minutes: f64,
    },
    /// The law was not made for this temperature.
    OutsideLaw {
        /// Top temperature, °C.
        top_celsius: f64,
        /// The law's range, °C.
        low_celsius: f64,
        /// °C.
        high_celsius: f64,
    },
    /// A witness and the thermometer exclude each other.
    WitnessAgainstLog {
        /// What the witnesses allow, °C, where bounded.
        at_least_celsius: Option<f64>,
        /// °C.
        below_celsius: Option<f64>,
        /// What the log says, °C.
        log_celsius: f64,
    },
    /// Some stories would be hotter than the eutectic and are held at it.
    CappedAtEutectic {
        /// °C.
        limit_celsius: f64,
    },
    /// The potential is above Acm, where carbide forms: not modelled.
    AboveAcm {
        /// Potential, wt%.
        potential: f64,
        /// Acm at the top temperature, wt%.
        acm: f64,
    },
    /// The stock itself has more carbon than a case depth ends at.
    StockOverCriterion,
    /// Sizes of container, load and gap do not fit into each other.
    SizesContradict,
    /// The coupon is cased through: no core is left to be seen.
    CasedThrough,
    /// A later heat in open air is taken at its worst.
    AirWorstCase,
    /// A sealed container.
    SealedContainer,
    /// Part of the container stood outside the heat.
    PartlyOut,
}

/// What the reader must know about the best story of a run.
pub(super) fn notes_of(
    run: &Run,
    physics: &Physics,
    path: HeatPath,
    timeline: &Timeline,
    outcome: &Outcome,
    inputs: &Inputs,
) -> Vec<Note> {
    let mut notes = Vec::new();
    if run.pack.vent == Some(Vent::None) {
        notes.push(Note::SealedContainer);
    }
    let a1 = physics.phase.a1.value.celsius();
    let top = top_kelvin(outcome.steel.iter()) - 273.15;
    match outcome.equivalent {
        None if top < a1 => notes.push(Note::NeverAboveA1 { top_celsius: top, a1_celsius: a1 }),
        _ => {
            let lost = lost_minutes(path, timeline, outcome, inputs, physics);
            notes.extend(lost.map(|minutes| Note::Lag { minutes }));
        }
    }
    if let Some(s) = timeline.guessed_cooling {
        notes.push(Note::CoolingGuessed { minutes: s / 60.0 });
    }
    if timeline.assumed_cooling {
        notes.push(Note::CoolingAssumed);
    }
    if path.lags() && timeline.starts_hot() {
        notes.push(Note::StartsHot { celsius: timeline.legs[0].points[0].1 - 273.15 });
    }
    if path.lags() && known_radius(run).is_none() {
        notes.push(Note::ContainerUnknown);
    }
    let range = &physics.law.range;
    let at_heat = outcome.equivalent.is_some();
    if at_heat && !(range.low().celsius()..=range.high().celsius()).contains(&top) {
        notes.push(Note::OutsideLaw {
            top_celsius: top,
            low_celsius: range.low().celsius(),
            high_celsius: range.high().celsius(),
        });
    }
    if sizes_contradict(run) {
        notes.push(Note::SizesContradict);
    }
    let acm = physics.phase.acm_wt_percent(top.max(a1) + 273.15);
    let potential = inputs.potential.at(top.max(a1) + 273.15, physics.phase);
    if potential > acm + 1e-9 {
        notes.push(Note::AboveAcm { potential, acm });
    }
    if inputs.core >= physics.criteria.carburization.value.wt_percent() {
        notes.push(Note::StockOverCriterion);
    }
    let visible = physics.criteria.visible.value.best().wt_percent();
    if outcome.coupon.last().is_some_and(|p| p.far() >= visible) && inputs.core < visible {
        notes.push(Note::CasedThrough);
    }
    if timeline.legs.iter().any(|l| l.stage.around == Surroundings::Air) {
        notes.push(Note::AirWorstCase);
    }
    if run.pack.wholly_in_heat == Some(false) {
        notes.push(Note::PartlyOut);
    }
    notes
}
