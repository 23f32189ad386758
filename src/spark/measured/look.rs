use super::arm::Arm;
use super::piece::Piece;
use super::scene::{Scene, linear};
use super::stream_photo::Spot;
use super::tiles::quantile;

/// Where the light beside a line is looked for, in line widths from its middle: nearest and farthest place.
const BESIDE: [f64; 2] = [0.7, 2.2];
/// Places on each side.
const PLACES: usize = 5;
/// An arm is lit up to where it begins if light is at least this share of its own, as roots, ...
const LIT: f64 = 0.5;
/// ... over this share of the way.
const LIT_WAY: f64 = 0.9;

/// Light at one point of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Beside {
    /// Light of the line above the mean of the two valleys beside it, linear.
    pub(super) own: f64,
    /// Light of those above the background, linear.
    pub(super) others: f64,
    /// Light of the line above the brighter valley, linear: no less of it is its own.
    pub(super) sure: f64,
    /// Depth of the shallower valley over that of the deeper one: an edge has one side only.
    pub(super) evenness: f64,
    /// Depth of the shallower valley, roots of light.
    pub(super) depth: f64,
}

impl Beside {
    /// Whether the line's own light is twice that of all others.
    pub(super) fn is_apart(&self) -> bool {
        self.own > 0.0 && self.others < 0.5 * self.own
    }

    /// Whether it is so even if all others' light is as bright as the brighter valley.
    pub(super) fn is_surely_apart(&self) -> bool {
        self.sure > 0.0 && self.own + self.others < 1.5 * self.sure
    }
}

impl Scene {
    /// Looks across a line that runs along a unit vector.
    pub(super) fn beside(&self, p: Spot, along: [f64; 2]) -> Beside {
        let valley = |side: f64| {
            (0..PLACES)
                .map(|k| {
                    let share = k as f64 / (PLACES - 1) as f64;
                    let off = side * self.line * (BESIDE[0] + (BESIDE[1] - BESIDE[0]) * share);
                    self.plane.at(p[0] - off * along[1], p[1] + off * along[0])
                })
                .fold(f64::INFINITY, f64::min)
        };
        let middle = self.plane.at(p[0], p[1]);
        let (left, right) = (valley(-1.0), valley(1.0));
        let (valley, deeper) = (left.max(right), left.min(right));
        let between = f64::midpoint(linear(left), linear(right));
        let depth = middle - deeper;
        Beside {
            own: linear(middle) - between,
            others: (between - self.ground_light(p[0], p[1])).max(0.0),
            sure: linear(middle) - linear(valley),
            evenness: if depth > 0.0 { (middle - valley) / depth } else { 0.0 },
            depth: middle - valley,
        }
    }

    /// All along a piece.
    pub(super) fn along(&self, piece: &Piece) -> Vec<Beside> {
        let last = piece.points.len() - 1;
        let look = |i: usize| {
            let (before, after) = (piece.points[i.saturating_sub(3)], piece.points[(i + 3).min(last)]);
            let step = [after[0] - before[0], after[1] - before[1]];
            let length = step[0].hypot(step[1]).max(1e-9);
            self.beside(piece.points[i], [step[0] / length, step[1] / length])
        };
        (0..=last).map(look).collect()
    }

    /// Whether light goes on from a place to where its arm begins.
    pub(super) fn is_lit(&self, at: Spot, arm: &Arm) -> bool {
        let light = |r: f64| {
            let near = [-0.7, 0.0, 0.7].map(|off| arm.place(at, r, off));
            near.into_iter().map(|p| self.above(p[0], p[1])).fold(f64::NEG_INFINITY, f64::max)
        };
        let level = LIT * light(f64::midpoint(arm.from, arm.to));
        let way = arm.from as usize;
        let lit = (1..way).filter(|r| light(*r as f64) >= level).count();
        lit as f64 >= LIT_WAY * way.saturating_sub(1) as f64
    }
}

/// The middle one of some property of the points of a line.
pub(super) fn usual(beside: &[Beside], of: impl Fn(&Beside) -> f64) -> f64 {
    let mut values: Vec<f32> = beside.iter().map(|b| of(b) as f32).collect();
    f64::from(quantile(&mut values, 0.5))
}

/// Share of the points that are apart from other light.
pub(super) fn share_apart(beside: &[Beside]) -> f64 {
    beside.iter().filter(|b| b.is_apart()).count() as f64 / beside.len().max(1) as f64
}
