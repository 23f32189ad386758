use crate::sources::Sourced;
use crate::units::{CarbonPercent, Interval};

/// A steel grade, or a kind of found steel, with its ranges.
#[derive(Debug, Clone, PartialEq)]
pub struct Grade {
    /// Name as the trade writes it, for example `1018`.
    pub name: String,
    /// Other names that mean the same.
    pub aliases: Vec<String>,
    /// Carbon, wt%.
    pub carbon: Sourced<Interval<CarbonPercent>>,
    /// Manganese, wt%, low to high, where the source gives it.
    pub manganese: Option<(f64, f64)>,
    /// What a smith should know about it; may be empty.
    pub note: String,
}

/// The untreated steel of coupon and piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// Name of the grade, or what the user called it.
    pub name: String,
    /// Carbon before the soak, wt%.
    pub carbon: Interval<CarbonPercent>,
    /// Manganese, wt%, low to high, where the grade tells it.
    pub manganese: Option<(f64, f64)>,
}
