use super::{Criteria, History, ModelChoice, Priors};
use crate::diffusion::{Law, Potential};
use crate::soak::{CoolingDefault, CoolingLaw, Guesses, Hold, Pack, SoakRecord};
use crate::sources::Sourced;
use crate::steel::{Coupon, PhaseLimits, Piece, Stock};
use crate::units::{Depth, Interval};

/// The tables that a prediction rests on.
#[derive(Debug, Clone, Copy)]
pub struct Physics<'a> {
    /// The diffusivity law to use.
    pub law: &'a Law,
    /// Factor on its diffusivity: the scatter between laws.
    pub law_scatter: &'a Sourced<Interval<f64>>,
    /// Phase limits.
    pub phase: &'a PhaseLimits,
    /// Where a case ends.
    pub criteria: &'a Criteria,
    /// Cooling that nobody described.
    pub cooling: &'a CoolingDefault,
    /// What nobody measures.
    pub priors: &'a Priors,
}

/// What is known of one run.
#[derive(Debug, Clone, Copy)]
pub struct Run<'a> {
    /// The heat.
    pub record: &'a SoakRecord,
    /// The pack.
    pub pack: &'a Pack,
    /// The steel before.
    pub stock: &'a Stock,
    /// The coupon.
    pub coupon: &'a Coupon,
    /// The piece, if the run sheet names one.
    pub piece: Option<&'a Piece>,
    /// Depth ground away while sparking, if known.
    pub ground: Option<Depth>,
    /// What was set by hand.
    pub choice: &'a ModelChoice,
    /// A hold that is planned after all that the record tells.
    pub then: Option<Hold>,
    /// What earlier runs of the same furnace and container tell.
    pub history: Option<&'a History>,
}

/// A heat in open air, taken at its worst: a surface bare of carbon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenAir {
    /// How long, s.
    pub seconds: f64,
    /// How hot, K.
    pub kelvin: f64,
}

/// One story of a run: a single value for everything that is not known exactly. SI units, wt%.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inputs {
    /// True temperature minus reading, K.
    pub temperature_shift: f64,
    /// Inner radius of the container as a cylinder, m.
    pub container_radius: f64,
    /// Pore size of the compound, m.
    pub pore: f64,
    /// Whether the container was cold when the log starts, however hot the furnace was.
    pub charged_cold: bool,
    /// How much later than this path says the steel got hot, s; it still cools on time.
    pub late: f64,
    /// Factor on all times of the record, -: 1 if the clock is believed.
    pub time_factor: f64,
    /// A heat in open air that nobody told of, after all others.
    pub open_air: Option<OpenAir>,
    /// Factor on the diffusivity, -.
    pub law_factor: f64,
    /// Potential of the pack.
    pub potential: Potential,
    /// Transfer coefficient, m/s; infinity: held.
    pub transfer: f64,
    /// What the surface does while the pack cools.
    pub cooling_law: CoolingLaw,
    /// Times that nobody measured.
    pub times: Guesses,
    /// Carbon before, wt%.
    pub core: f64,
    /// Temperature of the piece minus that of the coupon, K.
    pub piece_shift: f64,
    /// Carbon at the visible edge of the case, wt%.
    pub visible_edge: f64,
}
