use super::piece::{Piece, distance};
use super::plane::Plane;
use super::ridge::Ridges;
use super::stream_photo::Spot;

/// How far ahead of its end a ray points at its burst, px.
const AHEAD: f64 = 10.0;
/// Farther for a long ray: rays that leave in nearly one direction part late. As a share of its length.
const AHEAD_SHARE: f64 = 0.6;
/// Farthest of all, px.
pub(super) const FARTHEST: f64 = 32.0;
/// How far an end may already lie past it, px.
const BACK: f64 = 2.0;
/// Votes of ends, and of lines passing, that make a place worth a look.
const VOTES: f32 = 1.5;
/// What a line that passes gives beside an end's one.
const PASSING: f32 = 0.45;
/// Bursts are at least so far apart, px.
const APART: f64 = 6.0;

/// A place where rays may meet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Candidate {
    pub(super) at: Spot,
    pub(super) votes: f32,
}

/// Places that two or more ends point at from nearby, the most voted for first.
pub(super) fn candidates(pieces: &[Piece], width: usize, height: usize) -> Vec<Candidate> {
    let mut votes = Plane::new(width, height);
    let mut touched: Vec<usize> = Vec::new();
    let mut own: std::collections::HashMap<usize, f32> = std::collections::HashMap::new();
    for piece in pieces {
        own.clear();
        let mut give = |at: Spot, vote: f32| {
            for dy in -1..=1_i64 {
                for dx in -1..=1_i64 {
                    let (x, y) = (at[0].floor() as i64 + dx, at[1].floor() as i64 + dy);
                    if x < 0 || y < 0 || x >= width as i64 || y >= height as i64 {
                        continue;
                    }
                    let off = (at[0] - x as f64 - 0.5).powi(2) + (at[1] - y as f64 - 0.5).powi(2);
                    let vote = vote * (-0.5 * off / 0.8).exp() as f32;
                    let best = own.entry(y as usize * width + x as usize).or_default();
                    *best = best.max(vote);
                }
            }
        };
        for last in [false, true] {
            let end = piece.end(last);
            let reach = ahead(piece.length());
            let mut t = -BACK;
            while t <= reach {
                give([end.at[0] + t * end.out[0], end.at[1] + t * end.out[1]], 1.0);
                t += 0.7;
            }
        }
        for p in &piece.points {
            give(*p, PASSING);
        }
        for (i, v) in &own {
            if votes.values[*i] == 0.0 {
                touched.push(*i);
            }
            votes.values[*i] += v;
        }
    }
    touched.retain(|i| votes.values[*i] >= VOTES);
    touched.sort_by(|a, b| votes.values[*b].total_cmp(&votes.values[*a]).then(a.cmp(b)));
    let mut taken: std::collections::HashMap<(i64, i64), Vec<Spot>> = std::collections::HashMap::new();
    let mut found = Vec::new();
    for i in touched {
        let at = [(i % width) as f64 + 0.5, (i / width) as f64 + 0.5];
        let cell = ((at[0] / APART) as i64, (at[1] / APART) as i64);
        let near = (cell.0 - 1..=cell.0 + 1)
            .flat_map(|x| (cell.1 - 1..=cell.1 + 1).map(move |y| (x, y)))
            .filter_map(|c| taken.get(&c))
            .flatten()
            .any(|p| distance(*p, at) < APART);
        if !near {
            taken.entry(cell).or_default().push(at);
            found.push(Candidate { at, votes: votes.values[i] });
        }
    }
    found
}

/// How far ahead of its end a piece of this length points at its burst, px.
pub(super) fn ahead(length: f64) -> f64 {
    (AHEAD_SHARE * length).clamp(AHEAD.min(1.5 * length), FARTHEST)
}

/// A line that leaves a place outward.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arm {
    /// Direction, radians, x to the right and y down.
    pub(super) angle: f64,
    /// Where it stands out first and last, px from the place.
    pub(super) from: f64,
    pub(super) to: f64,
    /// Mean strength of its points.
    pub(super) strength: f64,
    /// Whether it still goes on at the end of the look.
    pub(super) goes_on: bool,
}

/// Directions that are told apart.
const DIRECTIONS: usize = 90;
/// A point of a line belongs to an arm if that line points at the place within this, radians.
const RADIAL: f64 = 0.3;
/// Shortest arm, px.
pub(super) const SHORTEST_ARM: f64 = 4.0;
/// Widest gap in an arm, px.
const GAP: f64 = 3.5;
/// An arm begins within this of the place, px.
const BEGINS: f64 = 30.0;

/// Lines that leave a place, from the points of lines around it up to `reach` px.
pub(super) fn arms(ridges: &Ridges, at: Spot, reach: f64) -> Vec<Arm> {
    let (x0, x1) = ((at[0] - reach).max(0.0) as usize, ((at[0] + reach) as usize).min(ridges.width - 1));
    let (y0, y1) = ((at[1] - reach).max(0.0) as usize, ((at[1] + reach) as usize).min(ridges.height - 1));
    // (angle, distance, strength) of all points that point at the place
    let mut points: Vec<(f64, f64, f64)> = Vec::new();
    for y in y0..=y1 {
        for x in x0..=x1 {
            let Some(i) = ridges.index[y * ridges.width + x].checked_sub(1) else { continue };
            let p = ridges.points[i as usize];
            let d = [f64::from(p.x) - at[0], f64::from(p.y) - at[1]];
            let r = d[0].hypot(d[1]);
            if r < 1.5 || r > reach {
                continue;
            }
            let across = (d[0] * f64::from(p.along[1]) - d[1] * f64::from(p.along[0])).abs() / r;
            let beside = across * r;
            if across < RADIAL || beside < 1.2 {
                points.push((d[1].atan2(d[0]), r, f64::from(p.strength)));
            }
        }
    }
    let tau = std::f64::consts::TAU;
    // grow arms outward: nearest points first, each joins the arm that it continues
    points.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
    struct Growing {
        angle: f64,
        from: f64,
        to: f64,
        sum: f64,
        count: f64,
    }
    let mut growing: Vec<Growing> = Vec::new();
    for (angle, r, strength) in points {
        let mut best: Option<(f64, usize)> = None;
        for (i, arm) in growing.iter().enumerate() {
            if r - arm.to > GAP || r - arm.to < -0.5 {
                continue;
            }
            let turn = (angle - arm.angle + 3.0 * std::f64::consts::PI).rem_euclid(tau) - std::f64::consts::PI;
            let beside = (turn * r).abs();
            if beside < 1.8 && best.is_none_or(|(least, _)| beside < least) {
                best = Some((beside, i));
            }
        }
        if let Some((_, i)) = best {
            let arm = &mut growing[i];
            let turn = (angle - arm.angle + 3.0 * std::f64::consts::PI).rem_euclid(tau) - std::f64::consts::PI;
            arm.angle += turn * 0.35;
            arm.to = arm.to.max(r);
            arm.sum += strength;
            arm.count += 1.0;
        } else if r <= BEGINS {
            growing.push(Growing { angle, from: r, to: r, sum: strength, count: 1.0 });
        }
    }
    let _ = DIRECTIONS;
    growing
        .into_iter()
        .filter(|a| a.to - a.from >= SHORTEST_ARM - 1.0 && a.count >= SHORTEST_ARM - 1.0)
        .map(|a| Arm {
            angle: a.angle,
            from: a.from,
            to: a.to,
            strength: a.sum / a.count,
            goes_on: a.to > reach - GAP,
        })
        .collect()
}
