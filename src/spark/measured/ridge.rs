use super::kernels::{Derivatives, Kernels, RowBuffer, second_along_x};
use super::stream_photo::Spot;
use super::tiles::{Tiles, quantile};
use crate::photo::Plane;

/// Side of the squares in which noise is measured, px of the plane.
const NOISE_TILE: usize = 32;
/// From the middle value of |x| to the standard deviation of normal noise (1 / 0.6745).
const FROM_MIDDLE: f32 = 1.4826;
/// From its upper quarter (1 / 1.1503).
const FROM_UPPER: f32 = 0.8693;
/// Noise of a square over that of quiet squares as bright, at most: more is no noise but a dense stream.
const MOST_NOISE: f32 = 2.5;
/// Least noise of one pixel, roots of light: the steps of 8 bit pictures and what JPEG leaves of them (judgement).
const LEAST_NOISE: f64 = 0.003;
/// A point counts as the line's middle if that lies no farther off than this in x and y, px: half a pixel, and a
/// little more, or lines between two rows of pixels would have gaps.
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

impl RidgePoint {
    pub(super) fn place(&self) -> Spot {
        [f64::from(self.x), f64::from(self.y)]
    }
}

/// Bright lines of a plane.
pub(super) struct Ridges {
    pub(super) width: usize,
    pub(super) height: usize,
    /// All points, row by row.
    pub(super) points: Vec<RidgePoint>,
    /// For each pixel one more than the index of its point, 0 where there is none.
    index: Vec<u32>,
    /// Standard deviation of the noise of one pixel, roots of light, by square.
    noise: Tiles,
}

impl Ridges {
    /// Finds the middles of bright lines that stand `least` times above the noise: where the second derivative across
    /// the line is lowest. Steger, "An unbiased detector of curvilinear structures", IEEE Trans. Pattern Anal. Mach.
    /// Intell. 20 (1998) 113-125, sections 2 and 3. `sigma`, px, is the width of the smoothing.
    pub(super) fn of(plane: &Plane, sigma: f64, least: f32) -> Self {
        let kernels = Kernels::new(sigma);
        let noise = noise(plane, &kernels, sigma);
        let (width, height) = (plane.width, plane.height);
        let of_pixel = noise.scaled((1.0 / of_white_noise(sigma)) as f32);
        let mut found =
            Self { width, height, points: Vec::new(), index: vec![0; width * height], noise: of_pixel };
        let mut rows = RowBuffer::new(width, &kernels);
        for y in 0..kernels.radius().min(height) {
            rows.fill(plane, &kernels, y);
        }
        let mut derivatives = Derivatives::new(width);
        let mut noise_row = vec![0.0; width];
        let scale = (sigma * sigma) as f32;
        for y in 0..height {
            if y + kernels.radius() < height {
                rows.fill(plane, &kernels, y + kernels.radius());
            }
            derivatives.compute(&rows, &kernels, y, height);
            noise.row(y as f64 + 0.5, &mut noise_row);
            for (x, noise) in noise_row.iter().enumerate() {
                if let Some(point) = point(&derivatives, x, y, least * noise / scale, scale / noise) {
                    found.points.push(point);
                    found.index[y * width + x] = found.points.len() as u32;
                }
            }
        }
        found
    }

    /// The point on a pixel, by column and row.
    pub(super) fn on(&self, x: i64, y: i64) -> Option<usize> {
        if x < 0 || y < 0 || x >= self.width as i64 || y >= self.height as i64 {
            return None;
        }
        let index = self.index[y as usize * self.width + x as usize];
        (index as usize).checked_sub(1)
    }

    /// Standard deviation of the noise of one pixel at a place, roots of light.
    pub(super) fn noise(&self, at: Spot) -> f64 {
        self.noise.at(at[0], at[1])
    }

    /// The points in a square around a place, `reach` to either side, by number.
    pub(super) fn around(&self, at: Spot, reach: f64) -> impl Iterator<Item = usize> + '_ {
        let pixels = move |v: f64| (v - reach).floor() as i64..=(v + reach).floor() as i64;
        pixels(at[1]).flat_map(move |y| pixels(at[0]).map(move |x| (x, y))).filter_map(|(x, y)| self.on(x, y))
    }
}

/// The point of a bright line on one pixel, if its curvature is below -`least`.
fn point(d: &Derivatives, x: usize, y: usize, least: f32, to_strength: f32) -> Option<RidgePoint> {
    let (xx, xy, yy) = (d.xx[x], d.xy[x], d.yy[x]);
    // the lower eigenvalue of the second derivatives: curvature across a bright line
    let half = 0.5 * (xx - yy);
    let root = (half * half + xy * xy).sqrt();
    let curvature = 0.5 * (xx + yy) - root;
    if curvature >= -least || curvature >= 0.0 {
        return None;
    }
    // its direction: the normal of the line
    let (nx, ny) = if half <= 0.0 { (root - half, -xy) } else { (-xy, root + half) };
    let norm = (nx * nx + ny * ny).sqrt();
    if norm <= 0.0 {
        return None;
    }
    let (nx, ny) = (nx / norm, ny / norm);
    // along it the slope is zero at t
    let t = -(d.x[x] * nx + d.y[x] * ny) / curvature;
    let (px, py) = (t * nx, t * ny);
    (px.abs() <= HALF_PIXEL && py.abs() <= HALF_PIXEL).then(|| RidgePoint {
        x: x as f32 + 0.5 + px,
        y: y as f32 + 0.5 + py,
        along: [-ny, nx],
        strength: -curvature * to_strength,
    })
}

/// Standard deviation of the second derivative times σ² of white noise whose deviation is 1: √(3 / (16 π)) / σ.
fn of_white_noise(sigma: f64) -> f64 {
    (3.0 / (16.0 * std::f64::consts::PI)).sqrt() / sigma
}

/// Standard deviation of the noise in the second derivative times σ², by square.
fn noise(plane: &Plane, kernels: &Kernels, sigma: f64) -> Tiles {
    let scale = (sigma * sigma) as f32;
    let least = (LEAST_NOISE * of_white_noise(sigma)) as f32;
    let measured = Tiles::of(&second_along_x(plane, kernels), NOISE_TILE, |seen| {
        for v in seen.iter_mut() {
            *v = v.abs();
        }
        let middle = quantile(seen, 0.5) * FROM_MIDDLE;
        let upper = quantile(seen, 0.75) * FROM_UPPER;
        (middle.max(upper) * scale).max(least)
    })
    .around(|near| quantile(near, 0.5));
    let level = Tiles::of(plane, NOISE_TILE, |seen| quantile(seen, 0.3));
    measured.capped_by_level(&level, MOST_NOISE)
}
