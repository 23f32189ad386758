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
pub(super) const SHARE_OF_ACM: Style = Style { digits: 2, unit: "of Acm" };
pub(super) const HRC: Style = Style { digits: 0, unit: "HRC" };
pub(super) const HV: Style = Style { digits: 0, unit: "HV" };

impl Style {
    /// "0.42 mm".
    pub(super) fn one(self, value: f64) -> String {
        format!("{} {}", self.bare(value), self.unit)
    }

    /// One digit more, for how near a number is: "0.004 mm".
    pub(super) fn fine(self, value: f64) -> String {
        Self { digits: self.digits + 1, ..self }.one(value)
    }

    /// "0.30 to 0.53 mm".
    pub(super) fn range(self, interval: &Interval<f64>) -> String {
        format!("{} to {}", self.bare(interval.low()), self.one(interval.high()))
    }

    /// "0.42 mm (0.30 to 0.53)".
    pub(super) fn with_range(self, interval: &Interval<f64>) -> String {
        let (low, high) = (self.bare(interval.low()), self.bare(interval.high()));
        if low == high {
            self.one(interval.best())
        } else {
            format!("{} ({low} to {high})", self.one(interval.best()))
        }
    }

    /// "0.42 (0.30-0.53)", for a column that names the unit.
    pub(super) fn bare_with_range(self, interval: &Interval<f64>) -> String {
        let [low, best, high] = [interval.low(), interval.best(), interval.high()].map(|n| self.bare(n));
        if low == high { best } else { format!("{best} ({low}-{high})") }
    }

    /// "-0.08 / +0.03 mm".
    pub(super) fn effect(self, down: f64, up: f64) -> String {
        let bare = |v: f64| format!("{:.*}", self.digits, v.abs());
        format!("-{} / +{} {}", bare(down), bare(up), self.unit)
    }

    pub(super) fn bare(self, value: f64) -> String {
        let text = format!("{value:.*}", self.digits);
        // no "-0.00"
        if text.starts_with('-') && text.chars().all(|c| matches!(c, '-' | '0' | '.')) {
            text[1..].to_string()
        } else {
            text
        }
    }
}

/// A size of a piece in mm, as short as can be: "6 mm", "4.5 mm".
pub(super) fn size(mm: f64) -> String {
    let text = DEPTH.bare(mm);
    format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'))
}

/// A chance in words: "about 3 in 10".
pub(super) fn chance(share: f64) -> String {
    match share {
        s if s < 0.05 => "under 1 in 20".into(),
        s if s > 0.95 => "over 19 in 20".into(),
        s => format!("about {:.0} in 10", (s * 10.0).clamp(1.0, 9.0)),
    }
}

/// A share of votes or weights: "62 of 100".
pub(super) fn of_100(share: f64) -> String {
    format!("{} of 100", percent(share))
}

/// The number of it alone: "62", "under 1".
pub(super) fn percent(share: f64) -> String {
    match share {
        s if s > 0.0 && s < 0.005 => "under 1".into(),
        s if (0.995..1.0).contains(&s) => "over 99".into(),
        s => format!("{:.0}", s * 100.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_are_never_told_as_certain() {
        let told = [0.0, 0.07, 0.33, 0.949, 1.0].map(chance);
        assert_eq!(
            told,
            ["under 1 in 20", "about 1 in 10", "about 3 in 10", "about 9 in 10", "over 19 in 20"]
        );
        let shares = [0.0, 0.001, 0.62, 0.999].map(of_100);
        assert_eq!(shares, ["0 of 100", "under 1 of 100", "62 of 100", "over 99 of 100"]);
    }

    #[test]
    fn rounds_with_unit() {
        assert_eq!(DEPTH.one(0.4249), "0.42 mm");
        assert_eq!(DEPTH.one(-0.001), "0.00 mm");
        assert_eq!([6.0, 4.5, 0.25, 10.0, 0.0].map(size), ["6 mm", "4.5 mm", "0.25 mm", "10 mm", "0 mm"]);
        let range = Interval::new(0.301, 0.4, 0.529).unwrap();
        assert_eq!(DEPTH.range(&range), "0.30 to 0.53 mm");
        assert_eq!(DEPTH.with_range(&range), "0.40 mm (0.30 to 0.53)");
        assert_eq!(DEPTH.with_range(&Interval::exact(0.4)), "0.40 mm");
        assert_eq!(CARBON.effect(-0.081, 0.026), "-0.08 / +0.03 %C");
    }
}
