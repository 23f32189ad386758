use super::{OutOfRange, Quantity, Unit};

/// Carbon content in weight percent. 0 to 6.67 (cementite).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct CarbonPercent(f64);

impl CarbonPercent {
    /// From weight percent; allowed 0 to 6.67 wt%.
    pub fn new(wt_percent: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("carbon content", wt_percent, (0.0, 6.67), ("%C", 1.0, 0.0)).map(Self)
    }

    /// Weight percent.
    pub fn wt_percent(self) -> f64 {
        self.0
    }
}

impl Quantity for CarbonPercent {
    const NAME: &'static str = "carbon content";
    const UNITS: &'static [Unit] =
        &[Unit { names: &["%C", "% C", "%", "wt%", "wt%C", "wt% C", "percent"], scale: 1.0, offset: 0.0 }];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::new(si)
    }
}
