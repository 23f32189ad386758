use super::{OutOfRange, Quantity, Unit};

/// Rockwell C hardness. 20 to 70 HRC: below, the scale is not used.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Hrc(f64);

impl Hrc {
    /// Lowest hardness of the scale, HRC.
    pub const LEAST: f64 = 20.0;
    /// Highest hardness of the type, HRC.
    pub const MOST: f64 = 70.0;

    /// From points of the scale; allowed 20 to 70 HRC.
    pub fn new(hrc: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("hardness", hrc, (Self::LEAST, Self::MOST), ("HRC", 1.0, 0.0)).map(Self)
    }

    /// Points of the scale.
    pub fn points(self) -> f64 {
        self.0
    }
}

impl Quantity for Hrc {
    const NAME: &'static str = "hardness";
    const UNITS: &'static [Unit] = &[Unit { names: &["HRC", "Rc"], scale: 1.0, offset: 0.0 }];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::new(si)
    }
}

/// Vickers hardness, any load. 50 to 1500 HV.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Hv(f64);

impl Hv {
    /// From the Vickers number; allowed 50 to 1500 HV.
    pub fn new(hv: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("hardness", hv, (50.0, 1500.0), ("HV", 1.0, 0.0)).map(Self)
    }

    /// The Vickers number.
    pub fn number(self) -> f64 {
        self.0
    }
}

impl Quantity for Hv {
    const NAME: &'static str = "hardness";
    const UNITS: &'static [Unit] = &[Unit { names: &["HV", "HV1"], scale: 1.0, offset: 0.0 }];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::new(si)
    }
}
