use super::{SoakLog, Step, WitnessReading};
use crate::sources::Sourced;
use crate::units::{Interval, Temperature, TemperatureStep, Time};

/// What the soak is known from.
#[derive(Debug, Clone, PartialEq)]
pub enum HeatEvidence {
    /// A temperature log.
    Log(SoakLog),
    /// Steps in words.
    Steps(Vec<Step>),
    /// Only how long, with temperature by eye or by metal witnesses.
    TimeAtHeat {
        /// Temperature by eye; `None`: only witnesses tell.
        temperature: Option<Interval<Temperature>>,
        /// Minutes at heat.
        time: Interval<Time>,
        /// Minutes from lighting to heat, if known.
        heat_up: Option<Interval<Time>>,
    },
}

/// Where the thermometer sat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThermometerPlace {
    /// Touching or beside the steel: no lag.
    BesideSteel,
    /// In the charcoal, between wall and steel.
    InPack,
    /// In the furnace or on the container's outside.
    Outside,
    /// No thermometer: judged by eye from outside.
    Eye,
    /// Not known: treated as outside.
    Unknown,
}

/// A thermometer place with how far its reading may be off.
#[derive(Debug, Clone, PartialEq)]
pub struct Thermometer {
    /// Where.
    pub place: ThermometerPlace,
    /// True temperature there minus reading, low to high.
    pub error: Sourced<Interval<TemperatureStep>>,
}

/// How the steel cooled after the soak.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cooled {
    /// In the closed pack.
    ClosedPack,
    /// Pack opened hot, cooled in air.
    OpenedHot,
    /// Quenched straight from the heat.
    QuenchedFromHeat,
    /// Not known: treated as in the closed pack.
    Unknown,
}

/// Everything known about the heat.
#[derive(Debug, Clone, PartialEq)]
pub struct SoakRecord {
    /// Log, steps or time.
    pub evidence: HeatEvidence,
    /// The thermometer.
    pub thermometer: Thermometer,
    /// Metal witnesses.
    pub witnesses: Vec<WitnessReading>,
    /// Cooling.
    pub cooled: Cooled,
    /// What the furnace is called, if told: runs of one furnace tell of each other.
    pub furnace: Option<String>,
}
