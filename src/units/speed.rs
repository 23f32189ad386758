use super::{OutOfRange, Quantity, Unit};

/// Surface speed of a wheel or belt. 0 to 150 m/s.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Speed(f64);

impl Speed {
    /// From metres per second; allowed 0 to 150 m/s.
    pub fn from_metres_per_second(m_per_s: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("surface speed", m_per_s, (0.0, 150.0), ("m/s", 1.0, 0.0)).map(Self)
    }

    /// Metres per second.
    pub fn metres_per_second(self) -> f64 {
        self.0
    }
}

impl Quantity for Speed {
    const NAME: &'static str = "surface speed";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["m/s"], scale: 1.0, offset: 0.0 },
        Unit { names: &["ft/min", "fpm", "sfpm", "sfm"], scale: 0.3048 / 60.0, offset: 0.0 },
    ];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::from_metres_per_second(si)
    }
}

/// How fast a spindle turns. 0 to 60,000 turns a minute.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct TurningSpeed(f64);

impl TurningSpeed {
    /// From turns a second; allowed 0 to 1000 (60,000 rpm).
    pub fn from_turns_per_second(hz: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("turning speed", hz, (0.0, 1000.0), ("rpm", 1.0 / 60.0, 0.0)).map(Self)
    }

    /// Turns a minute.
    pub fn rpm(self) -> f64 {
        self.0 * 60.0
    }

    /// Turns a second.
    pub fn turns_per_second(self) -> f64 {
        self.0
    }
}

impl Quantity for TurningSpeed {
    const NAME: &'static str = "turning speed";
    const UNITS: &'static [Unit] =
        &[Unit { names: &["rpm", "r/min", "rev/min", "turns/min"], scale: 1.0 / 60.0, offset: 0.0 }];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::from_turns_per_second(si)
    }
}

#[cfg(test)]
mod tests {
    use super::super::parse;
    use super::*;

    /// 1 ft = 0.3048 m exactly: 4,500 ft/min is 22.86 m/s.
    #[test]
    fn reads_speeds_as_grinders_state_them() {
        let speed = |text| parse::<Speed>(text).unwrap().value.metres_per_second();
        assert!((speed("4500 ft/min") - 22.86).abs() < 1e-12);
        assert!((speed("4500 sfpm") - 22.86).abs() < 1e-12);
        assert!((speed("20 m/s") - 20.0).abs() < 1e-12);
        let turning = parse::<TurningSpeed>("2850 rpm").unwrap().value;
        assert!((turning.rpm() - 2850.0).abs() < 1e-9);
        assert_eq!(
            parse::<TurningSpeed>("90000 rpm").unwrap_err().to_string(),
            "turning speed of 90000 rpm is outside 0 to 60000 rpm"
        );
    }
}
