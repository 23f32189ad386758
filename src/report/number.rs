//! How numbers are rounded for people. A number never appears without its unit.

use crate::units::Interval;

/// Digits after the point and unit of a kind of number.
#[derive(Debug, Clone, Copy)]
pub(super) struct Style {
    digits: usize,
    unit: &'static str,
}

pub(super) const CARBON: Style = Style { digits: 2, unit: "%C" };
pub(super) const DEPTH: Style = Style { digits: 2, unit: "mm" };
pub(super) const MASS_GAIN: Style = Style { digits: 1, unit: "g/m²" };
pub(super) const MILLIGRAMS: Style = Style { digits: 1, unit: "mg" };
pub(super) const MINUTES: Style = Style { digits: 0, unit: "min" };
pub(super) const CELSIUS: Style = Style { digits: 0, unit: "°C" };

impl Style {
    /// "0.42 mm".
    pub(super) fn one(self, value: f64) -> String {
        format!("{} {}", self.bare(value), self.unit)
    }

    /// "0.30 to 0.53 mm".
    pub(super) fn range(self, interval: &Interval<f64>) -> String {
        format!("{} to {}", self.bare(interval.low()), self.one(interval.high()))
    }

    /// "-0.08 / +0.03 mm".
    pub(super) fn effect(self, down: f64, up: f64) -> String {
        let bare = |v: f64| format!("{:.*}", self.digits, v.abs());
        format!("-{} / +{} {}", bare(down), bare(up), self.unit)
    }

    fn bare(self, value: f64) -> String {
        let text = format!("{value:.*}", self.digits);
        // no "-0.00"
        if text.starts_with('-') && text.chars().all(|c| matches!(c, '-' | '0' | '.')) {
            text[1..].to_string()
        } else {
            text
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounds_with_unit() {
        assert_eq!(DEPTH.one(0.4249), "0.42 mm");
        assert_eq!(DEPTH.one(-0.001), "0.00 mm");
        let range = Interval::new(0.301, 0.4, 0.529).unwrap();
        assert_eq!(DEPTH.range(&range), "0.30 to 0.53 mm");
        assert_eq!(CARBON.effect(-0.081, 0.026), "-0.08 / +0.03 %C");
    }
}
