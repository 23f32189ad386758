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
}
