use crate::sources::Sourced;
use crate::units::{Interval, Time};

/// How fast a pack cools when nobody said: time constant of Newton's cooling to 20 °C,
/// T - 20 °C falls by e in this time.
#[derive(Debug, Clone, PartialEq)]
pub struct CoolingDefault {
    /// In the closed pack, out of the heat.
    pub closed_pack: Sourced<Interval<Time>>,
    /// The bare steel in air.
    pub in_air: Sourced<Interval<Time>>,
}
