//! A picture in linear light: three planes of `f32`, 1 is the sensor's full scale.

/// Red, green and blue planes.
#[derive(Clone)]
pub(crate) struct Frame {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) planes: [Vec<f32>; 3],
}

/// Red, green, blue in the mean light that is measured: a Bayer cell's (Bayer, US patent 3971065).
pub(crate) const LIGHT: [f32; 3] = [0.25, 0.5, 0.25];

impl Frame {
    pub(crate) fn new(width: usize, height: usize, rgb: [f32; 3]) -> Self {
        Self { width, height, planes: rgb.map(|c| vec![c; width * height]) }
    }

    /// The pixel that holds a point, pulled to the nearest inside.
    pub(crate) fn index(&self, x: f64, y: f64) -> usize {
        let column = (x.max(0.0) as usize).min(self.width - 1);
        let row = (y.max(0.0) as usize).min(self.height - 1);
        row * self.width + column
    }

    pub(crate) fn rgb(&self, i: usize) -> [f32; 3] {
        [self.planes[0][i], self.planes[1][i], self.planes[2][i]]
    }

    /// Bilinear between pixel centres.
    pub(crate) fn between(&self, x: f64, y: f64) -> [f32; 3] {
        let (fx, fy) = (x - 0.5, y - 0.5);
        let (x0, y0) = (fx.floor(), fy.floor());
        let (sx, sy) = ((fx - x0) as f32, (fy - y0) as f32);
        let mut out = [0.0; 3];
        for (dx, dy, w) in [
            (0.5, 0.5, (1.0 - sx) * (1.0 - sy)),
            (1.5, 0.5, sx * (1.0 - sy)),
            (0.5, 1.5, (1.0 - sx) * sy),
            (1.5, 1.5, sx * sy),
        ] {
            let i = self.index(x0 + dx, y0 + dy);
            for (o, plane) in out.iter_mut().zip(&self.planes) {
                *o += w * plane[i];
            }
        }
        out
    }

    pub(crate) fn add(&mut self, other: &Frame, share: f32) {
        for (mine, theirs) in self.planes.iter_mut().zip(&other.planes) {
            for (m, t) in mine.iter_mut().zip(theirs) {
                *m += share * t;
            }
        }
    }

    /// A quarter of its size in each direction, by means.
    pub(crate) fn quarter(&self) -> Frame {
        let (w, h) = (self.width.div_ceil(4), self.height.div_ceil(4));
        let mut out = Frame::new(w, h, [0.0; 3]);
        for (from, to) in self.planes.iter().zip(&mut out.planes) {
            for y in 0..h {
                for x in 0..w {
                    let mut sum = 0.0;
                    for dy in 0..4 {
                        let row = (4 * y + dy).min(self.height - 1) * self.width;
                        for dx in 0..4 {
                            sum += from[row + (4 * x + dx).min(self.width - 1)];
                        }
                    }
                    to[y * w + x] = sum / 16.0;
                }
            }
        }
        out
    }

    /// Nearly a Gaussian blur of this standard deviation, px.
    pub(crate) fn blur(&mut self, sigma: f64) {
        for plane in &mut self.planes {
            blur_plane(plane, self.width, self.height, sigma);
        }
    }

    /// This small frame drawn large, smoothly.
    pub(crate) fn enlarged(&self, width: usize, height: usize) -> Frame {
        let mut out = Frame::new(width, height, [0.0; 3]);
        let (sx, sy) = (self.width as f64 / width as f64, self.height as f64 / height as f64);
        for y in 0..height {
            for x in 0..width {
                let rgb = self.between((x as f64 + 0.5) * sx, (y as f64 + 0.5) * sy);
                for (plane, c) in out.planes.iter_mut().zip(rgb) {
                    plane[y * width + x] = c;
                }
            }
        }
        out
    }
}

/// Three box blurs in each direction: nearly a Gaussian of this standard deviation, px.
pub(crate) fn blur_plane(plane: &mut Vec<f32>, w: usize, h: usize, sigma: f64) {
    // variance of three boxes of width 2r+1: ((2r+1)^2 - 1) / 4
    let radius = (((4.0 * sigma * sigma + 1.0).sqrt() - 1.0) / 2.0).round() as usize;
    if radius == 0 {
        return;
    }
    for _ in 0..3 {
        box_rows(plane, w, radius);
    }
    let mut turned = transpose(plane, w, h);
    for _ in 0..3 {
        box_rows(&mut turned, h, radius);
    }
    *plane = transpose(&turned, h, w);
}

fn transpose(plane: &[f32], w: usize, h: usize) -> Vec<f32> {
    let mut out = vec![0.0; plane.len()];
    for (y, row) in plane.chunks_exact(w).enumerate() {
        for (x, v) in row.iter().enumerate() {
            out[x * h + y] = *v;
        }
    }
    out
}

fn box_rows(plane: &mut [f32], w: usize, radius: usize) {
    let mut source = vec![0.0; w];
    let over = 1.0 / (2 * radius + 1) as f32;
    for row in plane.chunks_exact_mut(w) {
        source.copy_from_slice(row);
        let mut sum =
            source[0] * (radius + 1) as f32 + (1..=radius).map(|i| source[i.min(w - 1)]).sum::<f32>();
        for (i, out) in row.iter_mut().enumerate() {
            *out = sum * over;
            sum += source[(i + radius + 1).min(w - 1)] - source[i.saturating_sub(radius)];
        }
    }
}
