use crate::sources::Sourced;
use crate::units::{Interval, Temperature};

/// How well eye, file and balance tell, and how a coupon is quenched when nobody said: the table
/// `[reading]` of `models/causes.toml`. One standard deviation where a spread is meant.
#[derive(Debug, Clone, PartialEq)]
pub struct Eyes {
    /// Spread of carbon read from sparks, wt%.
    pub spark: Sourced<f64>,
    /// Added to it, wt% per wt% of carbon.
    pub spark_per_carbon: Sourced<f64>,
    /// Share of observations that are plainly wrong.
    pub slip: Sourced<f64>,
    /// Rim that is just seen, mm.
    pub least_rim: Sourced<Interval<f64>>,
    /// Share of real rims that show on some sides only.
    pub one_sided: Sourced<f64>,
    /// Brushing and handling of a weighed coupon, mg.
    pub gain_mg: Sourced<f64>,
    /// Carbon from which sparks are called rich, wt%.
    pub rich: Sourced<Interval<f64>>,
    /// How deep somebody grinds who watches the sparks change, mm.
    pub inward_mm: Sourced<f64>,
    /// Share of martensite in the skin of a coupon quenched in oil.
    pub oil_martensite: Sourced<Interval<f64>>,
    /// The same in water or brine.
    pub water_martensite: Sourced<Interval<f64>>,
    /// Heat that a coupon is quenched from when nobody said.
    pub hardening: Sourced<Interval<Temperature>>,
    /// Hardening heat from which a rich case keeps soft austenite.
    pub hot: Sourced<Temperature>,
    /// Heat of steel that the magnet just let go.
    pub past_magnet: Sourced<Interval<Temperature>>,
    /// How far coupons are not alike all over, and the solver is off: carbon, wt%.
    pub uneven: Sourced<f64>,
    /// The same of depths, mm.
    pub uneven_mm: Sourced<f64>,
    /// Chance that a coupon of which nobody said how it was quenched is hard when it is filed and snapped.
    pub hardened_unsaid: Sourced<f64>,
    /// Chances that a face without a true edge is taken for none, some sides, all round, through.
    pub no_border: Sourced<[f64; 4]>,
    /// The same of the break of a coupon that was never hardened.
    pub soft_break: Sourced<[f64; 4]>,
    /// The same of a lip or a hard shell.
    pub lip: Sourced<[f64; 4]>,
    /// Depth of what passes for a rim on either of the first and the last, mm.
    pub lip_mm: Sourced<Interval<f64>>,
    /// Deepest rim that a plainly wrong reading may name, mm.
    pub slip_mm: Sourced<f64>,
    /// Chance that a file skates on steel that did not harden.
    pub skates_on_soft: Sourced<f64>,
    /// How far from its own a metal witness may melt, K.
    pub metal_kelvin: Sourced<f64>,
    /// Chance of a story against which a metal witness beside the steel speaks.
    pub against_metal: Sourced<f64>,
}
