use crate::sources::Sourced;
use crate::units::{Depth, Interval};

/// Thermal properties of a bed of compound.
/// k(T) = `conduction` + 5.33 e σ T³ d, d the pore size (Basu, Biomass Gasification, eq. 3.12).
#[derive(Debug, Clone, PartialEq)]
pub struct Thermal {
    /// Conductivity without radiation, W/(m K).
    pub conduction: Sourced<f64>,
    /// Size of the gaps that radiation crosses, m.
    pub pore: Sourced<Interval<f64>>,
    /// Heat capacity of the bed per volume, J/(m³ K).
    pub heat_capacity: Sourced<f64>,
}

/// A carburizing compound, as `models/packs.toml` knows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Compound {
    /// Name used in run sheets.
    pub name: String,
    /// Other words for it.
    pub aliases: Vec<String>,
    /// Carbon potential as a share of Acm at temperature.
    pub share_of_acm: Sourced<Interval<f64>>,
    /// Transfer coefficient, m/s; infinity: the surface is held at the potential.
    pub transfer: Sourced<Interval<f64>>,
    /// Heat.
    pub thermal: Thermal,
    /// What a smith should know about it; may be empty.
    pub note: String,
}

/// Kind of container.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ContainerShape {
    /// Round, packed along its axis.
    Pipe,
    /// Square section.
    Box,
}

/// The container.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Container {
    /// Pipe or box.
    pub shape: ContainerShape,
    /// Inner diameter of a pipe, smaller inner width of a box.
    pub inside: Option<Depth>,
    /// Thickness of its wall.
    pub wall: Option<Depth>,
}

/// How the container breathes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Vent {
    /// A small hole.
    Hole,
    /// A loose or clay-luted lid that leaks a little.
    LooseLid,
    /// A lid that gapes or is cracked: air gets in.
    GapingLid,
    /// Sealed tight: dangerous, and said so.
    None,
}

/// What stood around the steel.
#[derive(Debug, Clone, PartialEq)]
pub struct Pack {
    /// The container, if anything is known of it.
    pub container: Option<Container>,
    /// The compound.
    pub compound: Compound,
    /// The vent, if known.
    pub vent: Option<Vent>,
    /// Least distance from steel to wall, if known.
    pub distance_from_wall: Option<Depth>,
    /// Whether all of the container stood in the heat, if known.
    pub wholly_in_heat: Option<bool>,
}
