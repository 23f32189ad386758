use crate::sources::Sourced;
use crate::units::{Depth, Interval, Temperature, Time};

/// What a plan goes by: `models/plan.toml`.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanRules {
    /// Compound under the work.
    pub bottom: Sourced<Depth>,
    /// Compound between work and wall.
    pub sides: Sourced<Depth>,
    /// Compound over the work.
    pub top: Sourced<Depth>,
    /// Compound between two pieces.
    pub between: Sourced<Depth>,
    /// Width of the vent.
    pub vent: Sourced<Interval<Depth>>,
    /// Heat from which the grain of ordinary steel grows.
    pub ordinary_grain: Sourced<Temperature>,
    /// Heat up to which fine-grained steel holds.
    pub fine_grain: Sourced<Temperature>,
    /// How far above A3 a refining heat goes, K.
    pub refine_above_a3: Sourced<Interval<f64>>,
    /// Steel this near to the thermometer's heat is at heat, K.
    pub there: Sourced<f64>,
    /// Heat below which a pack may be opened.
    pub open: Sourced<Temperature>,
    /// The longest hold that is planned.
    pub longest: Sourced<Time>,
    /// Soft core that a coupon must keep.
    pub coupon_core: Sourced<Depth>,
    /// Share of the hold after which a spy is pulled, 0 to 1.
    pub spy_share: Sourced<f64>,
    /// Least distance of a witness's melting range from the planned heat, K.
    pub witness_step: Sourced<f64>,
}
