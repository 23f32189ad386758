use super::piece::{End, Piece, distance};
use super::plane::Plane;
use std::collections::HashMap;

/// Farthest jump over darkness as a share of the shorter piece: the gap of a line that flickers.
const DARK_GAP_SHARE: f64 = 1.0;
/// Farthest jump over darkness, px.
const DARK_GAP: f64 = 9.0;
/// Farthest jump as a share of the mean length of both, where light goes on between them.
const LIT_GAP_SHARE: f64 = 0.6;
/// Farthest jump of all, px.
const LIT_GAP: f64 = 60.0;
/// Always bridged, if direction and place fit, px: what a crossing takes.
const SMALL_GAP: f64 = 5.0;
/// How far lines lie beside each other's course, px, one standard deviation, before their directions' own doubt.
const BESIDE: f64 = 0.8;
/// How much a course turns from piece to piece, radians, one standard deviation.
const TURN: f64 = 0.06;
/// Largest misfit, in standard deviations, of a joint.
const MISFIT: f64 = 3.0;
/// Largest factor between the strengths of joined pieces.
const STRENGTH: f64 = 6.0;

/// Joins pieces whose ends point at each other, best fits first, until none is left.
/// `light` is the picture above its background.
pub(super) fn join(mut pieces: Vec<Piece>, light: &Plane) -> Vec<Piece> {
    for _ in 0..6 {
        let joints = joints(&pieces, light);
        if joints.is_empty() {
            break;
        }
        pieces = joined(pieces, &joints);
    }
    pieces
}

/// Two ends that go together.
struct Joint {
    a: (usize, bool),
    b: (usize, bool),
    cost: f64,
}

fn joints(pieces: &[Piece], light: &Plane) -> Vec<Joint> {
    let ends: Vec<[End; 2]> = pieces.iter().map(|p| [p.end(false), p.end(true)]).collect();
    let lengths: Vec<f64> = pieces.iter().map(Piece::length).collect();
    let cell = |at: [f64; 2]| ((at[0] / LIT_GAP).floor() as i64, (at[1] / LIT_GAP).floor() as i64);
    let mut grid: HashMap<(i64, i64), Vec<(usize, bool)>> = HashMap::new();
    for (i, pair) in ends.iter().enumerate() {
        for last in [false, true] {
            grid.entry(cell(pair[usize::from(last)].at)).or_default().push((i, last));
        }
    }
    let mut found = Vec::new();
    for (i, pair) in ends.iter().enumerate() {
        for last in [false, true] {
            let a = &pair[usize::from(last)];
            let (cx, cy) = cell(a.at);
            for x in cx - 1..=cx + 1 {
                for y in cy - 1..=cy + 1 {
                    for (j, other_last) in grid.get(&(x, y)).into_iter().flatten() {
                        if *j <= i {
                            continue;
                        }
                        let b = &ends[*j][usize::from(*other_last)];
                        let strengths = (pieces[i].mean_strength(), pieces[*j].mean_strength());
                        if let Some(cost) = fit(a, b, (lengths[i], lengths[*j]), strengths, light) {
                            found.push(Joint { a: (i, last), b: (*j, *other_last), cost });
                        }
                    }
                }
            }
        }
    }
    found.sort_by(|p, q| p.cost.total_cmp(&q.cost).then(p.a.cmp(&q.a)).then(p.b.cmp(&q.b)));
    let mut used = std::collections::HashSet::new();
    found.retain(|joint| {
        if used.contains(&joint.a) || used.contains(&joint.b) {
            return false;
        }
        used.insert(joint.a);
        used.insert(joint.b);
        true
    });
    found
}

/// How badly two ends fit together; `None`: they do not.
fn fit(a: &End, b: &End, lengths: (f64, f64), strengths: (f64, f64), light: &Plane) -> Option<f64> {
    let gap = [b.at[0] - a.at[0], b.at[1] - a.at[1]];
    let r = gap[0].hypot(gap[1]);
    if r > LIT_GAP {
        return None;
    }
    let (short, mean) = (lengths.0.min(lengths.1), f64::midpoint(lengths.0, lengths.1));
    let facing = a.out[0] * b.out[0] + a.out[1] * b.out[1];
    if facing > -0.7 {
        return None;
    }
    let ahead = gap[0] * a.out[0] + gap[1] * a.out[1];
    let behind = -(gap[0] * b.out[0] + gap[1] * b.out[1]);
    // ends may overlap by a pixel or two
    if ahead < -2.5 || behind < -2.5 {
        return None;
    }
    let across = |out: [f64; 2]| (gap[0] * out[1] - gap[1] * out[0]).abs();
    let doubt = |sd: f64| BESIDE + sd.min(0.15) * r + 0.5 * TURN * r;
    let beside = (across(a.out) / doubt(a.angle_sd)).powi(2) + (across(b.out) / doubt(b.angle_sd)).powi(2);
    let turn = facing.clamp(-1.0, 1.0).acos() - std::f64::consts::PI;
    let turn_sd = (TURN.powi(2) + a.angle_sd.powi(2) + b.angle_sd.powi(2)).sqrt();
    let misfit = (beside + (turn / turn_sd).powi(2)).sqrt();
    let ratio = (strengths.0 / strengths.1).ln().abs();
    if misfit > MISFIT || ratio > STRENGTH.ln() {
        return None;
    }
    let dark = r <= SMALL_GAP.max((DARK_GAP_SHARE * short).min(DARK_GAP));
    if !dark && (r > LIT_GAP_SHARE * mean || !lit(a, b, r, light)) {
        return None;
    }
    Some(misfit + 0.1 * r + ratio)
}

/// Whether light goes on between two ends.
fn lit(a: &End, b: &End, r: f64, light: &Plane) -> bool {
    let at = |t: f64| [a.at[0] + t * (b.at[0] - a.at[0]), a.at[1] + t * (b.at[1] - a.at[1])];
    let inside = |e: &End| {
        let p = [e.at[0] - 2.0 * e.out[0], e.at[1] - 2.0 * e.out[1]];
        light.at(p[0], p[1])
    };
    let least = 0.35 * inside(a).min(inside(b));
    let steps = r.ceil() as usize;
    let bright = (1..steps).filter(|i| {
        let p = at(*i as f64 / steps as f64);
        light.at(p[0], p[1]) >= least
    });
    bright.count() as f64 >= 0.8 * steps.saturating_sub(1) as f64
}

/// Chains the pieces together along the joints.
fn joined(pieces: Vec<Piece>, joints: &[Joint]) -> Vec<Piece> {
    let mut next: HashMap<(usize, bool), (usize, bool)> = HashMap::new();
    for joint in joints {
        next.insert(joint.a, joint.b);
        next.insert(joint.b, joint.a);
    }
    let mut done = vec![false; pieces.len()];
    let mut found = Vec::new();
    for start in 0..pieces.len() {
        if done[start] {
            continue;
        }
        // back to where the row begins; a ring begins anywhere
        let (mut at, mut side) = (start, false);
        let mut seen = 0;
        while let Some((before, entered)) = next.get(&(at, side)).copied() {
            (at, side) = (before, !entered);
            seen += 1;
            if at == start || seen > pieces.len() {
                break;
            }
        }
        let mut whole: Option<Piece> = None;
        // leaves through the side opposite to the free one
        let (mut at, mut free) = (at, side);
        loop {
            if done[at] {
                break;
            }
            done[at] = true;
            whole = Some(match whole {
                None if free => Piece {
                    points: pieces[at].points.iter().rev().copied().collect(),
                    strength: pieces[at].strength.iter().rev().copied().collect(),
                },
                None => pieces[at].clone(),
                Some(before) => before.joined(false, &pieces[at], free),
            });
            match next.get(&(at, !free)) {
                Some((after, entered)) => (at, free) = (*after, *entered),
                None => break,
            }
        }
        found.extend(whole);
    }
    found
}

/// Longest straight distance between the ends of a piece, px.
pub(super) fn span(piece: &Piece) -> f64 {
    match (piece.points.first(), piece.points.last()) {
        (Some(a), Some(b)) => distance(*a, *b),
        _ => 0.0,
    }
}
