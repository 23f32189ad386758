use super::{OutOfRange, Quantity, Unit};

/// A mass. 0 to 100 kg.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Mass(f64);

impl Mass {
    /// From kilograms; allowed 0 to 100 kg.
    pub fn from_kilograms(kg: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("mass", kg, (0.0, 100.0), ("g", 1e-3, 0.0)).map(Self)
    }

    /// Kilograms.
    pub fn kilograms(self) -> f64 {
        self.0
    }

    /// Grams.
    pub fn grams(self) -> f64 {
        self.0 * 1e3
    }
}

impl Quantity for Mass {
    const NAME: &'static str = "mass";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["g", "gram", "grams"], scale: 1e-3, offset: 0.0 },
        Unit { names: &["mg"], scale: 1e-6, offset: 0.0 },
        Unit { names: &["kg"], scale: 1.0, offset: 0.0 },
        Unit { names: &["oz"], scale: 28.349_523_125e-3, offset: 0.0 },
        Unit { names: &["lb", "lbs"], scale: 0.453_592_37, offset: 0.0 },
        Unit { names: &["gr", "grain", "grains"], scale: 64.798_91e-6, offset: 0.0 },
    ];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::from_kilograms(si)
    }
}
