use super::palette::Colour;

/// A place in a drawing, px from its top left corner.
pub(super) type Point = [f64; 2];

/// A finished picture, or one that is being drawn: red, green and blue, row by row from the top left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawing {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
}

impl Drawing {
    /// A ground of one colour.
    pub(super) fn plain(width: usize, height: usize, colour: Colour) -> Self {
        Self { width, height, rgb: colour.0.repeat(width * height) }
    }

    /// Of samples that are there; too few are filled up with black.
    pub(super) fn of(width: usize, height: usize, mut rgb: Vec<u8>) -> Self {
        rgb.resize(width * height * 3, 0);
        Self { width, height, rgb }
    }

    /// Width, px.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Height, px.
    pub fn height(&self) -> usize {
        self.height
    }

    /// Samples, sRGB, `width * height * 3` of them.
    pub fn rgb(&self) -> &[u8] {
        &self.rgb
    }

    /// This one with `below` under it, both in the middle of the wider one's width.
    pub(super) fn above(self, below: &Self, ground: Colour) -> Self {
        let width = self.width.max(below.width);
        let mut whole = self.padded(width, ground);
        if below.width == width {
            whole.rgb.extend_from_slice(&below.rgb);
        } else {
            whole.rgb.extend(below.clone().padded(width, ground).rgb);
        }
        whole.height += below.height;
        whole
    }

    fn padded(self, width: usize, ground: Colour) -> Self {
        if self.width >= width {
            return self;
        }
        let left = (width - self.width) / 2;
        let right = width - self.width - left;
        let mut rgb = Vec::with_capacity(width * self.height * 3);
        for row in self.rgb.chunks_exact(self.width.max(1) * 3) {
            rgb.extend(ground.0.repeat(left));
            rgb.extend_from_slice(row);
            rgb.extend(ground.0.repeat(right));
        }
        Self { width, height: self.height, rgb }
    }

    /// Mixes `share` (0 to 1) of `colour` into a pixel; nothing outside the drawing.
    pub(super) fn mix(&mut self, x: usize, y: usize, colour: Colour, share: f64) {
        if x >= self.width || y >= self.height {
            return;
        }
        let at = (y * self.width + x) * 3;
        if let Some(pixel) = self.rgb.get_mut(at..at + 3) {
            for (there, new) in pixel.iter_mut().zip(colour.0) {
                let (old, new) = (f64::from(*there), f64::from(new));
                *there = (old + (new - old) * share.clamp(0.0, 1.0)).round() as u8;
            }
        }
    }

    /// Fills a shape with smooth edges. It lies inside `[left, top, right, bottom]` and tells how far outside
    /// it a point is, px, below zero inside.
    pub(super) fn fill(&mut self, bounds: [f64; 4], colour: Colour, outside: impl Fn(Point) -> f64) {
        // `as` takes what is below zero, and no number, as 0
        let [left, top] = [bounds[0], bounds[1]].map(|v| (v - 1.0).floor() as usize);
        let right = ((bounds[2] + 1.0).ceil() as usize).min(self.width);
        let bottom = ((bounds[3] + 1.0).ceil() as usize).min(self.height);
        for y in top..bottom {
            for x in left..right {
                let covered = 0.5 - outside([x as f64 + 0.5, y as f64 + 0.5]);
                if covered > 0.0 {
                    self.mix(x, y, colour, covered);
                }
            }
        }
    }

    /// Fills a rectangle: left, top, right, bottom.
    pub(super) fn fill_rectangle(&mut self, [left, top, right, bottom]: [f64; 4], colour: Colour) {
        self.fill([left, top, right, bottom], colour, |[x, y]| {
            (left - x).max(x - right).max(top - y).max(y - bottom)
        });
    }
}
