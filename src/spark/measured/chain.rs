use super::ridge::{RidgePoint, Ridges};

/// A chain starts at a point that stands so far above the noise, in its standard deviations.
const START: f32 = 3.5;
/// Steepest turn from one point to the next, as the cosine of the angle (40 degrees).
const TURN: f32 = 0.77;
/// The next point lies ahead within this, as the cosine of the angle (73 degrees): steps go from pixel to pixel.
const AHEAD: f32 = 0.3;

/// A point lies beside another, and not ahead of it, within this along the line, px.
const BESIDE: f32 = 0.5;

/// Points of one bright line in order.
pub(super) type Chain = Vec<RidgePoint>;

/// Links points into lines, brightest first, as long as the direction goes on (Steger 1998, section 4).
/// Every point belongs to one chain at most.
pub(super) fn chains(ridges: &Ridges) -> Vec<Chain> {
    let strength = |i: usize| ridges.points[i].strength;
    let mut order: Vec<usize> = (0..ridges.points.len()).filter(|i| strength(*i) >= START).collect();
    order.sort_by(|a, b| strength(*b).total_cmp(&strength(*a)).then(a.cmp(b)));
    let mut used = vec![false; ridges.points.len()];
    let mut found = Vec::new();
    for start in order {
        if used[start] {
            continue;
        }
        used[start] = true;
        let first = ridges.points[start];
        let forward = follow(ridges, first, &mut used);
        let backward = follow(ridges, turned(first), &mut used);
        let mut chain: Chain = backward.into_iter().rev().map(turned).collect();
        chain.push(first);
        chain.extend(forward);
        found.push(chain);
    }
    found
}

fn turned(p: RidgePoint) -> RidgePoint {
    RidgePoint { along: [-p.along[0], -p.along[1]], ..p }
}

/// Goes from a point along its direction until no neighbour goes on.
fn follow(ridges: &Ridges, start: RidgePoint, used: &mut [bool]) -> Chain {
    let mut chain = Vec::new();
    let mut at = start;
    while let Some((index, next)) = next_point(ridges, at, used) {
        used[index] = true;
        take_beside(ridges, next, used);
        chain.push(next);
        at = next;
    }
    chain
}

/// Unused points on the pixels around a point.
fn around<'a>(ridges: &'a Ridges, at: RidgePoint, used: &'a [bool]) -> impl Iterator<Item = usize> + 'a {
    let (x, y) = (at.x as i64, at.y as i64);
    (y - 1..=y + 1)
        .flat_map(move |y| (x - 1..=x + 1).map(move |x| (x, y)))
        .filter_map(|(x, y)| ridges.on(x, y))
        .filter(|i| !used[*i])
}

/// The neighbour that goes on best: distance and angle weigh alike, as Steger has it.
fn next_point(ridges: &Ridges, at: RidgePoint, used: &[bool]) -> Option<(usize, RidgePoint)> {
    let mut best: Option<(f32, usize, RidgePoint)> = None;
    for index in around(ridges, at, used) {
        let p = ridges.points[index];
        let step = [p.x - at.x, p.y - at.y];
        let length = step[0].hypot(step[1]);
        let cosine = p.along[0] * at.along[0] + p.along[1] * at.along[1];
        let ahead = step[0] * at.along[0] + step[1] * at.along[1];
        if cosine.abs() < TURN || ahead <= AHEAD * length {
            continue;
        }
        let cost = length + cosine.abs().min(1.0).acos();
        if best.is_none_or(|(least, ..)| cost < least) {
            best = Some((cost, index, if cosine < 0.0 { turned(p) } else { p }));
        }
    }
    best.map(|(_, index, p)| (index, p))
}

/// Points beside one that run the same way belong to the same line: no second line starts along the first.
fn take_beside(ridges: &Ridges, p: RidgePoint, used: &mut [bool]) {
    let same = |i: &usize| {
        let q = ridges.points[*i];
        let step = [q.x - p.x, q.y - p.y];
        let cosine = q.along[0] * p.along[0] + q.along[1] * p.along[1];
        let ahead = step[0] * p.along[0] + step[1] * p.along[1];
        step[0].hypot(step[1]) < 1.0 && ahead.abs() < BESIDE && cosine.abs() > TURN
    };
    let beside: Vec<usize> = around(ridges, p, used).filter(same).collect();
    for i in beside {
        used[i] = true;
    }
}
