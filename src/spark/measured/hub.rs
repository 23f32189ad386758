use super::burst::{Arm, Candidate, ahead, arms};
use super::contact::Contact;
use super::flank::Look;
use super::piece::{End, Piece, distance};
use super::ridge::Ridges;
use super::stream_photo::Spot;
use std::collections::HashMap;

/// How far arms are followed, px.
const REACH: f64 = 44.0;
/// A line passes a place within this, px.
const PASSES: f64 = 2.5;
/// A line that passes goes on at least so far both ways, px.
const BOTH_WAYS: f64 = 9.0;
/// A line that is no carrier passes only if it goes on so far both ways: two rays that happen to lie
/// opposite are shorter.
const FAR_BOTH_WAYS: f64 = 45.0;
/// An arm belongs to a line if they leave the place within this angle, radians.
const SAME: f64 = 0.16;
/// The spark comes from within this of the wheel's direction, radians.
const COMING: f64 = 0.4;
/// Rays that an eye can tell apart make a burst.
const FEWEST_RAYS: usize = 2;

/// A place where rays part from a spark.
#[derive(Debug, Clone)]
pub(super) struct Hub {
    pub(super) at: Spot,
    pub(super) rays: Vec<Arm>,
    /// Pieces that are rays of it.
    pub(super) pieces: Vec<usize>,
}

pub(super) fn turn(a: f64, b: f64) -> f64 {
    let tau = std::f64::consts::TAU;
    ((a - b + 1.5 * tau).rem_euclid(tau) - 0.5 * tau).abs()
}

pub(super) fn angle_to(from: Spot, to: Spot) -> f64 {
    (to[1] - from[1]).atan2(to[0] - from[0])
}

/// All that is needed to look at places.
pub(super) struct Hubs<'a> {
    pub(super) pieces: &'a [Piece],
    pub(super) ends: Vec<[End; 2]>,
    /// Whether a piece points at the contact.
    pub(super) radial: &'a [bool],
    pub(super) ridges: &'a Ridges,
    pub(super) contact: &'a Contact,
    pub(super) look: &'a Look<'a>,
    /// Shortest ray, px of the plane.
    pub(super) shortest: f64,
    lengths: Vec<f64>,
    near: HashMap<(i64, i64), Vec<usize>>,
}

const CELL: f64 = 16.0;

fn cell(p: Spot) -> (i64, i64) {
    ((p[0] / CELL).floor() as i64, (p[1] / CELL).floor() as i64)
}

impl<'a> Hubs<'a> {
    pub(super) fn new(
        pieces: &'a [Piece],
        radial: &'a [bool],
        ridges: &'a Ridges,
        contact: &'a Contact,
        look: &'a Look<'a>,
        shortest: f64,
    ) -> Self {
        let mut near: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
        for (i, piece) in pieces.iter().enumerate() {
            let mut last = None;
            for p in &piece.points {
                let c = cell(*p);
                if last != Some(c) {
                    near.entry(c).or_default().push(i);
                    last = Some(c);
                }
            }
        }
        let ends = pieces.iter().map(|p| [p.end(false), p.end(true)]).collect();
        let lengths = pieces.iter().map(Piece::length).collect();
        Self { lengths, pieces, ends, radial, ridges, contact, look, shortest, near }
    }

    fn around(&self, at: Spot) -> Vec<usize> {
        let c = cell(at);
        let mut around: Vec<usize> = (c.0 - 2..=c.0 + 2)
            .flat_map(|x| (c.1 - 2..=c.1 + 2).map(move |y| (x, y)))
            .filter_map(|c| self.near.get(&c))
            .flatten()
            .copied()
            .collect();
        around.sort_unstable();
        around.dedup();
        around
    }

    /// The bursts: best places first; a piece is a ray of one burst only.
    pub(super) fn found(&self, candidates: &[Candidate]) -> Vec<Hub> {
        let mut looked: Vec<Hub> = candidates.iter().filter_map(|c| self.look_at(c.at, &|_| false)).collect();
        looked.sort_by(|a, b| b.pieces.len().cmp(&a.pieces.len()).then(b.rays.len().cmp(&a.rays.len())));
        let mut taken = vec![false; self.pieces.len()];
        let mut kept: Vec<Hub> = Vec::new();
        for hub in looked {
            if kept.iter().any(|k| distance(k.at, hub.at) < 7.0) {
                continue;
            }
            let fresh = hub.pieces.iter().filter(|i| !taken[**i]).count();
            let hub = if fresh < hub.pieces.len() {
                match self.look_at(hub.at, &|i| taken[i]) {
                    Some(again) => again,
                    None => continue,
                }
            } else {
                hub
            };
            for i in &hub.pieces {
                taken[*i] = true;
            }
            kept.push(hub);
        }
        kept
    }

    /// What remains at a place when the lines that only pass, and the spark that comes, are taken away.
    fn look_at(&self, at: Spot, taken: &dyn Fn(usize) -> bool) -> Option<Hub> {
        let around = self.around(at);
        let at = self.refined(at, &around, taken)?;
        let mut passing: Vec<f64> = Vec::new();
        let mut carrier_passes = false;
        let mut mine: Vec<(usize, f64)> = Vec::new();
        let mut coming: Option<(f64, f64)> = None;
        let mut hosted = false;
        let home = angle_to(at, self.contact.at);
        for &i in &around {
            let points = &self.pieces[i].points;
            let nearest = points.iter().enumerate().map(|(k, p)| (k, distance(*p, at)));
            let Some((k, d)) = nearest.min_by(|a, b| a.1.total_cmp(&b.1)) else { continue };
            let (before, after) = (distance(points[0], at), distance(points[points.len() - 1], at));
            if d <= PASSES && before >= BOTH_WAYS && after >= BOTH_WAYS {
                if self.radial[i] || (before > FAR_BOTH_WAYS && after > FAR_BOTH_WAYS) {
                    carrier_passes |= self.radial[i];
                    passing.push(angle_to(at, points[k.saturating_sub(12)]));
                    passing.push(angle_to(at, points[(k + 12).min(points.len() - 1)]));
                } else if !taken(i) {
                    mine.push((i, angle_to(at, points[k.saturating_sub(8)])));
                    mine.push((i, angle_to(at, points[(k + 8).min(points.len() - 1)])));
                }
                continue;
            }
            let last = after < before;
            let end = &self.ends[i][usize::from(last)];
            if !points_at(end, self.lengths[i], at) {
                continue;
            }
            let outward = angle_to(at, points[if last { points.len().saturating_sub(9) } else { 8.min(points.len() - 1) }]);
            let length = self.pieces[i].length();
            if self.radial[i] && turn(outward, home) < COMING && length > 10.0 {
                let weight = length * self.pieces[i].mean_strength();
                if coming.is_none_or(|(most, _)| weight > most) {
                    coming = Some((weight, outward));
                }
            }
            if taken(i) {
                hosted = true;
                passing.push(outward);
            } else {
                mine.push((i, outward));
            }
        }
        let mut arms = arms(self.ridges, at, REACH);
        arms.retain(|a| passing.iter().all(|t| turn(a.angle, *t) > SAME));
        arms.retain(|a| self.look.lit(at, a));
        arms.retain(|a| self.look.arm_apart(at, a) >= self.shortest);
        if !carrier_passes {
            let is_coming = |a: &Arm| match coming {
                Some((_, angle)) => turn(a.angle, angle) < SAME,
                None => turn(a.angle, home) < 0.3 && a.goes_on,
            };
            if let Some(i) = arms.iter().position(is_coming) {
                arms.remove(i);
            }
        }
        let is_ray = |angle: f64| arms.iter().any(|a| turn(a.angle, angle) < 0.25);
        let mut pieces: Vec<usize> = mine.iter().filter(|(_, angle)| is_ray(*angle)).map(|(i, _)| *i).collect();
        pieces.sort_unstable();
        pieces.dedup();
        let seen = pieces.len();
        let connected = carrier_passes || coming.is_some() || hosted;
        let fewest = if connected { FEWEST_RAYS } else { FEWEST_RAYS + 2 };
        (arms.len() >= fewest && (seen >= FEWEST_RAYS || (seen == 1 && arms.len() > FEWEST_RAYS)))
            .then_some(Hub { at, rays: arms, pieces })
    }

    /// The place that the ends around it point at best.
    fn refined(&self, at: Spot, around: &[usize], taken: &dyn Fn(usize) -> bool) -> Option<Spot> {
        let (mut xx, mut xy, mut yy, mut bx, mut by) = (0.05, 0.0, 0.05, 0.05 * at[0], 0.05 * at[1]);
        for &i in around {
            if taken(i) {
                continue;
            }
            for end in &self.ends[i] {
                if !points_at(end, self.lengths[i], at) {
                    continue;
                }
                let r = distance(end.at, at);
                let w = 1.0 / (0.5 + (end.angle_sd * r).powi(2));
                let n = [-end.out[1], end.out[0]];
                let d = n[0] * end.at[0] + n[1] * end.at[1];
                xx += w * n[0] * n[0];
                xy += w * n[0] * n[1];
                yy += w * n[1] * n[1];
                bx += w * n[0] * d;
                by += w * n[1] * d;
            }
        }
        let det = xx * yy - xy * xy;
        let better = [(bx * yy - by * xy) / det, (by * xx - bx * xy) / det];
        Some(if distance(better, at) < 4.0 { better } else { at })
    }
}

/// Whether an end points at a place from nearby.
fn points_at(end: &End, length: f64, at: Spot) -> bool {
    let to = [at[0] - end.at[0], at[1] - end.at[1]];
    let forward = to[0] * end.out[0] + to[1] * end.out[1];
    let beside = (to[0] * end.out[1] - to[1] * end.out[0]).abs();
    (-4.0..=self::ahead(length) + 2.0).contains(&forward) && beside < 1.8 + end.angle_sd.min(0.08) * forward.max(0.0)
}
