//! How large things are in a picture.

use crate::units::{Depth, Interval, ParseError, parse};
use thiserror::Error;

/// How far a click lies from what it was meant for, px, one standard deviation in each direction: judgement.
const CLICK_SD_PX: f64 = 2.0;
/// A normal value lies this many standard deviations around its middle in 95 of 100 cases.
const NORMAL_95: f64 = 1.96;
/// A scale less certain than this share of itself is none: judgement.
const MOST_UNSURE: f64 = 0.25;

/// Pixels of the picture, at its full size, to the millimetre, in the plane of what the scale was taken from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    px_per_mm: Interval<f64>,
}

impl Scale {
    /// From something of known `length` that is `px` long in the picture, give or take `sd_px` (one standard
    /// deviation).
    pub fn from_length(px: f64, sd_px: f64, length: Depth) -> Result<Self, ScaleError> {
        let mm = length.millimetres();
        if mm <= 0.0 {
            return Err(ScaleError::NoLength);
        }
        let off = NORMAL_95 * sd_px.abs();
        if !px.is_finite() || px <= 0.0 || !off.is_finite() || off > MOST_UNSURE * px {
            return Err(ScaleError::TooShort { px, off, least: off / MOST_UNSURE });
        }
        Interval::new((px - off) / mm, px / mm, (px + off) / mm)
            .map(|px_per_mm| Self { px_per_mm })
            .ok_or(ScaleError::NoLength)
    }

    /// Pixels to the millimetre, with the range that holds it in 95 of 100 cases.
    pub fn px_per_mm(&self) -> Interval<f64> {
        self.px_per_mm
    }

    /// How long `px` are, mm.
    pub fn millimetres(&self, px: f64) -> Interval<f64> {
        let of = self.px_per_mm;
        let (a, best, b) = (px / of.high(), px / of.best(), px / of.low());
        Interval::new(a.min(b), best, a.max(b)).unwrap_or_else(|| Interval::exact(best))
    }
}

/// Two points of a picture and how far apart they are: `x1,y1,x2,y2=100mm`. Points in px at full size, from
/// the top left corner of the upright picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScaleMarks {
    /// One point (x, y), px.
    pub from: [f64; 2],
    /// The other, px.
    pub to: [f64; 2],
    /// What lies between them.
    pub length: Depth,
}

impl ScaleMarks {
    /// Reads `x1,y1,x2,y2=100mm`.
    pub fn parse(text: &str) -> Result<Self, ScaleError> {
        let not_marks = || ScaleError::NotMarks { got: text.chars().take(60).collect() };
        let (points, length) = text.split_once('=').ok_or_else(not_marks)?;
        let numbers: Option<Vec<f64>> =
            points.split(',').map(|n| n.trim().parse::<f64>().ok().filter(|n| n.is_finite())).collect();
        let Some(&[x1, y1, x2, y2]) = numbers.as_deref() else { return Err(not_marks()) };
        let length = parse::<Depth>(length).map_err(ScaleError::Length)?.value;
        Ok(Self { from: [x1, y1], to: [x2, y2], length })
    }

    /// The scale on a picture of `width` by `height` px.
    pub fn on(&self, width: usize, height: usize) -> Result<Scale, ScaleError> {
        for [x, y] in [self.from, self.to] {
            if !(0.0..=width as f64).contains(&x) || !(0.0..=height as f64).contains(&y) {
                return Err(ScaleError::Outside { x, y, width, height });
            }
        }
        let px = libm::hypot(self.to[0] - self.from[0], self.to[1] - self.from[1]);
        // Two clicks, each off along the line between them.
        Scale::from_length(px, CLICK_SD_PX * std::f64::consts::SQRT_2, self.length)
    }
}

/// Why there is no scale. `Display` says what is wrong; [`ScaleError::help`] what to do.
#[derive(Debug, Clone, PartialEq, Error)]
#[allow(missing_docs)] // the variants' fields are shown by Display
pub enum ScaleError {
    #[error("`{got}` is no scale; allowed: x1,y1,x2,y2=LENGTH")]
    NotMarks { got: String },
    #[error("scale: {0}")]
    Length(ParseError),
    #[error("a scale over a length of 0 mm; allowed: more than that")]
    NoLength,
    #[error("the point {x},{y} lies outside the picture; allowed: 0 to {width}, 0 to {height}")]
    Outside { x: f64, y: f64, width: usize, height: usize },
    #[error(
        "{px:.0} px are too short for a scale that is off by {off:.1} px; allowed: {least:.0} px and more"
    )]
    TooShort { px: f64, off: f64, least: f64 },
}

impl ScaleError {
    /// What to do about it.
    pub fn help(&self) -> String {
        match self {
            Self::NotMarks { .. } => {
                "two points in px and how far apart they are, for example \"120,80,1320,95=100mm\"".into()
            }
            Self::Length(e) => e.help(),
            Self::NoLength => "measure something in the picture, for example the width of the tool rest".into(),
            Self::Outside { .. } => {
                "take the points off this very picture, shown upright and at full size; or leave the scale out".into()
            }
            Self::TooShort { .. } => "take two points that are farther apart".into(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 300 and 400 px make 500; each click off by 2 px: 1.96 · 2 · √2 = 5.54 px; 100 mm.
    #[test]
    fn two_points_make_a_scale_with_its_doubt() {
        let scale = ScaleMarks::parse("100, 200,400,600 = 100mm").unwrap().on(1000, 800).unwrap();
        let px = scale.px_per_mm();
        assert!((px.best() - 5.0).abs() < 1e-12);
        assert!((px.low() - 4.9446).abs() < 1e-4 && (px.high() - 5.0554).abs() < 1e-4);
        let length = scale.millimetres(50.0);
        assert!((length.best() - 10.0).abs() < 1e-12 && length.low() < 9.9 && length.high() > 10.1);
    }

    #[test]
    fn refuses_with_a_reason() {
        let said = |text: &str| {
            let e = ScaleMarks::parse(text).and_then(|marks| marks.on(1000, 800)).unwrap_err();
            format!("{e}; {}", e.help())
        };
        insta::assert_snapshot!(
            [
                said("100mm"),
                said("1,2,3=100mm"),
                said("1,2,3,x=100mm"),
                said("1,2,3,inf=100mm"),
                said("100,200,400,600=100"),
                said("100,200,400,600=0 mm"),
                said("100,200,400,600=3 m"),
                said("100,200,1400,600=100mm"),
                said("100,200,110,205=100mm"),
                said("100,200,100,200=100mm"),
            ]
            .join("\n")
        );
    }

    proptest::proptest! {
        #[test]
        fn never_panics(text in "[0-9,.=einf mm-]{0,40}") {
            if let Ok(scale) = ScaleMarks::parse(&text).and_then(|marks| marks.on(1000, 800)) {
                let px = scale.px_per_mm();
                proptest::prop_assert!(px.low() > 0.0 && px.low() <= px.best() && px.best() <= px.high());
            }
        }
    }
}
