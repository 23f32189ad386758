use crate::photo::Linear;

/// A place where brightness changes fastest.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    /// Place, px at the scale looked at, to a fraction of a px.
    pub(super) at: [f64; 2],
    /// Unit vector towards the brighter side.
    pub(super) uphill: [f64; 2],
}

/// The edges of a picture, strongest first.
#[derive(Debug)]
pub(super) struct Edges {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) all: Vec<Edge>,
}

/// Least change over one px of the square root of linear light (0 to 1) that counts as an edge: judgement.
const LEAST_STEP: f32 = 0.012;
/// Most edges kept: judgement. More are texture.
const MOST_EDGES: usize = 30_000;

impl Edges {
    /// The picture's longer side, px.
    pub(super) fn longest(&self) -> f64 {
        self.width.max(self.height) as f64
    }

    /// Looks along the whole picture. The square root evens out the noise of light.
    pub(super) fn of(linear: &Linear<'_>) -> Self {
        let (width, height) = (linear.width(), linear.height());
        let root: Vec<f32> = linear.luminance(0..height).into_iter().map(f32::sqrt).collect();
        let plane = Plane { width, height, values: smooth(&root, width, height) };
        let mut found = Vec::new();
        for y in 2..height.saturating_sub(2) {
            for x in 2..width.saturating_sub(2) {
                found.extend(plane.edge(x, y));
            }
        }
        found.sort_by(|a: &(f32, Edge), b| b.0.total_cmp(&a.0));
        found.truncate(MOST_EDGES);
        Self { width, height, all: found.into_iter().map(|(_, edge)| edge).collect() }
    }
}

struct Plane {
    width: usize,
    height: usize,
    values: Vec<f32>,
}

impl Plane {
    fn value(&self, x: usize, y: usize) -> f32 {
        let (x, y) = (x.min(self.width - 1), y.min(self.height - 1));
        self.values[y * self.width + x]
    }

    /// Change over one px in x and y, by a 3 x 3 Sobel mask.
    fn slope(&self, x: usize, y: usize) -> [f32; 2] {
        let v = |dx: usize, dy: usize| self.value(x + dx - 1, y + dy - 1);
        let across = |a: f32, b: f32, c: f32| (a + 2.0 * b + c) / 8.0;
        [
            across(v(2, 0), v(2, 1), v(2, 2)) - across(v(0, 0), v(0, 1), v(0, 2)),
            across(v(0, 2), v(1, 2), v(2, 2)) - across(v(0, 0), v(1, 0), v(2, 0)),
        ]
    }

    fn steepness(&self, x: usize, y: usize) -> f32 {
        let [dx, dy] = self.slope(x, y);
        dx.hypot(dy)
    }

    /// The edge at this pixel, with its strength, if the slope is greatest here along its own direction.
    fn edge(&self, x: usize, y: usize) -> Option<(f32, Edge)> {
        let [dx, dy] = self.slope(x, y);
        let here = dx.hypot(dy);
        if here < LEAST_STEP {
            return None;
        }
        // The neighbours along the slope, nearest of eight.
        let (along_x, along_y) = (dx.abs() > 0.414 * dy.abs(), dy.abs() > 0.414 * dx.abs());
        let step = |along: bool, d: f32| isize::from(along) * if d < 0.0 { -1 } else { 1 };
        let (sx, sy) = (step(along_x, dx), step(along_y, dy));
        let at = |k: isize| self.steepness(x.saturating_add_signed(k * sx), y.saturating_add_signed(k * sy));
        let (before, after) = (at(-1), at(1));
        if before > here || after >= here {
            return None;
        }
        // Top of the parabola through the three.
        let bend = before - 2.0 * here + after;
        let shift = if bend < 0.0 { (0.5 * (before - after) / bend).clamp(-0.5, 0.5) } else { 0.0 };
        let uphill = [f64::from(dx / here), f64::from(dy / here)];
        let at = [x as f64 + f64::from(shift) * sx as f64, y as f64 + f64::from(shift) * sy as f64];
        Some((here, Edge { at, uphill }))
    }
}

/// Binomial smoothing over five px (standard deviation 1 px) in both directions.
fn smooth(values: &[f32], width: usize, height: usize) -> Vec<f32> {
    let along = |from: &[f32], step: usize, at: usize, place: usize, last: usize| {
        let v = |d: isize| {
            let moved = place.saturating_add_signed(d).min(last);
            from[at + moved * step - place * step]
        };
        (v(-2) + v(2) + 4.0 * (v(-1) + v(1)) + 6.0 * v(0)) / 16.0
    };
    let mut rows = vec![0.0; values.len()];
    for (i, out) in rows.iter_mut().enumerate() {
        *out = along(values, 1, i, i % width, width - 1);
    }
    let mut both = vec![0.0; values.len()];
    for (i, out) in both.iter_mut().enumerate() {
        *out = along(&rows, width, i, i / width, height - 1);
    }
    both
}
