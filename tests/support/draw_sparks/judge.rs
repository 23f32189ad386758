//! What can be told apart in a drawn picture: the count of the truth.

use super::frame::Frame;
use super::physics::{Event, Role, Spark};
use super::sensor::Sensor;
use super::streaks::{Point, Streak, light};
use super::truth::{Burst, Carrier};

/// A carrier counts from this visible length on, px; a ray from this; "stands above" is this many noise
/// standard deviations; "apart" is other light below this share of its own. All by definition of the truth.
const CARRIER_PX: f64 = 12.0;
const RAY_PX: f64 = 4.0;
const NOISE_SD: f32 = 3.0;
const APART: f32 = 0.5;
/// A place counts as seen if more than half of its light passes what stands in front.
const HALF_OPEN: f32 = 0.5;
/// Steps of a stored path, px; the most is 8.
const PATH_STEP: f64 = 5.0;

/// Judges streaks against all light of a picture.
pub(crate) struct Judge<'a> {
    pub(crate) sensor: &'a Sensor,
    /// Everything but sparks, with all bloom.
    pub(crate) behind: &'a Frame,
    /// All sparks' light, without bloom.
    pub(crate) sparks: &'a Frame,
    /// Bloom of the sparks alone.
    pub(crate) bloom: &'a Frame,
    /// 1 where nothing stands in front of the stream, row by row.
    pub(crate) open: &'a [f32],
}

/// Pixels along a streak.
#[derive(Clone, Copy, Debug, Default)]
struct Seen {
    visible: f64,
    apart: f64,
    length: f64,
    whole: f64,
}

impl Judge<'_> {
    fn seen(&self, points: &[Point]) -> Seen {
        let mut seen = Seen::default();
        let (mut flown, mut ends, mut whole) = (0.0, None::<(f64, f64)>, None::<(f64, f64)>);
        for (i, p) in points.iter().enumerate() {
            let step = points.get(i + 1).map_or(1.0, |q| (q.x - p.x).hypot(q.y - p.y));
            let (stands, apart) = self.stands(p);
            if stands {
                let reach = |e: Option<(f64, f64)>| Some((e.map_or(flown, |e| e.0), flown + step));
                whole = reach(whole);
                if p.inside {
                    ends = reach(ends);
                    seen.visible += step;
                    seen.apart += if apart { step } else { 0.0 };
                }
            }
            flown += step;
        }
        let length = |e: Option<(f64, f64)>| e.map_or(0.0, |(a, b)| b - a);
        let kept = |x: f64| rounded(x, 100.0);
        Seen {
            visible: kept(seen.visible),
            apart: kept(seen.apart),
            length: kept(length(ends)),
            whole: kept(length(whole)),
        }
    }

    /// Whether a point's own light stands above the noise, and apart from others'.
    fn stands(&self, p: &Point) -> (bool, bool) {
        let i = self.behind.index(p.x, p.y);
        let back = self.behind.rgb(i);
        let clip = |rgb: [f32; 3]| light(rgb.map(|c| c.min(1.0)));
        let own = clip([0, 1, 2].map(|k| back[k] + p.own[k])) - clip(back);
        let stands = own > NOISE_SD * self.sensor.noise(back);
        if !p.inside || !stands {
            return (stands, false);
        }
        let others = light(self.sparks.between(p.x, p.y)) - light(p.own) + light(self.bloom.rgb(i));
        (stands, others < APART * light(p.own))
    }

    /// Carriers and bursts that left light in the frame, in the truth's words.
    pub(crate) fn truth(
        &self,
        lights: &[(Spark, Option<Streak>)],
        events: &[(Event, Option<[f64; 2]>)],
        shutter: f64,
    ) -> (Vec<Carrier>, Vec<Burst>) {
        let mut carriers =
            vec![Carrier::default(); lights.iter().map(|l| l.0.carrier + 1).max().unwrap_or(0)];
        let mut rays: Vec<Vec<Seen>> = vec![Vec::new(); events.len()];
        for (spark, streak) in lights {
            let Some(streak) = streak else { continue };
            match spark.role {
                Role::Carrier => carriers[spark.carrier] = self.carrier(streak),
                Role::Ray(burst) => rays[burst].push(self.seen(&streak.points)),
                Role::Speck => {}
            }
        }
        // a burst whose middle is outside the frame or behind something is nobody's to find
        let inside = |at: &[f64; 2]| {
            (0.0..self.behind.width as f64).contains(&at[0])
                && (0.0..self.behind.height as f64).contains(&at[1])
                && self.open[at[1] as usize * self.behind.width + at[0] as usize] > HALF_OPEN
        };
        // a burst whose rays cannot be seen stays if one of its rays burst visibly again
        let mut kept: Vec<bool> = rays.iter().map(|r| r.iter().any(|r| r.visible >= RAY_PX)).collect();
        for (i, (event, _)) in events.iter().enumerate().rev() {
            if let Some(parent) = event.parent {
                kept[parent] |= kept[i];
            }
        }
        let mut bursts = Vec::new();
        let mut numbers = vec![None; events.len()];
        for (i, (event, at)) in events.iter().enumerate() {
            let visible: Vec<&Seen> = rays[i].iter().filter(|r| r.visible >= RAY_PX).collect();
            let Some(at) = at.filter(|_| kept[i]) else { continue };
            if event.parent.is_some_and(|p| numbers[p].is_none()) {
                continue;
            }
            let at = at.map(|x| rounded(x, 100.0));
            let apart = visible.iter().filter(|r| r.apart >= RAY_PX).count();
            let in_shutter = (0.0..=shutter).contains(&event.t);
            numbers[i] = Some(bursts.len());
            bursts.push(Burst {
                at,
                carrier: event.carrier,
                tier: event.tier,
                parent: event.parent.and_then(|p| numbers[p]),
                rays: event.rays,
                rays_visible: visible.len(),
                rays_apart: apart,
                mean_ray_px: rounded(
                    visible.iter().map(|r| r.visible).sum::<f64>() / visible.len().max(1) as f64,
                    100.0,
                ),
                visible: !visible.is_empty() && inside(&at),
                resolvable: apart >= 2 && inside(&at) && in_shutter,
                in_shutter,
            });
        }
        keep(carriers, bursts)
    }

    fn carrier(&self, streak: &Streak) -> Carrier {
        let seen = self.seen(&streak.points);
        let mut path: Vec<[f64; 2]> = Vec::new();
        // one that leaves and comes back: its longer part
        let runs = streak.points.split(|p| !p.inside);
        let inside = runs.max_by_key(|run| run.len()).unwrap_or_default();
        for (i, p) in inside.iter().enumerate() {
            let far = path.last().is_none_or(|q| (p.x - q[0]).hypot(p.y - q[1]) >= PATH_STEP);
            if far || i + 1 == inside.len() {
                path.push([p.x, p.y].map(|x| rounded(x, 10.0)));
            }
        }
        Carrier {
            path,
            length_px: seen.length,
            whole_length_px: seen.whole,
            visible_px: seen.visible,
            apart_px: seen.apart,
            resolvable: seen.visible >= CARRIER_PX && seen.apart > seen.visible / 2.0,
            cut_by_frame: seen.visible > 0.0 && seen.whole > seen.length + 1.0,
            bursts: Vec::new(),
        }
    }
}

/// To so many parts of one: what is stored reads back as it was.
pub(crate) fn rounded(x: f64, parts: f64) -> f64 {
    (x * parts).round() / parts
}

/// Drops carriers that left nothing in the frame and have no burst in it, and numbers the rest anew.
fn keep(carriers: Vec<Carrier>, mut bursts: Vec<Burst>) -> (Vec<Carrier>, Vec<Burst>) {
    let mut kept = Vec::new();
    let mut numbers = vec![None; carriers.len()];
    for (i, carrier) in carriers.into_iter().enumerate() {
        if carrier.visible_px > 0.0 || bursts.iter().any(|b| b.carrier == i) {
            numbers[i] = Some(kept.len());
            kept.push(carrier);
        }
    }
    for (i, burst) in bursts.iter_mut().enumerate() {
        burst.carrier = numbers[burst.carrier].expect("a burst keeps its carrier");
        if burst.tier == 1 {
            kept[burst.carrier].bursts.push(i);
        }
    }
    (kept, bursts)
}
