//! Bursts found against bursts drawn.

use super::FoundBurst;
use super::matching::{crossings, distance, one_to_one};
use crate::support::draw_sparks::{Burst, Truth};

/// A found burst is the drawn one within this, px, or half its mean ray. From the issue.
const NEAR_PX: f64 = 8.0;
/// A false burst within this of a crossing of two carriers, px, was a crossing. Rule of this score.
const CROSSING_PX: f64 = 6.0;

fn reach(burst: &Burst) -> f64 {
    NEAR_PX.max(0.5 * burst.mean_ray_px)
}

/// One-to-one matches (found, drawn) over visible bursts, nearest first.
pub(crate) fn matches(truth: &Truth, found: &[FoundBurst]) -> Vec<(usize, usize)> {
    let mut candidates = Vec::new();
    for (f, burst) in found.iter().enumerate() {
        for (t, drawn) in truth.bursts.iter().enumerate().filter(|(_, b)| b.visible) {
            let d = distance(burst.at, drawn.at);
            if d <= reach(drawn) {
                candidates.push((-d, f, t));
            }
        }
    }
    one_to_one(candidates)
}

/// Found bursts that are no burst but lie at a crossing of two carriers.
pub(crate) fn at_crossings(truth: &Truth, found: &[FoundBurst], matched: &[(usize, usize)]) -> usize {
    let false_ones: Vec<[f64; 2]> = found
        .iter()
        .enumerate()
        .filter(|(f, _)| !matched.iter().any(|m| m.0 == *f))
        .map(|(_, b)| b.at)
        .filter(|at| !truth.bursts.iter().any(|b| b.visible && distance(b.at, *at) <= reach(b)))
        .collect();
    if false_ones.is_empty() {
        return 0;
    }
    let paths: Vec<&Vec<[f64; 2]>> = truth.carriers.iter().map(|c| &c.path).collect();
    let mut all = Vec::new();
    for (i, a) in paths.iter().enumerate() {
        for b in &paths[i + 1..] {
            all.extend(crossings(a, b));
        }
    }
    false_ones.iter().filter(|at| all.iter().any(|c| distance(*c, **at) <= CROSSING_PX)).count()
}
