use crate::photo::Plane;

/// A Gaussian and its first two derivatives, sampled at whole pixels.
pub(super) struct Kernels {
    smooth: Vec<f32>,
    first: Vec<f32>,
    second: Vec<f32>,
}

impl Kernels {
    /// For a Gaussian of standard deviation `sigma`, px, cut off at three and a half of it.
    pub(super) fn new(sigma: f64) -> Self {
        let radius = (3.5 * sigma).ceil() as i32;
        let places: Vec<f64> = (-radius..=radius).map(f64::from).collect();
        let gauss: Vec<f64> = places.iter().map(|x| (-0.5 * (x / sigma).powi(2)).exp()).collect();
        let sum: f64 = gauss.iter().sum();
        let smooth: Vec<f64> = gauss.iter().map(|g| g / sum).collect();
        let at = || places.iter().zip(&smooth);
        // g' = -x / σ² g, scaled so that a ramp of one a pixel has a slope of one
        let mut first: Vec<f64> = at().map(|(x, g)| -x * g).collect();
        let slope: f64 = places.iter().zip(&first).map(|(x, f)| -x * f).sum();
        for f in &mut first {
            *f /= slope;
        }
        // g'' = (x² / σ² - 1) / σ² g, made blind to flat light and scaled so that x² / 2 curves by one
        let mut second: Vec<f64> = at().map(|(x, g)| (x * x / (sigma * sigma) - 1.0) * g).collect();
        let mean = second.iter().sum::<f64>() / second.len() as f64;
        for s in &mut second {
            *s -= mean;
        }
        let curve: f64 = places.iter().zip(&second).map(|(x, s)| 0.5 * x * x * s).sum();
        for s in &mut second {
            *s /= curve;
        }
        // stored as correlations: the mirror images
        let mirrored = |v: Vec<f64>| v.into_iter().rev().map(|v| v as f32).collect();
        Self { smooth: mirrored(smooth), first: mirrored(first), second: mirrored(second) }
    }

    /// Pixels on either side.
    pub(super) fn radius(&self) -> usize {
        self.smooth.len() / 2
    }
}

/// The last rows of a plane, smoothed and derived along x.
pub(super) struct RowBuffer {
    smooth: Vec<Vec<f32>>,
    first: Vec<Vec<f32>>,
    second: Vec<Vec<f32>>,
    padded: Vec<f32>,
}

impl RowBuffer {
    pub(super) fn new(width: usize, kernels: &Kernels) -> Self {
        let rows = || vec![vec![0.0; width]; kernels.smooth.len()];
        Self { smooth: rows(), first: rows(), second: rows(), padded: Vec::new() }
    }

    /// Takes in a row.
    pub(super) fn fill(&mut self, plane: &Plane, kernels: &Kernels, y: usize) {
        pad(plane.row(y), kernels.radius(), &mut self.padded);
        let at = y % self.smooth.len();
        correlate(&self.padded, &kernels.smooth, &mut self.smooth[at]);
        correlate(&self.padded, &kernels.first, &mut self.first[at]);
        correlate(&self.padded, &kernels.second, &mut self.second[at]);
    }
}

/// Derivatives of the smoothed plane along one row.
pub(super) struct Derivatives {
    pub(super) x: Vec<f32>,
    pub(super) y: Vec<f32>,
    pub(super) xx: Vec<f32>,
    pub(super) xy: Vec<f32>,
    pub(super) yy: Vec<f32>,
}

impl Derivatives {
    pub(super) fn new(width: usize) -> Self {
        let row = || vec![0.0; width];
        Self { x: row(), y: row(), xx: row(), xy: row(), yy: row() }
    }

    /// Of row `y` of a plane `height` rows high, beyond whose edges the edge rows go on.
    pub(super) fn compute(&mut self, rows: &RowBuffer, kernels: &Kernels, y: usize, height: usize) {
        for row in [&mut self.x, &mut self.y, &mut self.xx, &mut self.xy, &mut self.yy] {
            row.fill(0.0);
        }
        for i in 0..kernels.smooth.len() {
            let at = (y + i).saturating_sub(kernels.radius()).min(height - 1) % rows.smooth.len();
            let (s, f, c) = (kernels.smooth[i], kernels.first[i], kernels.second[i]);
            add(&mut self.x, s, &rows.first[at]);
            add(&mut self.y, f, &rows.smooth[at]);
            add(&mut self.xx, s, &rows.second[at]);
            add(&mut self.xy, f, &rows.first[at]);
            add(&mut self.yy, c, &rows.smooth[at]);
        }
    }
}

/// The second derivative along x, smoothed along y, of every second row; the others stay zero.
pub(super) fn second_along_x(plane: &Plane, kernels: &Kernels) -> Plane {
    let mut out = Plane::new(plane.width, plane.height);
    let mut mixed = vec![0.0; plane.width];
    let mut padded = Vec::new();
    for y in (0..plane.height).step_by(2) {
        mixed.fill(0.0);
        for (i, k) in kernels.smooth.iter().enumerate() {
            let at = (y + i).saturating_sub(kernels.radius()).min(plane.height - 1);
            add(&mut mixed, *k, plane.row(at));
        }
        pad(&mixed, kernels.radius(), &mut padded);
        let row = &mut out.values[y * plane.width..(y + 1) * plane.width];
        correlate(&padded, &kernels.second, row);
    }
    out
}

/// A row with its edge values carried on outward.
fn pad(row: &[f32], radius: usize, into: &mut Vec<f32>) {
    let edge = |v: Option<&f32>| std::iter::repeat_n(v.copied().unwrap_or(0.0), radius);
    into.clear();
    into.extend(edge(row.first()));
    into.extend_from_slice(row);
    into.extend(edge(row.last()));
}

fn correlate(padded: &[f32], kernel: &[f32], out: &mut [f32]) {
    out.fill(0.0);
    let width = out.len();
    for (i, k) in kernel.iter().enumerate() {
        add(out, *k, &padded[i..i + width]);
    }
}

fn add(sum: &mut [f32], times: f32, row: &[f32]) {
    for (s, v) in sum.iter_mut().zip(row) {
        *s += times * v;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// f = 3 + 2 x + y + x² / 2 + x y - y²: its derivatives by hand.
    #[test]
    fn derivatives_of_a_polynomial_are_exact() {
        let (w, h) = (31, 29);
        let value = |x: f32, y: f32| 3.0 + 2.0 * x + y + 0.5 * x * x + x * y - y * y;
        let mut plane = Plane::new(w, h);
        for y in 0..h {
            for x in 0..w {
                plane.values[y * w + x] = value(x as f32 - 15.0, y as f32 - 14.0);
            }
        }
        let kernels = Kernels::new(1.3);
        let mut rows = RowBuffer::new(w, &kernels);
        for y in 14 - kernels.radius()..=14 + kernels.radius() {
            rows.fill(&plane, &kernels, y);
        }
        let mut d = Derivatives::new(w);
        d.compute(&rows, &kernels, 14, h);
        for (got, wanted) in
            [(d.x[15], 2.0), (d.y[15], 1.0), (d.xx[15], 1.0), (d.xy[15], 1.0), (d.yy[15], -2.0)]
        {
            assert!((got - wanted).abs() < 2e-3, "{got} {wanted}");
        }
        assert!((second_along_x(&plane, &kernels).row(14)[15] - 1.0).abs() < 2e-3);
    }
}
