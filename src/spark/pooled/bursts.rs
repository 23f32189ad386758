use super::Frame;
use super::tally::{Touches, quantile};
use crate::spark::Burst;
use crate::stats::SeenLength;
use crate::units::Interval;

/// A burst of a higher tier counts as found from this certainty on (more likely than not).
const FOUND: f64 = 0.5;
/// Half a step of a whole number.
const HALF_STEP: f64 = 0.5;
/// A tier counts if at least this share of bursts reaches it (this project's definition of the feature).
const REACHED: f64 = 0.25;

impl Frame {
    /// Bursts on carriers, each with the highest tier that grows from it.
    pub(super) fn families(&self) -> Vec<(&Burst, u32)> {
        let bursts = &self.photo.bursts;
        let mut highest = vec![1; bursts.len()];
        for burst in bursts.iter().filter(|b| b.tier > 1 && b.certainty >= FOUND) {
            let mut at = burst.parent;
            // a chain is no longer than its tiers
            for _ in 1..burst.tier {
                let Some(i) = at.filter(|i| *i < bursts.len()) else { break };
                highest[i] = highest[i].max(burst.tier);
                at = bursts[i].parent;
            }
        }
        bursts.iter().zip(highest).filter(|(b, _)| b.tier <= 1).collect()
    }
}

fn sample(frame: &Frame, of: impl Fn(&Burst, u32) -> f64) -> Vec<SeenLength> {
    let seen =
        |(b, tier): (&Burst, u32)| SeenLength { length: of(b, tier), whole: true, weight: b.certainty };
    frame.families().into_iter().map(seen).collect()
}

/// Median rays of a burst on a carrier; true values lie within half a ray of a whole number.
pub(super) fn rays(touches: Touches<'_>, spread: f64) -> Option<Interval<f64>> {
    let rays = quantile(touches, 0.5, spread, |f| sample(f, |b, _| b.ray_count))?;
    Interval::new((rays.low() - HALF_STEP).max(0.0), rays.best(), rays.high() + HALF_STEP)
}

/// Highest tier that at least a quarter of the bursts reach.
pub(super) fn tiers(touches: Touches<'_>, spread: f64) -> Option<Interval<f64>> {
    quantile(touches, REACHED, spread, |f| sample(f, |_, tier| f64::from(tier)))
}

/// Where the first quarter of the bursts lies: distance from the contact over the stream's length. `None`: no bursts,
/// or no photo shows how long the stream is.
pub(super) fn onset(touches: Touches<'_>, spread: f64) -> Option<Interval<f64>> {
    const FIRST: f64 = 0.25;
    let place = |frame: &Frame| match &frame.photo.stream.length {
        Some(length) if length.best() > 0.0 => {
            let contact = frame.photo.stream.contact;
            sample(frame, |b, _| (b.at[0] - contact[0]).hypot(b.at[1] - contact[1]) / length.best())
        }
        _ => Vec::new(),
    };
    let onset = quantile(touches, 1.0 - FIRST, spread, place)?;
    // where the contact is, and how long the stream, moves all bursts of a photo together
    let frames = || touches.iter().copied().flatten().filter(|f| f.photo.stream.length.is_some());
    let off = |frame: &Frame| {
        let length = frame.photo.stream.length.as_ref()?;
        let contact = crate::stats::NINE_IN_TEN * frame.photo.stream.contact_sd / length.best();
        let scale = onset.best() * (length.high() - length.low()) / (2.0 * length.best());
        Some(contact.hypot(scale))
    };
    let off = frames().filter_map(off).fold(0.0, f64::max);
    let low = onset.best() - (onset.best() - onset.low()).hypot(off);
    let high = onset.best() + (onset.high() - onset.best()).hypot(off);
    let inside = |v: f64| v.clamp(0.0, 1.0);
    Interval::new(inside(low), inside(onset.best()), inside(high))
}
