use super::candidates::{LEAST_RADIUS, Start, UPRIGHT, apart, upright};
use super::edges::{Edge, Edges};

/// A rim as fitted, px at the scale looked at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rim {
    pub(super) centre: [f64; 2],
    pub(super) centre_sd: [f64; 2],
    pub(super) radius: f64,
    pub(super) radius_sd: f64,
    pub(super) arc_deg: f64,
    pub(super) share: f64,
    pub(super) residual: f64,
    /// Pieces beside those seen in which the rim runs on, but off the circle.
    pub(super) leaving: usize,
}

/// How far edges may lie from the circle in each round of the fit, px: judgement. The last is how sharp a
/// rim must be.
const TOLERANCES_PX: [f64; 7] = [16.0, 10.0, 6.0, 4.0, 2.5, 2.0, 2.0];
/// Edges this share of the radius in- or outside are expected to lie on the rim, were it round: judgement.
const BAND: f64 = 0.08;
/// At least this many times the tolerance: among edges by chance, no more than a quarter then lie on the rim.
const BAND_TOLERANCES: f64 = 4.0;
/// Pieces of the turn that are looked at one by one.
const PIECES: usize = 72;
/// Least edges in a piece, per px of its length, to count as seen: judgement.
const LEAST_FILLED: f64 = 0.5;
/// So many pieces beside one that is seen are looked at for a rim that leaves the circle: judgement.
const BESIDE: usize = 3;
/// At the end edges stand within this angle of the way to the centre: cos 10 degrees, judgement. A straight
/// edge then passes for 20 degrees of a rim at most.
const UPRIGHT_AT_END: f64 = 0.985;
/// Neighbouring edges share their noise: one in this many counts. Smoothing spans about as many px.
const ALIKE: f64 = 4.0;
/// A rim is never known better than this, px: judgement, for wear and out-of-round.
const FLOOR_PX: f64 = 0.2;

/// Fits a circle to the edges near `start`, with ever less tolerance.
pub(super) fn refine(edges: &Edges, start: Start) -> Option<Rim> {
    let (mut centre, mut radius) = (start.centre, start.radius);
    let around = around(edges, start);
    for tolerance in TOLERANCES_PX {
        let on_rim = |e: &Edge| {
            upright(e, centre, start.bright, UPRIGHT).is_some_and(|d| (d - radius).abs() <= tolerance)
        };
        let near: Vec<[f64; 2]> = around.iter().filter(|e| on_rim(e)).map(|e| e.at).collect();
        (centre, radius) = improved(&near, centre, radius)?;
    }
    if radius < LEAST_RADIUS * edges.longest() {
        return None;
    }
    let [.., tolerance] = TOLERANCES_PX;
    let (mut filled, mut beside) = ([0.0_f64; PIECES], [0.0_f64; PIECES]);
    let (mut in_band, mut squares) = (0.0_f64, 0.0_f64);
    let mut on: Vec<[f64; 2]> = Vec::new();
    for edge in &around {
        let Some(distance) = upright(edge, centre, start.bright, UPRIGHT_AT_END) else { continue };
        let off = distance - radius;
        let turn = libm::atan2(edge.at[1] - centre[1], edge.at[0] - centre[0]) / std::f64::consts::TAU;
        let piece = ((turn.rem_euclid(1.0) * PIECES as f64) as usize).min(PIECES - 1);
        let wide = BAND_TOLERANCES * tolerance;
        if off.abs() <= (BAND * radius).max(wide) {
            in_band += 1.0;
        }
        if off.abs() <= tolerance {
            squares += off * off;
            on.push(edge.at);
            filled[piece] += 1.0;
        } else if off.abs() <= wide {
            beside[piece] += 1.0;
        }
    }
    let on_rim = on.len() as f64;
    let piece_px = std::f64::consts::TAU * radius / PIECES as f64;
    let full = |count: f64| count >= LEAST_FILLED * piece_px;
    let seen = filled.iter().filter(|&&count| full(count)).count();
    let near_seen = |i: usize| {
        (1..=BESIDE).any(|d| full(filled[(i + d) % PIECES]) || full(filled[(i + PIECES - d) % PIECES]))
    };
    let leaving = (0..PIECES).filter(|&i| !full(filled[i]) && full(beside[i]) && near_seen(i)).count();
    let residual = (squares / on_rim.max(1.0)).sqrt();
    let [x, y, r] = normal(&on, centre, radius).variances()?;
    let scale = residual * residual * ALIKE;
    let sd = |variance: f64| (variance * scale + FLOOR_PX * FLOOR_PX).sqrt();
    Some(Rim {
        centre,
        centre_sd: [sd(x), sd(y)],
        radius,
        radius_sd: sd(r),
        arc_deg: 360.0 * seen as f64 / PIECES as f64,
        share: on_rim / in_band.max(1.0),
        residual,
        leaving,
    })
}

/// The edges that any round of the fit may come to.
fn around(edges: &Edges, start: Start) -> Vec<Edge> {
    let reach = 3.0 * TOLERANCES_PX[0] + 2.0 * BAND * start.radius;
    let near = |e: &&Edge| {
        let distance = apart(e.at, start.centre);
        (distance - start.radius).abs() <= reach
    };
    edges.all.iter().filter(near).copied().collect()
}

/// A few Gauss-Newton steps for the least sum of squared distances from the circle.
fn improved(points: &[[f64; 2]], mut centre: [f64; 2], mut radius: f64) -> Option<([f64; 2], f64)> {
    const STEPS: usize = 4;
    const LEAST_POINTS: usize = 12;
    if points.len() < LEAST_POINTS {
        return None;
    }
    for _ in 0..STEPS {
        let [dx, dy, dr] = normal(points, centre, radius).solved()?;
        centre = [centre[0] + dx, centre[1] + dy];
        radius += dr;
    }
    (centre.iter().all(|v| v.is_finite()) && radius.is_finite() && radius > 0.0).then_some((centre, radius))
}

/// Normal equations for steps of centre and radius: `a` times the step is `b`.
struct Normal {
    a: [[f64; 3]; 3],
    b: [f64; 3],
}

fn normal(points: &[[f64; 2]], centre: [f64; 2], radius: f64) -> Normal {
    let mut sums = Normal { a: [[0.0; 3]; 3], b: [0.0; 3] };
    for point in points {
        let (dx, dy) = (point[0] - centre[0], point[1] - centre[1]);
        let distance = apart(*point, centre).max(1e-9);
        // d(distance - radius) for a step of x, y, radius
        let row = [dx / distance, dy / distance, 1.0];
        for i in 0..3 {
            for j in 0..3 {
                sums.a[i][j] += row[i] * row[j];
            }
            sums.b[i] += row[i] * (distance - radius);
        }
    }
    sums
}

impl Normal {
    /// Adjugate and determinant of the symmetric matrix; `None` if it is all but singular.
    fn adjugate(&self) -> Option<([[f64; 3]; 3], f64)> {
        let m = &self.a;
        let minor = |i: usize, j: usize| {
            let (r1, r2) = ((i + 1) % 3, (i + 2) % 3);
            let (c1, c2) = ((j + 1) % 3, (j + 2) % 3);
            m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1]
        };
        let adjugate = std::array::from_fn(|i| std::array::from_fn(|j| minor(j, i)));
        let determinant = m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
        let size = m[2][2];
        (determinant.is_finite() && determinant > 1e-9 * size * size * size)
            .then_some((adjugate, determinant))
    }

    fn solved(&self) -> Option<[f64; 3]> {
        let (adjugate, determinant) = self.adjugate()?;
        Some(adjugate.map(|row| row.iter().zip(&self.b).map(|(a, b)| a * b).sum::<f64>() / determinant))
    }

    /// Variances of x, y and radius for edges of variance 1.
    fn variances(&self) -> Option<[f64; 3]> {
        let (adjugate, determinant) = self.adjugate()?;
        Some(std::array::from_fn(|i| adjugate[i][i] / determinant))
    }
}
