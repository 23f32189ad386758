use super::{OutOfRange, Quantity, Unit};

/// Diffusivity, m²/s. Above 0 to 1 m²/s.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Diffusivity(f64);

impl Diffusivity {
    /// From m²/s; allowed 0 to 1 m²/s.
    pub fn new(m2_per_s: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("diffusivity", m2_per_s, (0.0, 1.0), ("m²/s", 1.0, 0.0)).map(Self)
    }

    /// m²/s.
    pub fn square_metres_per_second(self) -> f64 {
        self.0
    }
}

impl Quantity for Diffusivity {
    const NAME: &'static str = "diffusivity";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["m2/s", "m²/s"], scale: 1.0, offset: 0.0 },
        Unit { names: &["cm2/s", "cm²/s"], scale: 1e-4, offset: 0.0 },
    ];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::new(si)
    }
}

/// Carbon transfer coefficient β of the surface, m/s: flux = β (potential - surface carbon).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct TransferCoefficient(f64);

impl TransferCoefficient {
    /// From m/s; allowed 0 to 0.001 m/s.
    pub fn new(m_per_s: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("transfer coefficient", m_per_s, (0.0, 1e-3), ("m/s", 1.0, 0.0)).map(Self)
    }

    /// m/s.
    pub fn metres_per_second(self) -> f64 {
        self.0
    }
}

impl Quantity for TransferCoefficient {
    const NAME: &'static str = "transfer coefficient";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["m/s"], scale: 1.0, offset: 0.0 },
        Unit { names: &["cm/s"], scale: 1e-2, offset: 0.0 },
    ];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::new(si)
    }
}
