#[cfg(doc)]
use super::Kept;
use crate::sources::Sourced;
use crate::units::{Interval, Time};

/// What no smith measures and no other table holds, before anything was seen: `models/priors.toml`. A range holds nine
/// in ten.
#[derive(Debug, Clone, PartialEq)]
pub struct Priors {
    /// Inner radius, as a cylinder, of a container of which nobody said how wide it is, m.
    pub container_radius: Sourced<Interval<f64>>,
    /// From lighting to heat where nobody said.
    pub heat_up: Sourced<Interval<Time>>,
    /// CO2 under a lid that gapes, as a multiple of what charcoal keeps under one that is luted.
    pub gaping_lid_co2: Sourced<Interval<f64>>,
    /// Transfer coefficient that a held surface counts as where a cause makes it slower, m/s.
    pub held_as: Sourced<f64>,
    /// How much colder the steel may be where part of the container stood outside the heat, K.
    pub partly_out: Sourced<f64>,
    /// Temperature between coupon and piece where one is said to have sat hotter, K.
    pub told_place: Sourced<Interval<f64>>,
    /// The same where nobody said, either way, K.
    pub untold_place: Sourced<f64>,
    /// Chance that the surface follows Acm down while the pack cools, 0 to 1.
    pub follows_acm: Sourced<f64>,
    /// Chance that a log which starts hot was switched on late, 0 to 1.
    pub already_hot: Sourced<f64>,
    /// Share of the variance of each of [`Kept::ALL`] that stays with furnace and container from run to run, 0 to 1.
    pub stays: [Sourced<f64>; 3],
}
