//! How the heat went: the log or what stands in for it, the pack, and the steel's own
//! temperature, which lags behind the thermometer.

mod cooling;
mod heat_steps;
mod heat_through;
mod judged;
mod log;
mod pack;
mod record;
mod stage;
mod step;
mod timeline;
mod witness;

pub use crate::steel::QuenchMedium;
pub(crate) use cooling::COLD_K;
pub use heat_through::{Bed, HeatThrough, SQUARE_BOX_RADIUS_PER_WIDTH, STEEL_HEAT_CAPACITY_J_M3_K};
pub use log::{LogError, LogPoint, SoakLog};
pub use pack::{Compound, Container, ContainerShape, Pack, Thermal, Vent};
pub use record::{Cooled, HeatEvidence, SoakRecord, Thermometer, ThermometerPlace};
pub use stage::{CoolingLaw, Stage, StageKind, Surroundings};
pub use step::Step;
pub use timeline::{CoolingDefault, Guesses, Hold, Leg, Timeline, TimelineError};
pub use witness::{Bracket, HeatColour, WitnessMetal, WitnessPlace, WitnessReading};
