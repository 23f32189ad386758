use super::Frame;
use crate::stats::{Group, NINE_IN_TEN, Pooled, ProductLimit, SeenLength, pool, rate_bounds, wilson};
use crate::units::Interval;

/// Touches, each with its frames.
pub(super) type Touches<'a> = &'a [&'a [Frame]];

/// What was counted on one photo.
#[derive(Debug, Clone, Copy)]
pub(super) struct Count {
    pub(super) seen: f64,
    /// What it is counted against: carriers, pixels, photos or seconds.
    pub(super) of: f64,
    /// Variance of `seen` less its usual part of `of` beyond what the kind of number has by itself.
    pub(super) doubt: f64,
}

/// What kind of number `seen` over `of` is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A part of a whole: each of `of` counts or does not.
    Share,
    /// Events along `of`, each by itself.
    Rate,
    /// A sum over `of` things, whose variance is told with it.
    Mean,
}

/// A count over photos and touches.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tally {
    kind: Kind,
    pub(super) pooled: Pooled,
    /// What one event more would add; less where things differ less than events.
    pub(super) event: f64,
    /// The value, kept off the ends of its scale.
    inner: f64,
}

impl Tally {
    /// Counts frame by frame, then pools frames into touches and touches into one; `spread` is expected from touch to
    /// touch, relative. `count` is told the value of all together. `None`: there is nothing to count against.
    pub(super) fn of(
        touches: Touches<'_>,
        kind: Kind,
        spread: f64,
        count: impl Fn(&Frame, f64) -> Count,
    ) -> Option<Self> {
        let counts = |ratio: f64| {
            let touch = move |t: &&[Frame], count: &dyn Fn(&Frame, f64) -> Count| -> Vec<Count> {
                t.iter().map(|f| count(f, ratio)).filter(|c| c.of > 0.0).collect()
            };
            touches.iter().map(|t| touch(t, &count)).collect::<Vec<_>>()
        };
        let all = counts(0.0);
        let sum = |of: fn(&Count) -> f64| all.iter().flatten().map(of).sum::<f64>();
        let (seen, of) = (sum(|c| c.seen), sum(|c| c.of));
        if of <= 0.0 || !seen.is_finite() {
            return None;
        }
        let ratio = seen / of;
        let inner = match kind {
            Kind::Share => (seen + 0.5) / (of + 1.0),
            Kind::Rate | Kind::Mean => ratio,
        };
        let counts = counts(ratio);
        let doubt: f64 = counts.iter().flatten().map(|c| c.doubt).sum();
        // variance of one thing over its mean: 1 of plain events, less of what differs less, as 0 or 1 does
        let least = 0.5 / (seen + 0.5);
        let even = if kind == Kind::Mean && seen > 0.0 { (doubt / seen).clamp(least, 1.0) } else { 1.0 };
        let (one, scale) = match kind {
            Kind::Share => (inner * (1.0 - inner), inner * (1.0 - inner)),
            Kind::Rate => (inner, inner),
            // things that were all alike so far may differ yet
            Kind::Mean => (inner * least, inner * even),
        };
        let touch = |counts: &Vec<Count>| {
            let frame = |c: &Count| Group {
                value: c.seen / c.of,
                variance: one / c.of + c.doubt / (c.of * c.of),
                weight: c.of,
            };
            let frames: Vec<Group> = counts.iter().map(frame).collect();
            let Pooled { value, variance } = pool(&frames, 0.0)?;
            Some(Group { value, variance, weight: counts.iter().map(|c| c.of).sum() })
        };
        let groups: Vec<Group> = counts.iter().filter_map(touch).collect();
        Some(Self { kind, pooled: pool(&groups, spread * scale)?, event: even / of, inner })
    }

    /// The value with the range that holds nine in ten.
    pub(super) fn range(&self) -> Option<Interval<f64>> {
        let Pooled { value, variance } = self.pooled;
        match self.kind {
            Kind::Share => wilson(value.clamp(0.0, 1.0), self.worth()?, NINE_IN_TEN),
            Kind::Rate | Kind::Mean => rate_bounds(value, variance, self.event, NINE_IN_TEN),
        }
    }

    /// The number of lone things that would leave as much doubt about a share.
    fn worth(&self) -> Option<f64> {
        let alone = self.inner * (1.0 - self.inner);
        (self.kind == Kind::Share && self.pooled.variance > 0.0).then(|| alone / self.pooled.variance)
    }
}

/// The value that no more than `left` of what `sample` gives are beyond, with its range.
pub(super) fn quantile(
    touches: Touches<'_>,
    left: f64,
    spread: f64,
    sample: impl Fn(&Frame) -> Vec<SeenLength>,
) -> Option<Interval<f64>> {
    let all: Vec<SeenLength> = touches.iter().copied().flatten().flat_map(&sample).collect();
    let curve = ProductLimit::of(&all)?;
    let best = curve.length_at(left)?;
    let beyond = |frame: &Frame, _: f64| {
        let frame = ProductLimit::of(&sample(frame));
        let of = frame.as_ref().map_or(0.0, ProductLimit::number);
        Count { seen: of * frame.map_or(0.0, |f| f.longer_than(best)), of, doubt: 0.0 }
    };
    // ends that were not seen make the curve worth less than its number, groups that differ less again
    let grouped = Tally::of(touches, Kind::Share, spread, beyond)?.worth()?;
    curve.range_at(left, grouped * curve.worth(best) / curve.number())
}
