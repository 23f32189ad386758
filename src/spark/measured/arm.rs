use super::fit::{angle_to, between, distance, signed_between};
use super::ridge::Ridges;
use super::stream_photo::Spot;

/// A point of a line belongs to an arm if that line points at the place within this, radians, ...
const RADIAL: f64 = 0.2;
/// ... or passes it no farther off than this, px.
const PASSES: f64 = 1.2;
/// Points nearer than this have no direction from the place, px.
const NEAREST: f64 = 1.5;
/// How far beside an arm's direction its next point lies, px.
const BESIDE: f64 = 1.8;
/// A point is on an arm up to this far past its ends, px.
const END: f64 = 0.5;
/// How fast an arm turns after its points, 0 to 1.
const TURN: f64 = 0.35;
/// Shortest arm, px.
const SHORTEST: f64 = 3.0;
/// Widest gap in an arm, px.
const GAP: f64 = 3.5;
/// An arm begins within this of the place, px: rays that leave in nearly one direction part late.
const BEGINS: f64 = 30.0;

/// A line that leaves a place outward.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Arm {
    /// Direction, radians, x to the right and y down.
    pub(super) angle: f64,
    /// Where it stands out first, px from the place.
    pub(super) from: f64,
    /// Where it stands out last.
    pub(super) to: f64,
    /// Mean strength of its points, standard deviations of the noise.
    pub(super) strength: f64,
}

impl Arm {
    /// On the arm, `r` from its place, `off` to the side.
    pub(super) fn place(&self, at: Spot, r: f64, off: f64) -> Spot {
        let (sin, cos) = self.angle.sin_cos();
        [at[0] + r * cos - off * sin, at[1] + r * sin + off * cos]
    }

    /// Whether a point is on it that lies `r` px from its place in this direction.
    pub(super) fn holds(&self, r: f64, angle: f64) -> bool {
        (self.from - END..=self.to + END).contains(&r) && between(self.angle, angle) * r < BESIDE
    }
}

/// An arm while it grows.
struct Growing {
    angle: f64,
    from: f64,
    to: f64,
    sum: f64,
    count: f64,
}

/// Lines that leave a place, from the points of lines around it up to `reach` px: grown outward, nearest points
/// first, each joins the arm that it goes on. Points that are `claimed` count for nothing.
pub(super) fn arms(ridges: &Ridges, at: Spot, reach: f64, claimed: &[bool]) -> Vec<Arm> {
    let mut growing: Vec<Growing> = Vec::new();
    for (r, angle, strength) in pointing(ridges, at, reach, claimed) {
        let beside = |arm: &Growing| (signed_between(angle, arm.angle) * r).abs();
        let next = growing
            .iter()
            .enumerate()
            .filter(|(_, arm)| r - arm.to <= GAP && beside(arm) < BESIDE)
            .min_by(|a, b| beside(a.1).total_cmp(&beside(b.1)))
            .map(|(i, _)| i);
        if let Some(i) = next {
            let arm = &mut growing[i];
            arm.angle += TURN * signed_between(angle, arm.angle);
            arm.to = r;
            arm.sum += strength;
            arm.count += 1.0;
        } else if r <= BEGINS {
            growing.push(Growing { angle, from: r, to: r, sum: strength, count: 1.0 });
        }
    }
    growing.retain(|a| a.to - a.from >= SHORTEST && a.count >= SHORTEST);
    let arm = |a: &Growing| Arm { angle: a.angle, from: a.from, to: a.to, strength: a.sum / a.count };
    growing.iter().map(arm).collect()
}

/// Distance, direction and strength of the points around a place whose lines point at it, nearest first.
fn pointing(ridges: &Ridges, at: Spot, reach: f64, claimed: &[bool]) -> Vec<(f64, f64, f64)> {
    let mut points = Vec::new();
    for p in ridges.around(at, reach).filter(|i| !claimed[*i]).map(|i| &ridges.points[i]) {
        let place = p.place();
        let r = distance(place, at);
        if !(NEAREST..=reach).contains(&r) {
            continue;
        }
        let angle = angle_to(at, place);
        let (sin, cos) = angle.sin_cos();
        let across = (cos * f64::from(p.along[1]) - sin * f64::from(p.along[0])).abs();
        if across < RADIAL || across * r < PASSES {
            points.push((r, angle, f64::from(p.strength)));
        }
    }
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    points
}
