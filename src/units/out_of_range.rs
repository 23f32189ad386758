use std::fmt;

/// A number that its quantity cannot take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// The quantity, as the user would name it.
    pub what: &'static str,
    /// The number as given, in `unit`.
    pub got: f64,
    /// Lowest allowed number, in `unit`.
    pub low: f64,
    /// Highest allowed number, in `unit`.
    pub high: f64,
    /// The unit of all three.
    pub unit: &'static str,
}

impl OutOfRange {
    /// `Ok` if `value` (SI) lies in `low..=high` (SI); the error shows them divided by `scale`.
    pub(super) fn check(
        what: &'static str,
        value: f64,
        (low, high): (f64, f64),
        (unit, scale, offset): (&'static str, f64, f64),
    ) -> Result<f64, Self> {
        if value.is_finite() && value >= low && value <= high {
            return Ok(value);
        }
        let show = |v: f64| round((v - offset) / scale);
        Err(Self { what, got: show(value), low: show(low), high: show(high), unit })
    }
}

/// Nine significant digits: hides the last bits that unit conversion leaves behind.
fn round(v: f64) -> f64 {
    format!("{v:.8e}").parse().unwrap_or(v)
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { what, got, low, high, unit } = self;
        write!(f, "{what} of {got} {unit} is outside {low} to {high} {unit}")
    }
}

impl std::error::Error for OutOfRange {}
