use super::course::time;
use crate::crosscheck::Doubtful;
use crate::prediction::Doubt;
use crate::units::{Interval, Time};

/// How long the hold must be: what the doubts of the soak leave open.
///
/// Each doubt alone moves the hold that is needed; the root of the sum of their squares, taken in √time,
/// where a depth is nearly straight, gives the range. Two half normal curves over it give chances.
#[derive(Debug, Clone, PartialEq)]
pub struct Needed {
    /// √s.
    root: Doubtful,
    /// Seconds.
    longest: f64,
    /// What each doubt moves, the largest first: shortest and longest hold; the longest `None` if no hold is
    /// enough.
    pub effects: Vec<(Doubt, Time, Option<Time>)>,
}

impl Needed {
    /// From the hold of the best story and those with each doubt at either end, s.
    pub(super) fn new(best: f64, ends: &[(Doubt, &[Option<f64>])], longest: f64) -> Self {
        let root = best.sqrt();
        let of = |end: &Option<f64>| end.unwrap_or(longest).sqrt();
        let (mut down, mut up) = (0.0_f64, 0.0_f64);
        let mut effects = Vec::new();
        for (doubt, pair) in ends {
            let least = pair.iter().map(of).fold(root, f64::min);
            let most = pair.iter().map(of).fold(root, f64::max);
            (down, up) = (down.hypot(root - least), up.hypot(most - root));
            let never = pair.iter().any(Option::is_none);
            effects.push((*doubt, least, most, never));
        }
        effects.retain(|(_, least, most, _)| most - least > 0.01 * (down + up));
        effects.sort_by(|a, b| (b.2 - b.1).total_cmp(&(a.2 - a.1)));
        let squared = |u: f64| time(u * u);
        let told = |(doubt, least, most, never): (Doubt, f64, f64, bool)| {
            (doubt, squared(least), (!never).then(|| squared(most)))
        };
        let range = Interval::new((root - down).max(0.0), root, root + up);
        Self {
            root: Doubtful::of(&range.unwrap_or_else(|| Interval::exact(root))),
            longest,
            effects: effects.into_iter().map(told).collect(),
        }
    }

    /// What the best story needs: long enough in half of all.
    pub fn best(&self) -> Time {
        time(self.root.best * self.root.best)
    }

    /// From what is enough at best to what is enough at worst, nine in ten; the latter `None` if that is
    /// longer than any hold that is planned.
    pub fn nine_in_ten(&self) -> (Time, Option<Time>) {
        let (low, high) = self.root.nine_in_ten();
        (time(low.max(0.0) * low.max(0.0)), self.within(high * high))
    }

    /// Chance that a hold is long enough, by these doubts: 0 to 1.
    pub fn chance(&self, hold: Time) -> f64 {
        self.root.below(hold.seconds().sqrt())
    }

    /// The hold that is long enough with this chance. `None`: longer than any that is planned.
    pub fn hold(&self, chance: f64) -> Option<Time> {
        let (mut low, mut high) = (0.0, self.longest.sqrt());
        if self.root.below(high) < chance {
            return None;
        }
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if self.root.below(middle) < chance { low = middle } else { high = middle }
        }
        Some(time(high * high))
    }

    /// The same on a clock that people read: full 5 min, from four hours on 10 min, from ten on 30 min; never
    /// less.
    pub fn planned(&self, chance: f64) -> Option<Time> {
        self.hold(chance).map(|hold| {
            let minutes = hold.minutes();
            let step = match minutes {
                m if m < 240.0 => 5.0,
                m if m < 600.0 => 10.0,
                _ => 30.0,
            };
            // what is on a step already, but for rounding, stays there
            time(((minutes - 1e-6) / step).ceil().max(0.0) * step * 60.0)
        })
    }

    fn within(&self, seconds: f64) -> Option<Time> {
        (seconds <= self.longest).then(|| time(seconds))
    }
}
