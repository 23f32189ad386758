use super::OutOfRange;

/// A part of a whole. 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Share(f64);

impl Share {
    /// From a fraction; allowed 0 to 1.
    pub fn new(fraction: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("share", fraction, (0.0, 1.0), ("%", 0.01, 0.0)).map(Self)
    }

    /// As a fraction, 0 to 1.
    pub fn fraction(self) -> f64 {
        self.0
    }
}
