//! The section of a coupon before anything happened to it. Millimetres, x right, y down, the middle at the origin;
//! sides run clockwise as seen.

/// A point or direction on the plane of the face, mm.
pub(crate) type Mm = [f64; 2];

pub(crate) fn dot(a: Mm, b: Mm) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// `a + t b`.
pub(crate) fn moved(a: Mm, t: f64, b: Mm) -> Mm {
    [a[0] + t * b[0], a[1] + t * b[1]]
}

/// The shape of a bar's section.
#[derive(Clone, Debug)]
pub(crate) enum Section {
    /// Straight sides; their corners are rounded to `fillet`, mm.
    Polygon {
        sides: Vec<Side>,
        fillet: f64,
    },
    Round {
        radius: f64,
    },
}

/// A straight side.
#[derive(Clone, Debug)]
pub(crate) struct Side {
    from: Mm,
    along: Mm,
    inward: Mm,
    long: f64,
    /// Where its roundings end and begin, along it.
    straight: [f64; 2],
}

impl Section {
    /// The first side lies on top, the next one on the right.
    pub(crate) fn rectangle(width: f64, height: f64, fillet: f64) -> Self {
        let (x, y) = (width / 2.0, height / 2.0);
        Self::polygon(&[[-x, -y], [x, -y], [x, y], [-x, y]], fillet)
    }

    /// The broken tip of a blade: its spine on top, and two flanks that nearly meet at the edge.
    pub(crate) fn wedge(spine: f64, height: f64, edge: f64, fillet: f64) -> Self {
        let (s, e, y) = (spine / 2.0, edge / 2.0, height / 2.0);
        Self::polygon(&[[-s, -y], [s, -y], [e, y], [-e, y]], fillet)
    }

    fn polygon(corners: &[Mm], fillet: f64) -> Self {
        let n = corners.len();
        let mut sides: Vec<Side> = (0..n)
            .map(|i| {
                let (a, b) = (corners[i], corners[(i + 1) % n]);
                let long = (b[0] - a[0]).hypot(b[1] - a[1]);
                let along = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
                Side { from: a, along, inward: [-along[1], along[0]], long, straight: [0.0, long] }
            })
            .collect();
        // a rounding takes the fillet times the tangent of half the turn
        let turns: Vec<f64> = (0..n).map(|i| dot(sides[i].along, sides[(i + 1) % n].along)).collect();
        for (i, side) in sides.iter_mut().enumerate() {
            let cut = |c: f64| fillet * ((1.0 - c) / (1.0 + c)).sqrt();
            side.straight = [cut(turns[(i + n - 1) % n]), side.long - cut(turns[i])];
        }
        Self::Polygon { sides, fillet }
    }

    pub(crate) fn sides(&self) -> usize {
        match self {
            Self::Polygon { sides, .. } => sides.len(),
            Self::Round { .. } => 1,
        }
    }

    pub(crate) fn is_round(&self) -> bool {
        matches!(self, Self::Round { .. })
    }

    pub(crate) fn side_length(&self, side: usize) -> f64 {
        match self {
            Self::Polygon { sides, .. } => sides[side].long,
            Self::Round { radius } => std::f64::consts::TAU * radius,
        }
    }

    /// The point at a length along a side, and the direction inward from there. A round side starts on the right.
    pub(crate) fn foot(&self, side: usize, along: f64) -> (Mm, Mm) {
        match self {
            Self::Polygon { sides, .. } => {
                let side = &sides[side];
                (moved(side.from, along, side.along), side.inward)
            }
            Self::Round { radius } => {
                let (sin, cos) = (along / radius).sin_cos();
                ([radius * cos, radius * sin], [-cos, -sin])
            }
        }
    }

    /// Length along a side, and depth below it, of a point.
    pub(crate) fn below(&self, side: usize, p: Mm) -> (f64, f64) {
        match self {
            Self::Polygon { sides, .. } => {
                let side = &sides[side];
                let from = [p[0] - side.from[0], p[1] - side.from[1]];
                (dot(from, side.along), dot(from, side.inward))
            }
            Self::Round { radius } => {
                let turn = p[1].atan2(p[0]).rem_euclid(std::f64::consts::TAU);
                (turn * radius, radius - p[0].hypot(p[1]))
            }
        }
    }

    /// Distance to the outline, mm: below zero inside.
    pub(crate) fn distance(&self, p: Mm) -> f64 {
        match self {
            Self::Round { radius } => p[0].hypot(p[1]) - radius,
            Self::Polygon { sides, fillet } => {
                let (mut outside, mut deepest) = (f64::MAX, f64::MIN);
                for side in sides {
                    let from = [p[0] - side.from[0], p[1] - side.from[1]];
                    let (s, e) = (dot(from, side.along), dot(from, side.inward) - fillet);
                    deepest = deepest.max(-e);
                    let beyond = (side.straight[0] - s).max(s - side.straight[1]).max(0.0);
                    outside = outside.min(e * e + beyond * beyond);
                }
                if deepest <= 0.0 { deepest - fillet } else { outside.sqrt() - fillet }
            }
        }
    }

    /// Points round the outline at most `step` apart, each with the direction inward.
    pub(crate) fn walk(&self, step: f64) -> Vec<(Mm, Mm)> {
        let steps = |long: f64| (long / step).ceil().max(1.0) as usize;
        match self {
            Self::Round { radius } => {
                let long = std::f64::consts::TAU * radius;
                let n = steps(long);
                (0..n).map(|i| self.foot(0, long * i as f64 / n as f64)).collect()
            }
            Self::Polygon { sides, fillet } => {
                let mut out = Vec::new();
                for (i, side) in sides.iter().enumerate() {
                    let [low, high] = side.straight;
                    let n = steps(high - low);
                    out.extend((0..n).map(|k| self.foot(i, low + (high - low) * k as f64 / n as f64)));
                    // the rounding to the next side, clockwise
                    let (end, inward) = self.foot(i, high);
                    let middle = moved(end, *fillet, inward);
                    let next = &sides[(i + 1) % sides.len()];
                    let turn = dot(side.along, next.along).clamp(-1.0, 1.0).acos();
                    let n = steps(turn * fillet);
                    out.extend((0..n).map(|k| {
                        let (sin, cos) = (turn * k as f64 / n as f64).sin_cos();
                        let inward = [inward[0] * cos - inward[1] * sin, inward[0] * sin + inward[1] * cos];
                        (moved(middle, -fillet, inward), inward)
                    }));
                }
                out
            }
        }
    }

    /// Half its extent in x and y, mm.
    pub(crate) fn half(&self) -> Mm {
        match self {
            Self::Round { radius } => [*radius; 2],
            Self::Polygon { sides, .. } => {
                [0, 1].map(|k| sides.iter().map(|s| s.from[k].abs()).fold(0.0, f64::max))
            }
        }
    }

    /// The shorter way through its middle, mm.
    pub(crate) fn thickness(&self) -> f64 {
        let [x, y] = self.half();
        2.0 * x.min(y)
    }
}
