use crate::sources::Sourced;
use crate::units::{CarbonPercent, Depth, Interval, Temperature, Time};

/// What a use asks for, and what is advised: `models/verdict.toml`.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    /// Carbon that an edge or a wearing face wants.
    pub wanted: Sourced<CarbonPercent>,
    /// Carbon under which it does not hold.
    pub least: Sourced<CarbonPercent>,
    /// Carbon from which an edge is brittle with carbide between its grains.
    pub brittle: Sourced<CarbonPercent>,
    /// Case depth that counts as one where none was asked for.
    pub depth: Sourced<Depth>,
    /// What cleaning up takes off a face where nobody said.
    pub cleaning: Sourced<Depth>,
    /// Chance from which it is said that it took, 0 to 1.
    pub sure_enough: Sourced<f64>,
    /// Most chance of less than the least carbon for which it is still said that it took; and most chance of the
    /// wanted carbon for which it is said that it is not there.
    pub most_doubt: Sourced<f64>,
    /// Chance from which it is said that it did not.
    pub sure_not: Sourced<f64>,
    /// Share of runs without any fault that may be called a mismatch, all quantities together.
    pub false_alarms: Sourced<f64>,
    /// Share of a run without fault, among all causes, under which a run does not fit, 0 to 1.
    pub least_usual: Sourced<f64>,
    /// Chance of such hardness with such sparks under which the two exclude each other.
    pub exclude: Sourced<f64>,
    /// Heat that a case is hardened from.
    pub hardening: Sourced<Interval<Temperature>>,
    /// Share of martensite in the skin of a piece that hardens.
    pub martensite: Sourced<f64>,
    /// Temper.
    pub temper: Sourced<Temperature>,
    /// How long.
    pub temper_time: Sourced<Time>,
    /// An open-air heat such as a normalising heat.
    pub open_air: Sourced<Temperature>,
    /// How long it lasts.
    pub open_air_time: Sourced<Time>,
    /// Silicon of steel whose silicon is not told, wt%.
    pub silicon: Sourced<f64>,
    /// Manganese of steel whose manganese is not told, wt%.
    pub manganese: Sourced<Interval<f64>>,
}
