use crate::sources::Sourced;
use crate::units::{CarbonPercent, Interval};

/// The carbon contents at which a case is said to end. A depth is never shown without one.
#[derive(Debug, Clone, PartialEq)]
pub struct Criteria {
    /// Total case depth: carbon above the core, wt%.
    pub total_above_core: Sourced<CarbonPercent>,
    /// Carburization depth: carbon, wt%.
    pub carburization: Sourced<CarbonPercent>,
    /// Visible case depth: carbon at the edge that an eye sees on a quenched fracture face, wt%.
    pub visible: Sourced<Interval<CarbonPercent>>,
}
