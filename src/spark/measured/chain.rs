use super::ridge::{RidgePoint, Ridges};

/// A chain starts at a point that stands so far above the noise, in its standard deviations.
const START: f32 = 3.5;
/// Steepest turn from one point to the next, as the cosine of the angle (40 degrees).
const TURN: f32 = 0.77;

/// Points of one bright line in order.
pub(super) type Chain = Vec<RidgePoint>;

/// Links points into lines, brightest first, as long as the direction goes on (Steger 1998, section 4).
/// Every point belongs to one chain at most.
pub(super) fn chains(ridges: &Ridges) -> Vec<Chain> {
    let mut order: Vec<u32> = (0..ridges.points.len() as u32)
        .filter(|i| ridges.points[*i as usize].strength >= START)
        .collect();
    order.sort_by(|a, b| {
        let strength = |i: &u32| ridges.points[*i as usize].strength;
        strength(b).total_cmp(&strength(a)).then(a.cmp(b))
    });
    let mut used = vec![false; ridges.points.len()];
    let mut found = Vec::new();
    for start in order {
        if used[start as usize] {
            continue;
        }
        used[start as usize] = true;
        let first = ridges.points[start as usize];
        let forward = follow(ridges, start, first.along, &mut used);
        let backward = follow(ridges, start, [-first.along[0], -first.along[1]], &mut used);
        let mut chain: Chain = backward.into_iter().rev().map(|p| turned(p, -1.0)).collect();
        chain.push(first);
        chain.extend(forward);
        if chain.len() >= 3 {
            found.push(chain);
        }
    }
    found
}

fn turned(p: RidgePoint, sense: f32) -> RidgePoint {
    RidgePoint { along: [p.along[0] * sense, p.along[1] * sense], ..p }
}

/// Goes from a point along `direction` until no neighbour goes on.
fn follow(ridges: &Ridges, start: u32, direction: [f32; 2], used: &mut [bool]) -> Chain {
    let mut chain = Vec::new();
    let mut at = ridges.points[start as usize];
    let mut direction = direction;
    while let Some((index, next)) = next_point(ridges, at, direction, used) {
        used[index] = true;
        chain.push(next);
        at = next;
        direction = next.along;
    }
    chain
}

/// The neighbour that lies best ahead: near, and turned little. Its points on the two pixels beside it
/// are taken as well, so that no second line starts along the first.
fn next_point(
    ridges: &Ridges,
    at: RidgePoint,
    direction: [f32; 2],
    used: &mut [bool],
) -> Option<(usize, RidgePoint)> {
    let (px, py) = (at.x as i64, at.y as i64);
    let mut best: Option<(f32, usize, RidgePoint)> = None;
    for dy in -1..=1_i64 {
        for dx in -1..=1_i64 {
            let (x, y) = (px + dx, py + dy);
            if (dx == 0 && dy == 0) || x < 0 || y < 0 || x >= ridges.width as i64 || y >= ridges.height as i64 {
                continue;
            }
            let Some(index) = ridges.index[y as usize * ridges.width + x as usize].checked_sub(1) else { continue };
            let index = index as usize;
            if used[index] {
                continue;
            }
            let p = ridges.points[index];
            let step = [p.x - at.x, p.y - at.y];
            let length = (step[0] * step[0] + step[1] * step[1]).sqrt();
            let ahead = step[0] * direction[0] + step[1] * direction[1];
            if ahead <= 0.3 * length {
                continue;
            }
            let cosine = p.along[0] * direction[0] + p.along[1] * direction[1];
            let p = turned(p, if cosine < 0.0 { -1.0 } else { 1.0 });
            if cosine.abs() < TURN {
                continue;
            }
            // distance and angle weigh alike, as Steger has it
            let cost = length + cosine.abs().min(1.0).acos();
            if best.is_none_or(|(least, ..)| cost < least) {
                best = Some((cost, index, p));
            }
        }
    }
    let (_, index, p) = best?;
    // parallel responses beside the step belong to the same line
    for dy in -1..=1_i64 {
        for dx in -1..=1_i64 {
            let (x, y) = (px + dx, py + dy);
            if x < 0 || y < 0 || x >= ridges.width as i64 || y >= ridges.height as i64 {
                continue;
            }
            let Some(other) = ridges.index[y as usize * ridges.width + x as usize].checked_sub(1) else { continue };
            let other = other as usize;
            if other == index || used[other] {
                continue;
            }
            let q = ridges.points[other];
            let near = (q.x - p.x).hypot(q.y - p.y) < 1.0;
            let same = (q.along[0] * p.along[0] + q.along[1] * p.along[1]).abs() > TURN;
            if near && same {
                used[other] = true;
            }
        }
    }
    Some((index, p))
}
