use super::stream_photo::Spot;

/// Points from which on a parabola is fitted to an end.
const CURVED: usize = 12;

/// Distance of two places.
pub(super) fn distance(a: Spot, b: Spot) -> f64 {
    // no picture is so large that squares overflow: `hypot` would take several times as long
    let (x, y) = (a[0] - b[0], a[1] - b[1]);
    (x * x + y * y).sqrt()
}

/// Direction from one place to another, radians, x to the right and y down.
pub(super) fn angle_to(from: Spot, to: Spot) -> f64 {
    (to[1] - from[1]).atan2(to[0] - from[0])
}

/// Angle between two directions, radians, 0 to π.
pub(super) fn between(a: f64, b: f64) -> f64 {
    signed_between(a, b).abs()
}

/// From direction b to direction a, radians, -π to π.
pub(super) fn signed_between(a: f64, b: f64) -> f64 {
    use std::f64::consts::{PI, TAU};
    let turn = a - b;
    if turn.abs() <= PI { turn } else { (turn + PI).rem_euclid(TAU) - PI }
}

/// An end of a line: where it is and where it points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct End {
    pub(super) at: Spot,
    /// Unit vector outward, away from the line.
    pub(super) out: [f64; 2],
    /// Standard deviation of that direction, radians.
    pub(super) angle_sd: f64,
}

impl End {
    /// From the points nearest to the end, the outermost first: a parabola if there are enough of them,
    /// or else a straight line.
    pub(super) fn fitted(near: &[Spot]) -> Self {
        let frame = Frame::of(near);
        let local: Vec<[f64; 2]> = near.iter().map(|p| frame.local(*p)).collect();
        let across = local.iter().map(|p| p[0]);
        let length = across.clone().fold(f64::NEG_INFINITY, f64::max) - across.fold(f64::INFINITY, f64::min);
        let curved = near.len() >= CURVED;
        let fit = Parabola::fitted(&local, curved);
        let u = local.first().map_or(0.0, |p| p[0]);
        // outward: from the middle of the points towards the first
        let sign = if u >= 0.0 { 1.0 } else { -1.0 };
        let slope = fit.slope(u);
        let norm = slope.hypot(1.0);
        let out = frame.vector([sign / norm, sign * slope / norm]);
        // least squares: sd of the slope is residual √(12 / n) / length; at a parabola's end four times that
        let residual = fit.residual.max(0.25);
        let worse = if curved { 4.0 } else { 1.0 };
        let angle_sd = worse * residual * (12.0 / near.len().max(1) as f64).sqrt() / length.max(1.0);
        Self { at: frame.global([u, fit.value(u)]), out, angle_sd: angle_sd.min(0.8) }
    }
}

/// Where straight lines meet best: normal equations of their distances from a place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Crossing {
    xx: f64,
    xy: f64,
    yy: f64,
    bx: f64,
    by: f64,
}

impl Crossing {
    /// With a weak pull of weight `pull`, 1/px², to a place: parallel lines meet nowhere.
    pub(super) fn pulled_to(at: Spot, pull: f64) -> Self {
        Self { xx: pull, xy: 0.0, yy: pull, bx: pull * at[0], by: pull * at[1] }
    }

    /// A line through a place along a unit vector, weighed by one over the variance of its distance, 1/px².
    pub(super) fn add(&mut self, through: Spot, along: [f64; 2], weight: f64) {
        let n = [-along[1], along[0]];
        let d = n[0] * through[0] + n[1] * through[1];
        self.xx += weight * n[0] * n[0];
        self.xy += weight * n[0] * n[1];
        self.yy += weight * n[1] * n[1];
        self.bx += weight * n[0] * d;
        self.by += weight * n[1] * d;
    }

    /// The place; `None` if the lines are parallel.
    pub(super) fn place(&self) -> Option<Spot> {
        let det = self.xx * self.yy - self.xy * self.xy;
        (det > 1e-12 * (self.xx + self.yy).powi(2)).then(|| {
            [(self.bx * self.yy - self.by * self.xy) / det, (self.by * self.xx - self.bx * self.xy) / det]
        })
    }

    /// Standard deviation of the place in the direction in which it is known worst, px.
    pub(super) fn sd(&self) -> f64 {
        let half = 0.5 * (self.xx + self.yy);
        let least = half - (0.25 * (self.xx - self.yy).powi(2) + self.xy * self.xy).sqrt();
        (1.0 / least.max(1e-12)).sqrt()
    }
}

/// Axes along and across a set of points.
pub(super) struct Frame {
    middle: Spot,
    along: [f64; 2],
}

impl Frame {
    /// Along the direction in which the points spread most.
    pub(super) fn of(points: &[Spot]) -> Self {
        let n = points.len().max(1) as f64;
        let middle = [0, 1].map(|i| points.iter().map(|p| p[i]).sum::<f64>() / n);
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for p in points {
            let (x, y) = (p[0] - middle[0], p[1] - middle[1]);
            xx += x * x;
            xy += x * y;
            yy += y * y;
        }
        let angle = 0.5 * (2.0 * xy).atan2(xx - yy);
        Self { middle, along: [angle.cos(), angle.sin()] }
    }

    /// Along and across.
    pub(super) fn local(&self, p: Spot) -> [f64; 2] {
        let (x, y) = (p[0] - self.middle[0], p[1] - self.middle[1]);
        [x * self.along[0] + y * self.along[1], y * self.along[0] - x * self.along[1]]
    }

    fn vector(&self, v: [f64; 2]) -> [f64; 2] {
        [v[0] * self.along[0] - v[1] * self.along[1], v[0] * self.along[1] + v[1] * self.along[0]]
    }

    fn global(&self, p: [f64; 2]) -> Spot {
        let v = self.vector(p);
        [self.middle[0] + v[0], self.middle[1] + v[1]]
    }
}

/// v = a + b u + c u².
#[derive(Debug, Clone, Copy)]
pub(super) struct Parabola {
    a: f64,
    b: f64,
    pub(super) c: f64,
    /// Root mean square distance of the points.
    pub(super) residual: f64,
}

impl Parabola {
    /// Least squares; without `curved` a straight line.
    pub(super) fn fitted(points: &[[f64; 2]], curved: bool) -> Self {
        let n = points.len().max(1) as f64;
        let mean = |f: &dyn Fn(&[f64; 2]) -> f64| points.iter().map(f).sum::<f64>() / n;
        let u0 = mean(&|p| p[0]);
        let (u2, u3, u4) =
            (mean(&|p| (p[0] - u0).powi(2)), mean(&|p| (p[0] - u0).powi(3)), mean(&|p| (p[0] - u0).powi(4)));
        let v0 = mean(&|p| p[1]);
        let v1 = mean(&|p| p[1] * (p[0] - u0));
        let v2 = mean(&|p| p[1] * (p[0] - u0).powi(2));
        // normal equations about the mean of u, whose first moment is zero
        let determinant = u4 * u2 - u3 * u3 - u2 * u2 * u2;
        let c = if curved && determinant > 1e-9 * u2.powi(3).max(1e-12) {
            ((v2 - v0 * u2) * u2 - v1 * u3) / determinant
        } else {
            0.0
        };
        let b = if u2 > 1e-12 { (v1 - c * u3) / u2 } else { 0.0 };
        let a = v0 - c * u2;
        // back to u itself
        let fit = Self { a: a - b * u0 + c * u0 * u0, b: b - 2.0 * c * u0, c, residual: 0.0 };
        let residual = mean(&|p| (p[1] - fit.value(p[0])).powi(2)).sqrt();
        Self { residual, ..fit }
    }

    pub(super) fn value(&self, u: f64) -> f64 {
        self.a + self.b * u + self.c * u * u
    }

    fn slope(&self, u: f64) -> f64 {
        self.b + 2.0 * self.c * u
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: three points of v = 1 + 2 u - 0.5 u².
    #[test]
    fn a_parabola_goes_through_its_points() {
        let points: Vec<[f64; 2]> =
            [-1.0, 0.0, 1.0, 3.0].iter().map(|u| [*u, 1.0 + 2.0 * u - 0.5 * u * u]).collect();
        let fit = Parabola::fitted(&points, true);
        assert!((fit.a - 1.0).abs() < 1e-9 && (fit.b - 2.0).abs() < 1e-9 && (fit.c + 0.5).abs() < 1e-9);
        assert!(fit.residual < 1e-9);
    }

    #[test]
    fn an_end_points_away_from_its_line() {
        // from (10, 5) down to the left at 45 degrees: the first point is the upper right end
        let near: Vec<Spot> = (0..10).map(|i| [10.0 - f64::from(i), 5.0 + f64::from(i)]).collect();
        let end = End::fitted(&near);
        let half = 0.5_f64.sqrt();
        assert!((end.out[0] - half).abs() < 1e-9 && (end.out[1] + half).abs() < 1e-9, "{end:?}");
        assert!(distance(end.at, [10.0, 5.0]) < 1e-9);
    }

    /// By hand: a level and an upright line, known to 1 px and to 2 px.
    #[test]
    fn lines_meet_where_they_cross() {
        let mut lines = Crossing::pulled_to([0.0, 0.0], 0.0);
        lines.add([0.0, 3.0], [1.0, 0.0], 1.0);
        assert_eq!(lines.place(), None);
        lines.add([7.0, 0.0], [0.0, 1.0], 0.25);
        assert_eq!(lines.place(), Some([7.0, 3.0]));
        assert!((lines.sd() - 2.0).abs() < 1e-12);
    }

    #[test]
    fn angles_are_taken_the_short_way() {
        let degrees = |d: f64| d.to_radians();
        assert!((between(degrees(170.0), degrees(-170.0)) - degrees(20.0)).abs() < 1e-12);
        assert!((signed_between(degrees(-170.0), degrees(170.0)) - degrees(20.0)).abs() < 1e-12);
    }
}
