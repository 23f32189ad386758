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
        let (fx, fy) = (x - 0.5, y - 0.5);
        let clamp = |v: f64, size: usize| v.clamp(0.0, (size - 1) as f64);
        let (fx, fy) = (clamp(fx, self.width), clamp(fy, self.height));
        let (x0, y0) = (fx as usize, fy as usize);
        let (x1, y1) = ((x0 + 1).min(self.width - 1), (y0 + 1).min(self.height - 1));
        let (tx, ty) = ((fx - x0 as f64) as f32, (fy - y0 as f64) as f32);
        let value = |x: usize, y: usize| self.values[y * self.width + x];
        let top = value(x0, y0) * (1.0 - tx) + value(x1, y0) * tx;
        let bottom = value(x0, y1) * (1.0 - tx) + value(x1, y1) * tx;
        f64::from(top * (1.0 - ty) + bottom * ty)
    }
}
