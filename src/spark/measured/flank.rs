use super::burst::Arm;
use super::piece::Piece;
use super::plane::Plane;
use super::stream_photo::Spot;
use super::tiles::Tiles;

/// Where the light beside a line is looked for, in line widths from its middle.
const NEAR: f64 = 0.7;
/// Farthest place.
const FAR: f64 = 2.2;
/// Places on each side.
const PLACES: usize = 5;

/// A look at a picture: square roots of linear light, its background in the same, and how wide lines are, px.
pub(super) struct Look<'a> {
    pub(super) plane: &'a Plane,
    pub(super) ground: &'a Tiles,
    pub(super) width: f64,
}

/// Light at one point of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Beside {
    /// Light of the line above the brighter of the two valleys beside it, linear.
    pub(super) own: f64,
    /// Light of that valley above the background, linear.
    pub(super) others: f64,
    /// Depth of the shallower valley over that of the deeper one.
    pub(super) evenness: f64,
    /// Depth of the shallower valley, square roots of linear light.
    pub(super) depth: f64,
}

impl Beside {
    /// Whether the line's own light is twice that of all others.
    pub(super) fn is_apart(&self) -> bool {
        self.others < 0.5 * self.own
    }
}

impl Look<'_> {
    pub(super) fn beside(&self, p: Spot, along: [f64; 2]) -> Beside {
        let normal = [-along[1], along[0]];
        let valley = |side: f64| {
            (0..PLACES)
                .map(|k| {
                    let off = side * self.width * (NEAR + (FAR - NEAR) * k as f64 / (PLACES - 1) as f64);
                    self.plane.at(p[0] + off * normal[0], p[1] + off * normal[1])
                })
                .fold(f64::INFINITY, f64::min)
        };
        let middle = self.plane.at(p[0], p[1]);
        let (left, right) = (valley(-1.0), valley(1.0));
        let (valley, deeper) = (left.max(right), left.min(right));
        let linear = |root: f64| root * root;
        let floor = linear(self.ground.at(p[0], p[1]));
        let depth = middle - deeper;
        Beside {
            own: linear(middle) - linear(valley),
            others: (linear(valley) - floor).max(0.0),
            evenness: if depth > 0.0 { (middle - valley) / depth } else { 0.0 },
            depth: middle - valley,
        }
    }

    /// Along a whole piece.
    pub(super) fn along(&self, piece: &Piece) -> Vec<Beside> {
        let count = piece.points.len();
        (0..count)
            .map(|i| {
                let (before, after) = (piece.points[i.saturating_sub(3)], piece.points[(i + 3).min(count - 1)]);
                let d = [after[0] - before[0], after[1] - before[1]];
                let r = d[0].hypot(d[1]).max(1e-9);
                self.beside(piece.points[i], [d[0] / r, d[1] / r])
            })
            .collect()
    }

    /// Whether light goes on from a place to where its arm begins.
    pub(super) fn lit(&self, at: Spot, arm: &Arm) -> bool {
        let along = [arm.angle.cos(), arm.angle.sin()];
        let light = |r: f64| {
            [-0.7, 0.0, 0.7]
                .map(|off| [at[0] + r * along[0] - off * along[1], at[1] + r * along[1] + off * along[0]])
                .map(|p| self.plane.at(p[0], p[1]) - self.ground.at(p[0], p[1]))
                .into_iter()
                .fold(f64::NEG_INFINITY, f64::max)
        };
        let steps = arm.from as usize;
        let level = 0.5 * light(f64::midpoint(arm.from, arm.to));
        (1..steps).filter(|r| light(*r as f64) >= level).count() * 10 >= 9 * steps.saturating_sub(1)
    }

    /// Length of an arm that is apart from all other light, px.
    pub(super) fn arm_apart(&self, at: Spot, arm: &Arm) -> f64 {
        let along = [arm.angle.cos(), arm.angle.sin()];
        let mut apart = 0.0;
        let mut r = arm.from;
        while r <= arm.to {
            // the ridge lies within a pixel of the straight ray: take the best of three
            let best = [-1.0, 0.0, 1.0]
                .map(|off| [at[0] + r * along[0] - off * along[1], at[1] + r * along[1] + off * along[0]])
                .map(|p| self.beside(p, along))
                .into_iter()
                .max_by(|a, b| a.own.total_cmp(&b.own));
            apart += f64::from(u8::from(best.is_some_and(|b| b.own > 0.0 && b.is_apart())));
            r += 1.0;
        }
        apart
    }
}

/// Typical evenness of a line: an edge between bright and dark stands out on one side only.
pub(super) fn evenness(beside: &[Beside]) -> f64 {
    let mut values: Vec<f32> = beside.iter().map(|b| b.evenness as f32).collect();
    f64::from(super::tiles::quantile(&mut values, 0.5))
}

/// Typical height of a line above the light on both its sides, square roots of linear light.
pub(super) fn height(beside: &[Beside]) -> f64 {
    let mut values: Vec<f32> = beside.iter().map(|b| b.depth as f32).collect();
    f64::from(super::tiles::quantile(&mut values, 0.5))
}
