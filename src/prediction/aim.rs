use crate::units::{CarbonPercent, Depth, Hrc, Interval};

/// By which criterion a wanted depth is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DepthCriterion {
    /// Total case depth: carbon at the core's plus a little.
    Total,
    /// Carburization depth: 0.35 %C.
    Carburization,
    /// What an eye sees on a quenched fracture face.
    Visible,
    /// Effective case depth to 550 HV1.
    Effective550Hv,
    /// Effective case depth to 50 HRC.
    Effective50Hrc,
}

/// What the piece must do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// Cut: the finished edge must be hard.
    CuttingEdge,
    /// Wear: a face must be hard to a depth.
    WearingFace,
    /// Anything else.
    Other,
}

/// What the smith wants from the soak. `None`: not said.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Aim {
    /// Wanted depth.
    pub depth: Option<Interval<Depth>>,
    /// Which depth is meant.
    pub criterion: Option<DepthCriterion>,
    /// Wanted carbon at the finished edge, wt%.
    pub edge_carbon: Option<Interval<CarbonPercent>>,
    /// Wanted hardness after the usual temper.
    pub hardness: Option<Interval<Hrc>>,
    /// What it is for.
    pub purpose: Option<Use>,
}
