use super::Spot;
use crate::units::{Depth, Interval};
use std::ops::RangeInclusive;

/// Two points of a photo and how far apart they are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClickedScale {
    from: Spot,
    to: Spot,
    length: Depth,
}

impl ClickedScale {
    /// Where a point may lie, pixels.
    pub const PLACES: RangeInclusive<f64> = 0.0..=100_000.0;
    /// Points are farther apart than this, pixels: nearer ones give no scale that is worth it.
    pub const NEAREST: f64 = 10.0;

    /// `None`: the points are too near to each other, or the length is nothing.
    pub fn new(from: Spot, to: Spot, length: Depth) -> Option<Self> {
        let scale = Self { from, to, length };
        (scale.pixels() > Self::NEAREST && length > Depth::ZERO).then_some(scale)
    }

    fn pixels(&self) -> f64 {
        (self.from[0] - self.to[0]).hypot(self.from[1] - self.to[1])
    }

    /// Millimetres of a pixel, each point being `click` pixels off either way; nine times in ten.
    pub fn mm_per_px(&self, click: f64) -> Option<Interval<f64>> {
        let (mm, px) = (self.length.millimetres(), self.pixels());
        let off = click.abs().hypot(click).min(0.9 * px);
        Interval::new(mm / (px + off), mm / px, mm / (px - off))
    }
}
