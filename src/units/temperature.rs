use super::{OutOfRange, Quantity, Unit};
use std::ops::{Add, Neg, Sub};

const ICE_POINT_K: f64 = 273.15;

/// A temperature. Two temperatures differ by a [`TemperatureStep`]; they cannot be added.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// From kelvin; allowed 0 to 2273.15 K.
    pub fn from_kelvin(k: f64) -> Result<Self, OutOfRange> {
        let range = (0.0, 2000.0 + ICE_POINT_K);
        OutOfRange::check("temperature", k, range, ("°C", 1.0, ICE_POINT_K)).map(Self)
    }

    /// From degrees Celsius; allowed -273.15 to 2000 °C.
    pub fn from_celsius(c: f64) -> Result<Self, OutOfRange> {
        Self::from_kelvin(c + ICE_POINT_K)
    }

    /// Kelvin.
    pub fn kelvin(self) -> f64 {
        self.0
    }

    /// Degrees Celsius.
    pub fn celsius(self) -> f64 {
        self.0 - ICE_POINT_K
    }

    /// This temperature moved by `step`, held inside the range of the type.
    #[must_use]
    pub fn shifted(self, step: TemperatureStep) -> Self {
        Self((self.0 + step.0).clamp(0.0, 2000.0 + ICE_POINT_K))
    }
}

impl Quantity for Temperature {
    const NAME: &'static str = "temperature";
    const UNITS: &'static [Unit] = &[
        Unit { names: &["C", "°C", "degC", "deg C", "celsius"], scale: 1.0, offset: ICE_POINT_K },
        Unit {
            names: &["F", "°F", "degF", "deg F", "fahrenheit"],
            scale: 5.0 / 9.0,
            offset: 459.67 * 5.0 / 9.0,
        },
        Unit { names: &["K", "kelvin"], scale: 1.0, offset: 0.0 },
    ];
    fn from_si(si: f64) -> Result<Self, OutOfRange> {
        Self::from_kelvin(si)
    }
}

impl Sub for Temperature {
    type Output = TemperatureStep;
    fn sub(self, other: Self) -> TemperatureStep {
        TemperatureStep(self.0 - other.0)
    }
}

/// A difference of two temperatures, in kelvin (equal to degrees Celsius of difference).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct TemperatureStep(f64);

impl TemperatureStep {
    /// From kelvin of difference; any finite number, others become zero difference.
    pub fn from_kelvin(k: f64) -> Self {
        Self(if k.is_finite() { k } else { 0.0 })
    }

    /// Kelvin of difference.
    pub fn kelvin(self) -> f64 {
        self.0
    }
}

impl Add for TemperatureStep {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Neg for TemperatureStep {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 900 °C is about 1650 °F (common practice, no source); exactly it is 1652 °F.
    #[test]
    fn fahrenheit_and_celsius_agree() {
        let f = crate::units::parse::<Temperature>("1652F").unwrap().value;
        assert!((f.celsius() - 900.0).abs() < 1e-9);
        assert!((f - Temperature::from_celsius(895.0).unwrap()).kelvin() - 5.0 < 1e-9);
    }

    #[test]
    fn refuses_what_cannot_be() {
        assert!(Temperature::from_celsius(-274.0).is_err());
        assert!(Temperature::from_celsius(f64::NAN).is_err());
        let e = Temperature::from_celsius(2100.0).unwrap_err();
        assert_eq!(e.to_string(), "temperature of 2100 °C is outside -273.15 to 2000 °C");
    }
}
