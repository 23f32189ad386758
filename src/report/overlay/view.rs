use super::drawing::Point;
use super::pen::distance;
use crate::spark::Spot;

/// From px of the photo to px of the drawing.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    /// Px of the drawing for one of the photo, at most 1.
    pub(super) scale: f64,
    /// Height of the letters, px.
    pub(super) text: f64,
    /// Height of the numbers beside bursts, px.
    pub(super) number: f64,
}

impl View {
    /// Width of a line without its border, px. A fourteenth of the letters (judgement): the stem of a letter is
    /// about as wide, so both can be seen from as far away.
    pub(super) fn line(&self) -> f64 {
        self.text / 14.0
    }

    /// A place of the photo in the drawing.
    pub(super) fn at(&self, spot: Spot) -> Point {
        spot.map(|v| v * self.scale)
    }

    /// A path of the photo in the drawing, without points that are closer than half a pixel.
    pub(super) fn path(&self, spots: &[Spot]) -> Vec<Point> {
        let mut path: Vec<Point> = Vec::new();
        for point in spots.iter().map(|s| self.at(*s)).filter(|p| p.iter().all(|v| v.is_finite())) {
            if path.last().is_none_or(|last| distance(*last, point) >= 0.5) {
                path.push(point);
            }
        }
        path
    }
}
