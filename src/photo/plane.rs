/// One number for each pixel, row by row from the top left.
#[derive(Debug, Clone, PartialEq)]
pub struct Plane {
    /// Width, px; at least 1.
    pub width: usize,
    /// Height, px; at least 1.
    pub height: usize,
    /// `width * height` values.
    pub values: Vec<f32>,
}

impl Plane {
    /// All 0.
    pub fn new(width: usize, height: usize) -> Self {
        Self { width, height, values: vec![0.0; width * height] }
    }

    /// One row; there must be one at `y`.
    pub fn row(&self, y: usize) -> &[f32] {
        &self.values[y * self.width..(y + 1) * self.width]
    }

    /// Between pixel centres, which lie at whole numbers plus a half; beyond the edge the edge's value.
    pub fn at(&self, x: f64, y: f64) -> f64 {
        self.between(x, y).of(self)
    }

    /// The four pixels around a place, and how near it lies to each: for planes of one size.
    pub(crate) fn between(&self, x: f64, y: f64) -> Between {
        let (fx, fy) = (x - 0.5, y - 0.5);
        let clamp = |v: f64, size: usize| v.clamp(0.0, (size - 1) as f64);
        let (fx, fy) = (clamp(fx, self.width), clamp(fy, self.height));
        let (x0, y0) = (fx as usize, fy as usize);
        let (x1, y1) = ((x0 + 1).min(self.width - 1), (y0 + 1).min(self.height - 1));
        let part = [(fx - x0 as f64) as f32, (fy - y0 as f64) as f32];
        let pixels = [y0, y1].map(|y| [x0, x1].map(|x| y * self.width + x));
        Between { pixels, part }
    }
}

/// A place between four pixels of a plane.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Between {
    /// Upper and lower two.
    pixels: [[usize; 2]; 2],
    /// How far it lies to the right and down from the first.
    part: [f32; 2],
}

impl Between {
    /// The value of a plane there: that which was asked, or one as large.
    pub(crate) fn of(self, plane: &Plane) -> f64 {
        let [tx, ty] = self.part;
        let [top, bottom] = self.pixels.map(|[a, b]| plane.values[a] * (1.0 - tx) + plane.values[b] * tx);
        f64::from(top * (1.0 - ty) + bottom * ty)
    }
}
