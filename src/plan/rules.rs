use super::HeatRules;
use crate::prediction::Physics;
use crate::sources::Sourced;
use crate::units::{CarbonPercent, Depth, Interval, Temperature, Time};

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
    /// Heats after the soak.
    pub heats: HeatRules,
}

impl PlanRules {
    /// Heat that refines the grain of steel with this core, °C.
    pub(super) fn refining_heat(&self, physics: &Physics, core: f64) -> Interval<f64> {
        // the fit of A3 begins at 0.02 %C; pure iron's is 912 °C
        let a3 = CarbonPercent::new(core.max(0.02)).map_or(912.0, |c| physics.phase.a3_celsius(c));
        let above = &self.refine_above_a3.value;
        let heat = Interval::new(a3 + above.low(), a3 + above.best(), a3 + above.high());
        heat.unwrap_or_else(|| Interval::exact(a3))
    }
}
