//! Areas of a drawing that several shapes make together.

use super::drawing::{Drawing, Point};
use super::palette::Colour;

/// Pixels that belong to an area; shapes that overlap count once.
pub(super) struct Stencil {
    width: usize,
    height: usize,
    inside: Vec<bool>,
}

impl Stencil {
    /// An empty one.
    pub(super) fn new(width: usize, height: usize) -> Self {
        Self { width, height, inside: vec![false; width * height] }
    }

    /// Adds a polygon: pixels whose middle an odd number of its sides has on one hand. One that is no number is left out.
    pub(super) fn add(&mut self, polygon: &[Point]) {
        if polygon.len() < 3 || polygon.iter().flatten().any(|v| !v.is_finite()) {
            return;
        }
        let [top, bottom] =
            [f64::min, f64::max].map(|f| polygon.iter().map(|p| p[1]).reduce(f).unwrap_or(0.0));
        // `as` takes what is below zero as 0
        let rows = (top - 0.5).ceil() as usize..((bottom + 0.5).ceil() as usize).min(self.height);
        let mut crossed = Vec::new();
        for y in rows {
            let middle = y as f64 + 0.5;
            crossed.clear();
            for (i, a) in polygon.iter().enumerate() {
                let b = polygon[(i + 1) % polygon.len()];
                if (a[1] <= middle) != (b[1] <= middle) {
                    crossed.push(a[0] + (middle - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
                }
            }
            crossed.sort_by(f64::total_cmp);
            let row = &mut self.inside[y * self.width..(y + 1) * self.width];
            for pair in crossed.chunks_exact(2) {
                let [left, right] = [pair[0], pair[1]].map(|x| ((x - 0.5).ceil() as usize).min(row.len()));
                row[left..right.max(left)].fill(true);
            }
        }
    }

    /// Whether a pixel is inside.
    pub(super) fn has(&self, x: usize, y: usize) -> bool {
        x < self.width && self.inside.get(y * self.width + x).copied().unwrap_or(false)
    }

    /// Mixes `share` of a colour into every pixel inside that is `wanted`.
    pub(super) fn paint(
        &self,
        on: &mut Drawing,
        colour: Colour,
        share: f64,
        wanted: impl Fn(usize, usize) -> bool,
    ) {
        for y in 0..self.height {
            for x in (0..self.width).filter(|x| self.inside[y * self.width + x]) {
                if wanted(x, y) {
                    on.mix(x, y, colour, share);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(polygons: &[&[Point]]) -> usize {
        let mut stencil = Stencil::new(20, 10);
        for polygon in polygons {
            stencil.add(polygon);
        }
        (0..10).flat_map(|y| (0..20).map(move |x| (x, y))).filter(|(x, y)| stencil.has(*x, *y)).count()
    }

    #[test]
    fn areas_are_those_of_their_shapes() {
        let square: &[Point] = &[[2.0, 2.0], [7.0, 2.0], [7.0, 6.0], [2.0, 6.0]];
        let beside: &[Point] = &[[7.0, 2.0], [9.0, 2.0], [9.0, 6.0], [7.0, 6.0]];
        let over: &[Point] = &[[5.0, 2.0], [9.0, 2.0], [9.0, 6.0], [5.0, 6.0]];
        assert_eq!((count(&[square]), count(&[square, beside]), count(&[square, over])), (20, 28, 28));
        let all: &[Point] = &[[-50.0, -50.0], [1e6, -50.0], [1e6, 1e6], [-50.0, 1e6]];
        assert_eq!(count(&[all]), 200);
        let triangle: &[Point] = &[[0.0, 0.0], [10.0, 0.0], [0.0, 10.0]];
        assert_eq!(count(&[triangle]), 45);
    }

    #[test]
    fn what_is_no_shape_has_no_area() {
        assert_eq!(count(&[&[[1.0, 1.0], [5.0, 5.0]], &[[f64::NAN, 1.0], [5.0, 5.0], [1.0, 9.0]]]), 0);
    }
}
