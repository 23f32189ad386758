use super::chain::Chain;
use super::stream_photo::Spot;

/// A piece of line that one parabola follows, and where it came from: points about one pixel apart.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    pub(super) points: Vec<Spot>,
    /// How far each point stands above the noise, in its standard deviations.
    pub(super) strength: Vec<f32>,
}

/// Farthest that points may lie off one smooth line, px.
const OFF_LINE: f64 = 1.2;
/// Fewest points of a piece.
const FEWEST: usize = 3;
/// Points at an end that its direction is taken from.
const END_POINTS: usize = 24;

impl Piece {
    pub(super) fn length(&self) -> f64 {
        self.points.windows(2).map(|w| distance(w[0], w[1])).sum()
    }

    pub(super) fn mean_strength(&self) -> f64 {
        self.strength.iter().map(|s| f64::from(*s)).sum::<f64>() / self.strength.len().max(1) as f64
    }

    /// Its first (`false`) or last (`true`) end.
    pub(super) fn end(&self, last: bool) -> End {
        let count = self.points.len().min(END_POINTS);
        let near: Vec<Spot> = if last {
            self.points[self.points.len() - count..].iter().rev().copied().collect()
        } else {
            self.points[..count].to_vec()
        };
        End::fitted(&near)
    }

    /// This piece and then `other`, each turned round if asked.
    pub(super) fn joined(&self, turn: bool, other: &Self, turn_other: bool) -> Self {
        let mut joined = self.clone();
        if turn {
            joined.points.reverse();
            joined.strength.reverse();
        }
        let (mut points, mut strength) = (other.points.clone(), other.strength.clone());
        if turn_other {
            points.reverse();
            strength.reverse();
        }
        joined.points.append(&mut points);
        joined.strength.append(&mut strength);
        joined
    }
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
    fn fitted(near: &[Spot]) -> Self {
        let frame = Frame::of(near);
        let local: Vec<[f64; 2]> = near.iter().map(|p| frame.local(*p)).collect();
        let length = local.iter().map(|p| p[0]).fold(f64::NEG_INFINITY, f64::max)
            - local.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min);
        let fit = Parabola::fitted(&local, near.len() >= 12);
        let u = local[0][0];
        // outward: from the middle of the points towards the first
        let sign = if u >= 0.0 { 1.0 } else { -1.0 };
        let slope = fit.slope(u);
        let norm = slope.hypot(1.0);
        let out = frame.vector([sign / norm, sign * slope / norm]);
        // straight line: sd of slope = residual sqrt(12 / n) / length; a parabola's end is four times worse
        let n = near.len() as f64;
        let residual = fit.residual.max(0.25);
        let worse = if near.len() >= 12 { 4.0 } else { 1.0 };
        let angle_sd = worse * residual * (12.0 / n).sqrt() / length.max(1.0);
        Self { at: frame.global([u, fit.value(u)]), out, angle_sd: angle_sd.min(0.8) }
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
        let middle = [points.iter().map(|p| p[0]).sum::<f64>() / n, points.iter().map(|p| p[1]).sum::<f64>() / n];
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

    pub(super) fn local(&self, p: Spot) -> [f64; 2] {
        let (x, y) = (p[0] - self.middle[0], p[1] - self.middle[1]);
        [x * self.along[0] + y * self.along[1], y * self.along[0] - x * self.along[1]]
    }

    pub(super) fn vector(&self, v: [f64; 2]) -> [f64; 2] {
        [v[0] * self.along[0] - v[1] * self.along[1], v[0] * self.along[1] + v[1] * self.along[0]]
    }

    pub(super) fn global(&self, p: [f64; 2]) -> Spot {
        let v = self.vector(p);
        [self.middle[0] + v[0], self.middle[1] + v[1]]
    }
}

/// v = a + b u + c u².
#[derive(Debug, Clone, Copy)]
pub(super) struct Parabola {
    a: f64,
    b: f64,
    c: f64,
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
        let (v0, v1, v2) = (
            mean(&|p| p[1]),
            mean(&|p| p[1] * (p[0] - u0)),
            mean(&|p| p[1] * (p[0] - u0).powi(2)),
        );
        // normal equations about the mean of u: the first moment is zero
        let denominator = u4 * u2 - u3 * u3 - u2 * u2 * u2;
        let c = if curved && denominator.abs() > 1e-9 * u2.powi(3).max(1e-12) {
            ((v2 - v0 * u2) * u2 - v1 * u3) / denominator
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

    pub(super) fn slope(&self, u: f64) -> f64 {
        self.b + 2.0 * self.c * u
    }
}

pub(super) fn distance(a: Spot, b: Spot) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Cuts a chain where it turns a corner: every piece follows one parabola.
pub(super) fn pieces(chain: &Chain) -> Vec<Piece> {
    let whole = Piece {
        points: chain.iter().map(|p| [f64::from(p.x), f64::from(p.y)]).collect(),
        strength: chain.iter().map(|p| p.strength).collect(),
    };
    let mut found = Vec::new();
    let mut open = vec![whole];
    while let Some(piece) = open.pop() {
        match corner(&piece) {
            Some(at) if piece.points.len() >= 2 * FEWEST => {
                let at = at.clamp(FEWEST, piece.points.len() - FEWEST);
                let (points, rest) = piece.points.split_at(at);
                let (strength, rest_strength) = piece.strength.split_at(at);
                open.push(Piece { points: points.to_vec(), strength: strength.to_vec() });
                open.push(Piece { points: rest.to_vec(), strength: rest_strength.to_vec() });
            }
            Some(_) => {}
            None => found.push(piece),
        }
    }
    found
}

/// Where the points leave a parabola, if they do.
fn corner(piece: &Piece) -> Option<usize> {
    if piece.points.len() < 4 {
        return None;
    }
    let frame = Frame::of(&piece.points);
    let local: Vec<[f64; 2]> = piece.points.iter().map(|p| frame.local(*p)).collect();
    let fit = Parabola::fitted(&local, local.len() >= 8);
    let off = |p: &[f64; 2]| (p[1] - fit.value(p[0])).abs();
    let worst = local.iter().map(off).fold(0.0, f64::max);
    if worst <= OFF_LINE {
        return None;
    }
    // the corner of a bent line: farthest from the straight line between its ends
    let (first, last) = (local[0], local[local.len() - 1]);
    let base = [last[0] - first[0], last[1] - first[1]];
    let norm = base[0].hypot(base[1]).max(1e-9);
    let away = |p: &[f64; 2]| ((p[0] - first[0]) * base[1] - (p[1] - first[1]) * base[0]).abs() / norm;
    let mut at = (0, 0.0);
    for (i, p) in local.iter().enumerate() {
        if away(p) > at.1 {
            at = (i, away(p));
        }
    }
    Some(at.0)
}
