use super::{OutOfRange, Quantity, Unit};

/// A span of time. 0 to 2000 hours.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Time(f64);

impl Time {
    /// No time at all.
    pub const ZERO: Self = Self(0.0);

    /// From seconds; allowed 0 to 2000 h.
    pub fn from_seconds(s: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("time", s, (0.0, 2000.0 * 3600.0), ("min", 60.0, 0.0)).map(Self)
    }

    /// From minutes; allowed 0 to 2000 h.
    pub fn from_minutes(min: f64) -> Result<Self, OutOfRange> {
        Self::from_seconds(min * 60.0)
    }

    /// Seconds.
    pub fn seconds(self) -> f64 {
        self.0
    }

    /// Minutes.
    pub fn minutes(self) -> f64 {
        self.0 / 60.0
    }
}

impl Quantity for Time {
    const NAME: &'static str = "time";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["min", "mins", "minute", "minutes"], scale: 60.0, offset: 0.0 },
        Unit { names: &["h", "hr", "hrs", "hour", "hours"], scale: 3600.0, offset: 0.0 },
        Unit { names: &["s", "sec", "secs", "second", "seconds"], scale: 1.0, offset: 0.0 },
    ];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::from_seconds(si)
    }
}
