use super::fit::distance;
use super::line::Line;
use super::stream_photo::Spot;
use crate::photo::Plane;
use std::collections::HashMap;

/// How far ahead of its end a ray points at its burst, px.
const AHEAD: f64 = 10.0;
/// Farther for a long ray: rays that leave in nearly one direction part late. As a share of its length.
const AHEAD_SHARE: f64 = 0.6;
/// Farthest of all, px.
pub(super) const FARTHEST: f64 = 32.0;
/// How far an end may already lie past its burst, px.
pub(super) const PAST: f64 = 4.0;
/// Votes that make a place worth a look: two ends, or one and a line that passes.
const VOTES: f32 = 1.2;
/// What a line that passes gives beside an end's one.
const PASSING: f32 = 0.45;
/// Spread of a vote, px².
const SPREAD: f64 = 0.8;
/// Steps of a vote along a line, px.
const STEP: f64 = 0.7;
/// Places are at least so far apart, px.
const APART: f64 = 6.0;

/// How far ahead of its end a piece of this length points at its burst, px.
pub(super) fn ahead(length: f64) -> f64 {
    (AHEAD_SHARE * length).clamp(AHEAD.min(1.5 * length), FARTHEST)
}

/// Places that two or more ends point at from nearby, the most voted for first.
pub(super) fn meetings(lines: &[Line], width: usize, height: usize) -> Vec<Spot> {
    let mut votes = Plane::new(width, height);
    let mut touched: Vec<usize> = Vec::new();
    for line in lines {
        for (i, vote) in vote(line, width, height) {
            if votes.values[i] == 0.0 {
                touched.push(i);
            }
            votes.values[i] += vote;
        }
    }
    touched.retain(|i| votes.values[*i] >= VOTES);
    touched.sort_by(|a, b| votes.values[*b].total_cmp(&votes.values[*a]).then(a.cmp(b)));
    let mut taken: HashMap<(i64, i64), Vec<Spot>> = HashMap::new();
    let mut found = Vec::new();
    for i in touched {
        let at = [(i % width) as f64 + 0.5, (i / width) as f64 + 0.5];
        let cell = ((at[0] / APART) as i64, (at[1] / APART) as i64);
        let around = (cell.0 - 1..=cell.0 + 1).flat_map(|x| (cell.1 - 1..=cell.1 + 1).map(move |y| (x, y)));
        if around.filter_map(|c| taken.get(&c)).flatten().all(|p| distance(*p, at) >= APART) {
            taken.entry(cell).or_default().push(at);
            found.push(at);
        }
    }
    found
}

/// What one piece gives to which pixels: each pixel the most that any part of it gives.
fn vote(line: &Line, width: usize, height: usize) -> HashMap<usize, f32> {
    let mut own: HashMap<usize, f32> = HashMap::new();
    let mut give = |at: Spot, vote: f32| {
        for dy in -1..=1_i64 {
            for dx in -1..=1_i64 {
                let (x, y) = (at[0].floor() as i64 + dx, at[1].floor() as i64 + dy);
                if x < 0 || y < 0 || x >= width as i64 || y >= height as i64 {
                    continue;
                }
                let off = (at[0] - x as f64 - 0.5).powi(2) + (at[1] - y as f64 - 0.5).powi(2);
                let best = own.entry(y as usize * width + x as usize).or_default();
                *best = best.max(vote * (-0.5 * off / SPREAD).exp() as f32);
            }
        }
    };
    let reach = ahead(line.length);
    for end in &line.ends {
        let steps = ((reach + 0.5 * PAST) / STEP) as usize;
        for step in 0..=steps {
            let t = step as f64 * STEP - 0.5 * PAST;
            give([end.at[0] + t * end.out[0], end.at[1] + t * end.out[1]], 1.0);
        }
    }
    for p in &line.piece.points {
        give(*p, PASSING);
    }
    own
}
