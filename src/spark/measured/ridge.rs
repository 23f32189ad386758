use super::plane::Plane;
use super::tiles::{Tiles, quantile};

/// Side of the squares in which noise is measured, px of the plane.
const NOISE_TILE: usize = 32;
/// From the middle value of |x| to the standard deviation of normal noise (1 / 0.6745).
const NORMAL: f32 = 1.4826;
/// Noise of a square over that of quiet squares as bright, at most.
const MOST_NOISE: f32 = 2.5;
/// A point counts as the line's middle if that lies no farther off than this in x and y, px: half a
/// pixel and a little more, or lines between two rows of pixels would be lost. Steger, IEEE Trans.
/// Pattern Anal. Mach. Intell. 20 (1998) 113, uses one half.
const HALF_PIXEL: f32 = 0.6;

/// A point on the middle of a bright line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct RidgePoint {
    pub(super) x: f32,
    pub(super) y: f32,
    /// Direction along the line, a unit vector; its sense means nothing.
    pub(super) along: [f32; 2],
    /// How far the line stands out, in standard deviations of the noise.
    pub(super) strength: f32,
}

/// Bright lines of a plane.
pub(super) struct Ridges {
    pub(super) width: usize,
    pub(super) height: usize,
    /// All points, row by row.
    pub(super) points: Vec<RidgePoint>,
    /// For each pixel one more than the index of its point, 0 where there is none.
    pub(super) index: Vec<u32>,
    /// Standard deviation of the noise in the second derivative, by square.
    pub(super) noise: Tiles,
}

/// Finds the middles of bright lines that stand `least` times above the noise: where the second derivative
/// across the line is lowest (Steger 1998, sections 2 and 3), `sigma` px the width of the smoothing.
/// `floor` is the least noise of one pixel, in units of the plane.
pub(super) fn ridges(plane: &Plane, sigma: f64, least: f32, floor: f32) -> Ridges {
    let kernels = Kernels::new(sigma);
    let across = second_along_x(plane, &kernels);
    // second derivative of white noise of deviation s, times sigma squared: s sqrt(3 / (16 pi)) / sigma
    let floor = floor * ((3.0 / (16.0 * std::f64::consts::PI)).sqrt() / sigma) as f32;
    let scale = (sigma * sigma) as f32;
    let noise = Tiles::of(&across, NOISE_TILE, |seen| {
        for v in seen.iter_mut() {
            *v = v.abs();
        }
        let middle = quantile(seen, 0.5) * NORMAL;
        let upper = quantile(seen, 0.75) * 0.87;
        (middle.max(upper) * scale).max(floor)
    })
    .around(|near| quantile(near, 0.5));
    drop(across);
    // a dense stream is no noise: squares as bright elsewhere say how much there is
    let level = Tiles::of(plane, NOISE_TILE, |seen| quantile(seen, 0.3));
    let noise = noise.capped_by_level(&level, MOST_NOISE);

    let (w, h) = (plane.width, plane.height);
    let mut found = Ridges { width: w, height: h, points: Vec::new(), index: vec![0; w * h], noise };
    let radius = kernels.radius();
    let mut rows = RowBuffer::new(w, 2 * radius + 1);
    for y in 0..radius.min(h) {
        rows.fill(plane, &kernels, y);
    }
    let mut d = Derivatives::new(w);
    let mut noise_row = vec![0.0; w];
    for y in 0..h {
        if y + radius < h {
            rows.fill(plane, &kernels, y + radius);
        }
        d.compute(&rows, &kernels, y, h);
        found.noise.row(y as f64 + 0.5, &mut noise_row);
        for x in 0..w {
            let (xx, xy, yy) = (d.xx[x], d.xy[x], d.yy[x]);
            // the lower eigenvalue: curvature across a bright line
            let half = 0.5 * (xx - yy);
            let root = (half * half + xy * xy).sqrt();
            let curved = 0.5 * (xx + yy) - root;
            if curved >= 0.0 {
                continue;
            }
            let strength = -curved * scale / noise_row[x];
            if strength < least {
                continue;
            }
            // its direction: the normal of the line
            let (nx, ny) = if half <= 0.0 { (root - half, -xy) } else { (-xy, root + half) };
            let norm = (nx * nx + ny * ny).sqrt();
            if norm <= 0.0 {
                continue;
            }
            let (nx, ny) = (nx / norm, ny / norm);
            let t = -(d.x[x] * nx + d.y[x] * ny) / curved;
            let (px, py) = (t * nx, t * ny);
            if px.abs() > HALF_PIXEL || py.abs() > HALF_PIXEL {
                continue;
            }
            found.points.push(RidgePoint {
                x: x as f32 + 0.5 + px,
                y: y as f32 + 0.5 + py,
                along: [-ny, nx],
                strength,
            });
            found.index[y * w + x] = found.points.len() as u32;
        }
    }
    found
}

/// A Gaussian and its first two derivatives, sampled at whole pixels.
struct Kernels {
    smooth: Vec<f32>,
    first: Vec<f32>,
    second: Vec<f32>,
}

impl Kernels {
    fn new(sigma: f64) -> Self {
        let radius = (3.5 * sigma).ceil() as i32;
        let g: Vec<f64> = (-radius..=radius).map(|i| (-0.5 * (f64::from(i) / sigma).powi(2)).exp()).collect();
        let sum: f64 = g.iter().sum();
        let x = |i: usize| (i as i32 - radius) as f64;
        let smooth: Vec<f64> = g.iter().map(|v| v / sum).collect();
        let mut first: Vec<f64> =
            smooth.iter().enumerate().map(|(i, v)| -x(i) / sigma.powi(2) * v).collect();
        // a ramp of one a pixel has a slope of one
        let slope: f64 = first.iter().enumerate().map(|(i, v)| -x(i) * v).sum();
        first.iter_mut().for_each(|v| *v /= slope);
        let mut second: Vec<f64> = smooth
            .iter()
            .enumerate()
            .map(|(i, v)| (x(i).powi(2) / sigma.powi(2) - 1.0) / sigma.powi(2) * v)
            .collect();
        // flat light has no curvature, x squared over two has one
        let mean = second.iter().sum::<f64>() / second.len() as f64;
        second.iter_mut().for_each(|v| *v -= mean);
        let curve: f64 = second.iter().enumerate().map(|(i, v)| 0.5 * x(i).powi(2) * v).sum();
        second.iter_mut().for_each(|v| *v /= curve);
        let single = |v: Vec<f64>| v.into_iter().map(|v| v as f32).collect();
        Self { smooth: single(smooth), first: single(first), second: single(second) }
    }

    fn radius(&self) -> usize {
        self.smooth.len() / 2
    }
}

/// One row of the plane with the edge values carried on outward.
fn padded(plane: &Plane, y: usize, radius: usize, into: &mut Vec<f32>) {
    let row = plane.row(y);
    into.clear();
    into.extend(std::iter::repeat_n(row[0], radius));
    into.extend_from_slice(row);
    into.extend(std::iter::repeat_n(row[row.len() - 1], radius));
}

fn along_row(padded: &[f32], kernel: &[f32], out: &mut [f32]) {
    out.fill(0.0);
    let w = out.len();
    for (i, k) in kernel.iter().enumerate() {
        for (o, v) in out.iter_mut().zip(&padded[kernel.len() - 1 - i..][..w]) {
            *o += k * v;
        }
    }
}

/// The second derivative along rows, smoothed the other way as well, every second row only.
fn second_along_x(plane: &Plane, kernels: &Kernels) -> Plane {
    let mut out = Plane::new(plane.width, plane.height);
    let radius = kernels.radius();
    let mut pad = Vec::new();
    let mut row = vec![0.0; plane.width];
    for y in (0..plane.height).step_by(2) {
        // rows are mixed first: only every second one is asked for
        let mut mixed = vec![0.0; plane.width];
        for (i, k) in kernels.smooth.iter().enumerate() {
            let at = (y + i).saturating_sub(radius).min(plane.height - 1);
            for (m, v) in mixed.iter_mut().zip(plane.row(at)) {
                *m += k * v;
            }
        }
        let line = Plane { width: plane.width, height: 1, values: mixed };
        padded(&line, 0, radius, &mut pad);
        along_row(&pad, &kernels.second, &mut row);
        out.values[y * plane.width..(y + 1) * plane.width].copy_from_slice(&row);
    }
    out
}

/// The last rows, smoothed and derived along x.
struct RowBuffer {
    keep: usize,
    smooth: Vec<Vec<f32>>,
    first: Vec<Vec<f32>>,
    second: Vec<Vec<f32>>,
    pad: Vec<f32>,
}

impl RowBuffer {
    fn new(width: usize, keep: usize) -> Self {
        let rows = || vec![vec![0.0; width]; keep];
        Self { keep, smooth: rows(), first: rows(), second: rows(), pad: Vec::new() }
    }

    fn fill(&mut self, plane: &Plane, kernels: &Kernels, y: usize) {
        padded(plane, y, kernels.radius(), &mut self.pad);
        let at = y % self.keep;
        along_row(&self.pad, &kernels.smooth, &mut self.smooth[at]);
        along_row(&self.pad, &kernels.first, &mut self.first[at]);
        along_row(&self.pad, &kernels.second, &mut self.second[at]);
    }
}

/// Derivatives of the smoothed plane along one row.
struct Derivatives {
    x: Vec<f32>,
    y: Vec<f32>,
    xx: Vec<f32>,
    xy: Vec<f32>,
    yy: Vec<f32>,
}

impl Derivatives {
    fn new(width: usize) -> Self {
        let row = || vec![0.0; width];
        Self { x: row(), y: row(), xx: row(), xy: row(), yy: row() }
    }

    fn compute(&mut self, rows: &RowBuffer, kernels: &Kernels, y: usize, height: usize) {
        for row in [&mut self.x, &mut self.y, &mut self.xx, &mut self.xy, &mut self.yy] {
            row.fill(0.0);
        }
        let radius = kernels.radius();
        let count = kernels.smooth.len();
        for i in 0..count {
            let at = (y + i).saturating_sub(radius).min(height - 1) % rows.keep;
            let (s, f, c) = (
                kernels.smooth[count - 1 - i],
                kernels.first[count - 1 - i],
                kernels.second[count - 1 - i],
            );
            let (smooth, first, second) = (&rows.smooth[at], &rows.first[at], &rows.second[at]);
            for x in 0..smooth.len() {
                self.x[x] += s * first[x];
                self.y[x] += f * smooth[x];
                self.xx[x] += s * second[x];
                self.xy[x] += f * first[x];
                self.yy[x] += c * smooth[x];
            }
        }
    }
}
