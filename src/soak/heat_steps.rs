//! The steps in which heat is followed through a pack: as long as the field stays nearly straight in time. The numbers
//! here were chosen against steps of two seconds, on ramps, cold boxes in hot furnaces, swinging logs and pores of 0.1 to
//! 3 mm: the steel is within 2.3 K of them.

/// First step, s.
const FIRST_S: f64 = 2.0;
/// How far the steel may go out of the straight line in a step, K: its temperature is read off straight lines between
/// the ends of steps, which are then good to two thirds of it.
const STEEL_BEND_K: f64 = 1.0;
/// The same for the rest of the pack, K: what it is off by there is mostly gone before it reaches the steel.
const PACK_BEND_K: f64 = 12.0;
/// A step that bends more than allowed is taken again; no step is cut to less than this, s.
const SHORTEST_S: f64 = 0.5;
/// How much longer or shorter than the last one a step may be.
const GROWTH: (f64, f64) = (0.2, 2.5);
/// Aim at this share of what is allowed.
const SAFETY: f64 = 0.8;
/// A point this far from the straight line between its neighbours is a corner, K: a step ends at it.
const CORNER_K: f64 = 5.0;
/// A log of more corners swings: its steps average over it, each this share of the whole at most.
const MOST_CORNERS: usize = 240;
const SWINGING_SHARE: f64 = 1.0 / 240.0;
/// Longest step of a log without swings, as a share of the whole.
const SMOOTH_SHARE: f64 = 1.0 / 16.0;

/// Chooses the steps over a log.
pub(super) struct HeatSteps {
    /// Times at which a step must end, the last first.
    stops: Vec<f64>,
    now: f64,
    /// Length of the next step, s.
    length: f64,
    longest: f64,
    /// [`PACK_BEND_K`]; infinite for a log that swings, which the outside of the pack follows.
    pack_bend: f64,
    /// End of the step that was handed out.
    end: f64,
}

impl HeatSteps {
    /// Over `outside` (seconds, kelvin; straight between points).
    pub(super) fn over(outside: &[(f64, f64)]) -> Self {
        let (first, last) = (outside[0].0, outside[outside.len() - 1].0);
        let sharp = |w: &[(f64, f64)]| {
            let share = if w[2].0 > w[0].0 { (w[1].0 - w[0].0) / (w[2].0 - w[0].0) } else { 0.0 };
            (w[0].1 + share * (w[2].1 - w[0].1) - w[1].1).abs() > CORNER_K
        };
        let corners = outside.windows(3).filter(|w| sharp(w)).map(|w| w[1].0);
        let mut stops: Vec<f64> = corners.chain([last]).collect();
        let (mut share, mut pack_bend) = (SMOOTH_SHARE, PACK_BEND_K);
        if stops.len() > MOST_CORNERS {
            (stops, share, pack_bend) = (vec![last], SWINGING_SHARE, f64::INFINITY);
        }
        stops.reverse();
        let longest = share * (last - first);
        Self { stops, now: first, length: FIRST_S.min(longest), longest, pack_bend, end: first }
    }

    /// The next step, from when to when; `None` at the end.
    pub(super) fn next(&mut self) -> Option<(f64, f64)> {
        while self.stops.last().is_some_and(|stop| *stop <= self.now) {
            self.stops.pop();
        }
        let left = self.stops.last()? - self.now;
        // two even steps rather than one and a crumb
        let step = match left / self.length {
            parts if parts <= 1.1 => left,
            parts if parts < 2.0 => 0.5 * left,
            _ => self.length,
        };
        self.end = if step < left { self.now + step } else { self.now + left };
        Some((self.now, self.end))
    }

    /// Whether the step that was handed out will do, by how far each node went out of the straight line, the steel
    /// last; chooses the next one.
    pub(super) fn accepts(&mut self, bend: impl Iterator<Item = f64>) -> bool {
        let (pack, steel) = bend.fold((0.0_f64, 0.0), |(most, _), b| (most.max(b.abs()), b.abs()));
        let over = (pack / self.pack_bend).max(steel / STEEL_BEND_K);
        let step = self.end - self.now;
        // the bend goes with the square of the step
        let next = step * (SAFETY / over.sqrt()).clamp(GROWTH.0, GROWTH.1);
        let enough = over <= 1.0 || step <= SHORTEST_S;
        self.length = if enough { next.max(SHORTEST_S).min(self.longest) } else { next.max(SHORTEST_S) };
        if enough {
            self.now = self.end;
        }
        enough
    }
}

/// Best straight line through `points` between two times: its value at both.
pub(super) fn line(points: &[(f64, f64)], t0: f64, t1: f64) -> (f64, f64) {
    let (mut mean, mut slope) = (0.0, 0.0);
    let length = t1 - t0;
    let first = points.partition_point(|p| p.0 <= t0).saturating_sub(1);
    for w in points[first..].windows(2).take_while(|w| w[0].0 < t1) {
        let (a, b) = (w[0].0.max(t0), w[1].0.min(t1));
        if b <= a {
            continue;
        }
        let at = |t: f64| w[0].1 + (w[1].1 - w[0].1) * (t - w[0].0) / (w[1].0 - w[0].0);
        // ∫ T ds and ∫ T s ds over the share a..b, s = 0..1; Simpson is exact for this product
        let (sa, sb) = ((a - t0) / length, (b - t0) / length);
        let sm = f64::midpoint(sa, sb);
        let (ta, tm, tb) = (at(a), at(f64::midpoint(a, b)), at(b));
        mean += (sb - sa) * tm;
        slope += (sb - sa) * (ta * sa + 4.0 * tm * sm + tb * sb) / 6.0;
    }
    (4.0 * mean - 6.0 * slope, 6.0 * slope - 2.0 * mean)
}
