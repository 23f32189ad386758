use crate::sources::Sourced;
use crate::units::Time;

/// How photos are put together and judged: the table `photos` of `models/sparks.toml`.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotoReading {
    /// A longer gap between two photos begins a new touch.
    pub touch_gap: Sourced<Time>,
    /// Standard deviation from touch to touch of shares, counts and lengths, relative.
    pub touch_spread: Sourced<f64>,
    /// Exposure times that differ by no more than this factor are the same.
    pub same_exposure: Sourced<f64>,
    /// What a ratio of counts may be off by, as a factor either way, where photos do not tell their exposure.
    pub unknown_exposure: Sourced<f64>,
    /// Share of the carriers that stand apart which finds add up to.
    pub carriers_found: Sourced<f64>,
    /// How much that share differs from photo to photo, standard deviation, relative.
    pub carriers_miscounted: Sourced<f64>,
    /// Share of the bursts that stand apart which finds add up to.
    pub bursts_found: Sourced<f64>,
    /// How much that share differs from photo to photo, standard deviation, relative.
    pub bursts_miscounted: Sourced<f64>,
    /// What bursts for each length of carrier come to by finds, over what they are.
    pub burst_rate_found: Sourced<f64>,
    /// How much that differs from photo to photo, standard deviation, relative.
    pub burst_rate_miscounted: Sourced<f64>,
    /// What the light on one photo may be off by, as a factor either way.
    pub brightness: Sourced<f64>,
    /// A ratio of burst rates from touch to touch, or to the stock, that is a change.
    pub change: Sourced<f64>,
    /// A shutter that records at least this share of a spark's flight shows how long carriers are.
    pub recorded: Sourced<f64>,
    /// Below this resolved share of the stream, a shutter that records whole flights is too long.
    pub resolved: Sourced<f64>,
}
