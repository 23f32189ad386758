use super::arm::{Arm, arms};
use super::certainty;
use super::fit::{Crossing, End, angle_to, between, distance};
use super::line::Line;
use super::ridge::Ridges;
use super::scene::Scene;
use super::seen::SeenBurst;
use super::stream_photo::Spot;
use std::collections::HashMap;

/// How far ahead of its end a ray points at its burst, px.
const AHEAD: f64 = 10.0;
/// Farther for a long ray: rays that leave in nearly one direction part late. As a share of its length.
const AHEAD_SHARE: f64 = 0.6;
/// Farthest of all, px.
const FARTHEST: f64 = 32.0;
/// How far an end may already lie past its burst, px.
const PAST: f64 = 4.0;
/// How far arms are followed, px.
const REACH: f64 = 44.0;
/// A line passes a place within this, px.
const PASSES: f64 = 2.5;
/// A line that passes goes on at least so far both ways, px.
const BOTH_WAYS: f64 = 9.0;
/// A line that is no carrier passes only if it goes on so far both ways: two rays that happen to lie opposite are shorter.
const FAR_BOTH_WAYS: f64 = 45.0;
/// An arm and a line leave a place in the same direction within this, radians; a loose match.
const SAME: f64 = 0.16;
const ALIKE: f64 = 0.25;
/// The spark comes from within this of the wheel's direction, radians.
const COMING: f64 = 0.4;
/// Shortest line that can be the spark that comes, px.
const COMING_LENGTH: f64 = 10.0;
/// A carrier that was not traced: an arm within this of the wheel's direction that goes on, radians.
const UNTRACED: f64 = 0.3;
/// Points along a line that its direction at a place is taken from.
const NEAR_POINTS: usize = 9;
/// Nearer than this to a burst points of lines have no direction from it, px.
const BARE: f64 = 2.5;
/// Nearer to the contact than this lines meet without a burst, px.
const AT_WHEEL: f64 = 14.0;
/// Farthest that the place is moved to where its rays meet best, px.
const MOVE: f64 = 4.0;
/// Weight of where it was, 1/px².
const PULL: f64 = 0.05;
/// How far a ray passes beside its burst, px, and how much of its direction's doubt counts, radians.
const BESIDE: f64 = 1.8;
const DOUBT: f64 = 0.08;
/// Side of the squares in which lines are looked up, px: two of them cover what points at a place.
const CELL: f64 = FARTHEST / 2.0;

/// A place where rays part from a spark.
#[derive(Debug, Clone)]
pub(super) struct Hub {
    pub(super) at: Spot,
    pub(super) rays: Vec<Arm>,
    /// Lines that are rays of it.
    pub(super) lines: Vec<usize>,
    /// Carriers that pass or end in it.
    pub(super) carriers: Vec<usize>,
    /// Chance that it is a burst, 0 to 1.
    pub(super) certainty: f64,
    /// Number of its rays: the mean of those that were traced and of what the network tells.
    pub(super) ray_count: f64,
}

/// What belongs to bursts that were found.
struct Claimed {
    /// Lines that are rays of them.
    lines: Vec<bool>,
    /// Points of lines on their rays.
    points: Vec<bool>,
}

impl Claimed {
    fn new(lines: usize, points: usize) -> Self {
        Self { lines: vec![false; lines], points: vec![false; points] }
    }

    fn claim(&mut self, hub: &Hub, ridges: &Ridges) {
        hub.lines.iter().for_each(|i| self.lines[*i] = true);
        for i in ridges.around(hub.at, REACH) {
            let place = ridges.points[i].place();
            let (r, angle) = (distance(hub.at, place), angle_to(hub.at, place));
            self.points[i] |= r < BARE || hub.rays.iter().any(|arm| arm.holds(r, angle));
        }
    }
}

/// Looks at places where rays may meet.
pub(super) struct Hubs<'a> {
    lines: &'a [Line],
    ridges: &'a Ridges,
    scene: &'a Scene,
    contact: Spot,
    near: HashMap<(i64, i64), Vec<usize>>,
}

/// What lines do at a place.
#[derive(Default)]
struct Around {
    /// Directions of lines that only pass, or are rays of another burst.
    passing: Vec<f64>,
    /// Lines that end here or are short on both sides, with the direction in which they leave.
    mine: Vec<(usize, f64)>,
    /// Carriers that pass.
    through: Vec<usize>,
    /// The carrier that ends here: its weight, direction, number.
    coming: Option<(f64, f64, usize)>,
}

impl<'a> Hubs<'a> {
    pub(super) fn new(lines: &'a [Line], ridges: &'a Ridges, scene: &'a Scene, contact: Spot) -> Self {
        let mut near: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
        for (i, line) in lines.iter().enumerate() {
            let mut last = None;
            for p in &line.piece.points {
                let cell = cell(*p);
                if last != Some(cell) {
                    near.entry(cell).or_default().push(i);
                    last = Some(cell);
                }
            }
        }
        Self { lines, ridges, scene, contact, near }
    }

    /// What the lines around bursts that were seen make of them, the surest first: what belongs to the rays of one is no ray of
    /// another.
    pub(super) fn of(&self, seen: &[SeenBurst]) -> Vec<Hub> {
        let mut claimed = Claimed::new(self.lines.len(), self.ridges.points.len());
        let mut hubs = Vec::new();
        for burst in seen.iter().filter(|burst| distance(burst.at, self.contact) >= AT_WHEEL) {
            let hub = self.look_at(burst, &claimed);
            claimed.claim(&hub, self.ridges);
            hubs.push(hub);
        }
        hubs
    }

    /// What remains at a place when the lines that only pass, and the spark that comes, are taken away.
    fn look_at(&self, burst: &SeenBurst, claimed: &Claimed) -> Hub {
        let near = self.near(burst.at);
        let at = self.where_rays_meet(burst.at, &near, claimed);
        let around = self.around(at, &near, claimed);
        let mut rays = arms(self.ridges, at, REACH, &claimed.points);
        rays.retain(|a| around.passing.iter().all(|t| between(a.angle, *t) > SAME));
        rays.retain(|a| self.scene.is_lit(at, a));
        if around.through.is_empty() {
            let home = angle_to(at, self.contact);
            let comes = |a: &Arm| match around.coming {
                Some((_, angle, _)) => between(a.angle, angle) < SAME,
                None => between(a.angle, home) < UNTRACED && a.to > REACH - BESIDE * 2.0,
            };
            if let Some(i) = rays.iter().position(comes) {
                rays.remove(i);
            }
        }
        let is_ray = |angle: f64| rays.iter().any(|a| between(a.angle, angle) < ALIKE);
        let mut lines: Vec<usize> =
            around.mine.iter().filter(|(_, angle)| is_ray(*angle)).map(|(i, _)| *i).collect();
        lines.sort_unstable();
        lines.dedup();
        let carriers: Vec<usize> =
            around.through.iter().copied().chain(around.coming.map(|(_, _, i)| i)).collect();
        let certainty = certainty::of_burst(burst.odds);
        // told ones lean to the usual number, traced ones miss what lies over another
        let ray_count = f64::midpoint(burst.rays, rays.len() as f64);
        Hub { at, rays, lines, carriers, certainty, ray_count }
    }

    fn near(&self, at: Spot) -> Vec<usize> {
        let (x, y) = cell(at);
        let cells = (x - 2..=x + 2).flat_map(|x| (y - 2..=y + 2).map(move |y| (x, y)));
        let mut near: Vec<usize> = cells.filter_map(|c| self.near.get(&c)).flatten().copied().collect();
        near.sort_unstable();
        near.dedup();
        near
    }

    fn around(&self, at: Spot, near: &[usize], claimed: &Claimed) -> Around {
        let mut around = Around::default();
        let home = angle_to(at, self.contact);
        for &i in near {
            let line = &self.lines[i];
            let points = &line.piece.points;
            let nearest = points.iter().enumerate().map(|(k, p)| (k, distance(*p, at)));
            let Some((k, off)) = nearest.min_by(|a, b| a.1.total_cmp(&b.1)) else { continue };
            let [before, after] = line.piece.ends().map(|end| distance(end, at));
            let toward = |step: i64| {
                angle_to(at, points[(k as i64 + step).clamp(0, points.len() as i64 - 1) as usize])
            };
            let both = [toward(-(NEAR_POINTS as i64)), toward(NEAR_POINTS as i64)];
            if off <= PASSES && before >= BOTH_WAYS && after >= BOTH_WAYS {
                if line.is_radial() || before.min(after) > FAR_BOTH_WAYS {
                    around.passing.extend(both);
                    around.through.extend(line.is_radial().then_some(i));
                } else if !claimed.lines[i] {
                    around.mine.extend(both.map(|angle| (i, angle)));
                }
                continue;
            }
            let last = after < before;
            if !points_at(&line.ends[usize::from(last)], line.length, at) {
                continue;
            }
            let inner = NEAR_POINTS.min(points.len() - 1);
            let outward = angle_to(at, points[if last { points.len() - 1 - inner } else { inner }]);
            if line.is_radial() && between(outward, home) < COMING && line.length > COMING_LENGTH {
                let weight = line.length * line.piece.mean_strength();
                if around.coming.is_none_or(|(most, ..)| weight > most) {
                    around.coming = Some((weight, outward, i));
                }
            }
            if claimed.lines[i] {
                around.passing.push(outward);
            } else {
                around.mine.push((i, outward));
            }
        }
        around
    }

    /// The place nearby that the ends around it point at best: least squares over their lines.
    fn where_rays_meet(&self, at: Spot, near: &[usize], claimed: &Claimed) -> Spot {
        let mut meet = Crossing::pulled_to(at, PULL);
        let lines = near.iter().filter(|i| !claimed.lines[**i]).map(|i| &self.lines[*i]);
        for end in lines.flat_map(|l| l.ends.iter().filter(|end| points_at(end, l.length, at))) {
            meet.add(end.at, end.out, 1.0 / (0.5 + (end.angle_sd * distance(end.at, at)).powi(2)));
        }
        meet.place().filter(|better| distance(*better, at) < MOVE).unwrap_or(at)
    }
}

fn cell(p: Spot) -> (i64, i64) {
    ((p[0] / CELL).floor() as i64, (p[1] / CELL).floor() as i64)
}

/// How far ahead of its end a line of this length points at its burst, px.
fn ahead(length: f64) -> f64 {
    (AHEAD_SHARE * length).clamp(AHEAD.min(1.5 * length), FARTHEST)
}

/// Whether an end of a line of this length points at a place from nearby.
fn points_at(end: &End, length: f64, at: Spot) -> bool {
    let to = [at[0] - end.at[0], at[1] - end.at[1]];
    let forward = to[0] * end.out[0] + to[1] * end.out[1];
    let beside = (to[0] * end.out[1] - to[1] * end.out[0]).abs();
    (-PAST..=ahead(length) + 2.0).contains(&forward)
        && beside < BESIDE + end.angle_sd.min(DOUBT) * forward.max(0.0)
}
