use super::{Interval, OutOfRange, Quantity, Unit};

/// A length measured inward from a surface, or a size of a piece. 0 to 2 m.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Depth(f64);

impl Depth {
    /// No depth at all.
    pub const ZERO: Self = Self(0.0);

    /// From metres; allowed 0 to 2 m.
    pub fn from_metres(m: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("length", m, (0.0, 2.0), ("mm", 1e-3, 0.0)).map(Self)
    }

    /// From millimetres; allowed 0 to 2000 mm.
    pub fn from_millimetres(mm: f64) -> Result<Self, OutOfRange> {
        Self::from_metres(mm * 1e-3)
    }

    /// Metres.
    pub fn metres(self) -> f64 {
        self.0
    }

    /// Millimetres.
    pub fn millimetres(self) -> f64 {
        self.0 * 1e3
    }
}

impl Quantity for Depth {
    const NAME: &'static str = "length";
    const UNITS: &'static [Unit] = &[
        Unit {
            names: &["mm", "millimetre", "millimetres", "millimeter", "millimeters"],
            scale: 1e-3,
            offset: 0.0,
        },
        Unit { names: &["in", "inch", "inches", "\"", "″"], scale: 25.4e-3, offset: 0.0 },
        Unit { names: &["thou", "mil", "mils"], scale: 25.4e-6, offset: 0.0 },
        Unit { names: &["cm"], scale: 1e-2, offset: 0.0 },
        Unit { names: &["um", "µm", "μm", "micron", "microns"], scale: 1e-6, offset: 0.0 },
        Unit { names: &["m", "metre", "metres", "meter", "meters"], scale: 1.0, offset: 0.0 },
    ];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::from_metres(si)
    }
}

impl Interval<Depth> {
    /// In mm.
    pub fn millimetres(&self) -> Interval<f64> {
        let [low, best, high] = [self.low(), self.best(), self.high()].map(Depth::millimetres);
        Interval::new(low, best, high).unwrap_or_else(|| Interval::exact(best))
    }
}
