use super::joint::{self, Tip};
use super::piece::Piece;
use super::scene::Scene;
use std::collections::{HashMap, HashSet};

/// Rounds: a joined piece knows its direction better than its parts did.
const ROUNDS: usize = 6;

/// An end of a piece: its number, and whether it is the last point.
type EndOf = (usize, bool);

/// What two ends of pieces cost if they are joined; `None`: they do not go together.
type Cost = fn(&Tip<'_>, &Tip<'_>, &Scene) -> Option<f64>;

/// Joins pieces whose ends point at each other, best fits first, until none is left: over small gaps, then over wide
/// ones where light goes on.
pub(super) fn join(pieces: Vec<Piece>, scene: &Scene) -> Vec<Piece> {
    let near = rounds(pieces, scene, joint::NEAR, joint::near);
    rounds(near, scene, joint::FAR, joint::far)
}

fn rounds(mut pieces: Vec<Piece>, scene: &Scene, reach: f64, cost: Cost) -> Vec<Piece> {
    for _ in 0..ROUNDS {
        let joints = joints(&pieces, scene, reach, cost);
        if joints.is_empty() {
            break;
        }
        pieces = joined(pieces, &joints);
    }
    pieces
}

/// Pairs of ends that go together: each end in one pair at most.
fn joints(pieces: &[Piece], scene: &Scene, reach: f64, cost: Cost) -> Vec<(EndOf, EndOf)> {
    let tips: Vec<[Tip<'_>; 2]> = pieces.iter().map(Tip::both).collect();
    let tip = |(i, last): EndOf| &tips[i][usize::from(last)];
    let cell = |tip: &Tip<'_>| tip.end.at.map(|v| (v / reach).floor() as i64);
    let all = || (0..pieces.len()).flat_map(|i| [(i, false), (i, true)]);
    let mut grid: HashMap<[i64; 2], Vec<EndOf>> = HashMap::new();
    for a in all() {
        grid.entry(cell(tip(a))).or_default().push(a);
    }
    let mut found: Vec<(f64, EndOf, EndOf)> = Vec::new();
    for a in all() {
        let [x, y] = cell(tip(a));
        let around = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| [x, y]));
        for b in around.filter_map(|c| grid.get(&c)).flatten().filter(|b| b.0 > a.0) {
            if let Some(cost) = cost(tip(a), tip(*b), scene) {
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
