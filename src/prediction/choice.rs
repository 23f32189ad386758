use crate::soak::CoolingLaw;
use crate::units::{CarbonPercent, TransferCoefficient};

/// How the surface takes up carbon, set by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SurfaceChoice {
    /// Held at the potential from the first moment.
    Held,
    /// Through a transfer coefficient.
    Transfer,
}

/// The carbon potential, set by hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PotentialChoice {
    /// As a share of Acm at temperature; 0.05 to 1.5, above 1 is richer than Acm.
    ShareOfAcm(f64),
    /// One carbon content at every temperature, wt%.
    Fixed(CarbonPercent),
}

/// The prediction's model set by hand. `None`: the program's default.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ModelChoice {
    /// Name of a diffusivity law.
    pub law: Option<String>,
    /// Surface exchange.
    pub surface: Option<SurfaceChoice>,
    /// Transfer coefficient, m/s.
    pub transfer: Option<TransferCoefficient>,
    /// Carbon potential of the pack.
    pub potential: Option<PotentialChoice>,
    /// What the surface does while the pack cools.
    pub cooling: Option<CoolingLaw>,
    /// Whether the steel lags behind the thermometer; `false`: it is as hot as the reading.
    pub heat_through: Option<bool>,
}
