use super::fit::End;
use super::piece::Piece;
use super::scene::Scene;
use std::collections::{HashMap, HashSet};

/// Farthest jump over darkness, px: the gap of a line that flickers. No farther than the shorter piece is long.
const DARK_GAP: f64 = 9.0;
/// Farthest jump as a share of the mean length of both, where light goes on between them.
const LIT_GAP_SHARE: f64 = 0.6;
/// Farthest jump of all, px.
const LIT_GAP: f64 = 60.0;
/// Always bridged if direction and place fit, px: what a crossing takes.
const SMALL_GAP: f64 = 5.0;
/// How far ends may lie side by side, px.
const OVERLAP: f64 = 2.5;
/// How far lines lie beside each other's course, px, one standard deviation, before their directions' own doubt.
const BESIDE: f64 = 0.8;
/// How much a course turns from piece to piece, radians, one standard deviation.
const TURN: f64 = 0.06;
/// Most that a direction's doubt counts, radians: past that, nearness must decide.
const DOUBT: f64 = 0.15;
/// Ends face each other, as the cosine of the angle between them.
const FACING: f64 = -0.7;
/// Largest misfit of a joint, in standard deviations.
const MISFIT: f64 = 3.0;
/// Largest factor between the strengths of joined pieces.
const STRENGTH: f64 = 6.0;
/// Between two ends light goes on if it is this share of the fainter end's, as roots, ...
const LIT: f64 = 0.35;
/// ... over this share of the way.
const LIT_WAY: f64 = 0.8;
/// Rounds: a joined piece knows its direction better than its parts did.
const ROUNDS: usize = 6;

/// An end of a piece: its number, and whether it is the last point.
type EndOf = (usize, bool);

/// Joins pieces whose ends point at each other, best fits first, until none is left.
pub(super) fn join(mut pieces: Vec<Piece>, scene: &Scene) -> Vec<Piece> {
    for _ in 0..ROUNDS {
        let joints = joints(&pieces, scene);
        if joints.is_empty() {
            break;
        }
        pieces = joined(pieces, &joints);
    }
    pieces
}

/// Pairs of ends that go together: each end in one pair at most.
fn joints(pieces: &[Piece], scene: &Scene) -> Vec<(EndOf, EndOf)> {
    let ends: Vec<[End; 2]> = pieces.iter().map(|p| [p.end(false), p.end(true)]).collect();
    let measures: Vec<(f64, f64)> = pieces.iter().map(|p| (p.length(), p.mean_strength())).collect();
    let cell = |at: [f64; 2]| ((at[0] / LIT_GAP).floor() as i64, (at[1] / LIT_GAP).floor() as i64);
    let all = || (0..pieces.len()).flat_map(|i| [(i, false), (i, true)]);
    let end = |(i, last): EndOf| &ends[i][usize::from(last)];
    let mut grid: HashMap<(i64, i64), Vec<EndOf>> = HashMap::new();
    for a in all() {
        grid.entry(cell(end(a).at)).or_default().push(a);
    }
    let mut found: Vec<(f64, EndOf, EndOf)> = Vec::new();
    for a in all() {
        let (x, y) = cell(end(a).at);
        let around = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)));
        for b in around.filter_map(|c| grid.get(&c)).flatten().filter(|b| b.0 > a.0) {
            if let Some(cost) = cost(end(a), end(*b), measures[a.0], measures[b.0], scene) {
                found.push((cost, a, *b));
            }
        }
    }
    found.sort_by(|p, q| p.0.total_cmp(&q.0).then(p.1.cmp(&q.1)).then(p.2.cmp(&q.2)));
    let mut used: HashSet<EndOf> = HashSet::new();
    let free = |(_, a, b): (f64, EndOf, EndOf)| {
        let free = !used.contains(&a) && !used.contains(&b);
        if free {
            used.extend([a, b]);
        }
        free.then_some((a, b))
    };
    found.into_iter().filter_map(free).collect()
}

/// How badly two ends of pieces with these lengths and strengths fit together; `None`: they do not.
fn cost(a: &End, b: &End, of_a: (f64, f64), of_b: (f64, f64), scene: &Scene) -> Option<f64> {
    let gap = [b.at[0] - a.at[0], b.at[1] - a.at[1]];
    let r = gap[0].hypot(gap[1]);
    let facing = a.out[0] * b.out[0] + a.out[1] * b.out[1];
    let ahead = gap[0] * a.out[0] + gap[1] * a.out[1];
    let behind = -(gap[0] * b.out[0] + gap[1] * b.out[1]);
    let ratio = (of_a.1 / of_b.1).ln().abs();
    if r > LIT_GAP || facing > FACING || ahead < -OVERLAP || behind < -OVERLAP || ratio > STRENGTH.ln() {
        return None;
    }
    let beside = |end: &End| {
        let across = (gap[0] * end.out[1] - gap[1] * end.out[0]).abs();
        (across / (BESIDE + (end.angle_sd.min(DOUBT) + 0.5 * TURN) * r)).powi(2)
    };
    let turn = std::f64::consts::PI - facing.clamp(-1.0, 1.0).acos();
    let turn_sd = (TURN.powi(2) + a.angle_sd.powi(2) + b.angle_sd.powi(2)).sqrt();
    let misfit = (beside(a) + beside(b) + (turn / turn_sd).powi(2)).sqrt();
    if misfit > MISFIT {
        return None;
    }
    let in_the_dark = r <= SMALL_GAP.max(of_a.0.min(of_b.0).min(DARK_GAP));
    if !in_the_dark && (r > LIT_GAP_SHARE * f64::midpoint(of_a.0, of_b.0) || !is_lit(a, b, r, scene)) {
        return None;
    }
    Some(misfit + 0.1 * r + ratio)
}

/// Whether light goes on between two ends.
fn is_lit(a: &End, b: &End, r: f64, scene: &Scene) -> bool {
    let inside = |e: &End| scene.above(e.at[0] - 2.0 * e.out[0], e.at[1] - 2.0 * e.out[1]);
    let least = LIT * inside(a).min(inside(b));
    let steps = r.ceil() as usize;
    let is_bright = |i: &usize| {
        let t = *i as f64 / steps as f64;
        scene.above(a.at[0] + t * (b.at[0] - a.at[0]), a.at[1] + t * (b.at[1] - a.at[1])) >= least
    };
    (1..steps).filter(is_bright).count() as f64 >= LIT_WAY * steps.saturating_sub(1) as f64
}

/// Chains the pieces together along the joints.
fn joined(pieces: Vec<Piece>, joints: &[(EndOf, EndOf)]) -> Vec<Piece> {
    let mut next: HashMap<EndOf, EndOf> = HashMap::new();
    for (a, b) in joints {
        next.insert(*a, *b);
        next.insert(*b, *a);
    }
    let mut left: Vec<Option<Piece>> = pieces.into_iter().map(Some).collect();
    let mut found = Vec::new();
    for start in 0..left.len() {
        // back to where the row begins; a ring begins anywhere
        let mut begin = (start, false);
        for _ in 0..left.len() {
            match next.get(&begin) {
                Some((before, entered)) if *before != start => begin = (*before, !entered),
                _ => break,
            }
        }
        let mut whole: Option<Piece> = None;
        let mut at = begin;
        while let Some(piece) = left[at.0].take() {
            let piece = if at.1 { piece.turned() } else { piece };
            whole = Some(match whole {
                Some(before) => before.then(piece),
                None => piece,
            });
            match next.get(&(at.0, !at.1)) {
                Some(after) => at = *after,
                None => break,
            }
        }
        found.extend(whole);
    }
    found
}
