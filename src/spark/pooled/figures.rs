use super::flight::in_flight;
use super::light::{LightFigure, light};
use super::measures::{Scale, over, pooled};
use super::tally::{Count, Kind, Tally, Touches};
use super::{Frame, PhotoReading, bursts, lengths};
use crate::units::Interval;

/// What one photo, one touch or several touches show of a stream; each range holds nine in ten. `None`: the photos
/// do not tell. Lengths in pixels of the first photo of all.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StreamFigures {
    /// Photos behind it.
    pub photos: usize,
    /// Carriers on a photo.
    pub carriers: Option<Interval<f64>>,
    /// Bursts on the carriers of a photo; bursts on rays of others are not counted again.
    pub bursts: Option<Interval<f64>>,
    /// Median length of a carrier as the shutter recorded it, px.
    pub length: Option<Interval<f64>>,
    /// Length that one carrier in twenty is longer than, px.
    pub longest: Option<Interval<f64>>,
    /// Share of the carriers that burst at least once on what was seen of them, 0 to 1.
    pub share_bursting: Option<Interval<f64>>,
    /// Share of the sparks that burst on their whole way, whatever part the shutter recorded, 0 to 1.
    pub share_in_flight: Option<Interval<f64>>,
    /// Bursts on a carrier, as seen.
    pub bursts_per_carrier: Option<Interval<f64>>,
    /// Bursts for each pixel of carrier seen, which no shutter changes.
    pub bursts_per_px: Option<Interval<f64>>,
    /// Time that a photo was exposed, s, the mean of them; `None` unless all tell it.
    pub exposed_s: Option<f64>,
    /// Bursts for each second of exposure: R T p of R sparks a second that burst p times, whatever the time T.
    pub bursts_per_s: Option<Interval<f64>>,
    /// Path of carriers seen for each second of exposure, px: R T L of it is recorded in a time T, so this is R L, the
    /// number aloft at any moment times their speed, whatever the shutter.
    pub path_per_s: Option<Interval<f64>>,
    /// Median rays of a burst.
    pub rays: Option<Interval<f64>>,
    /// Share of the bursts that burst again, 0 to 1.
    pub secondary_share: Option<Interval<f64>>,
    /// Highest tier that at least a quarter of the bursts reach.
    pub tiers: Option<Interval<f64>>,
    /// Where the first quarter of the bursts lies, share of the stream's length from the contact.
    pub onset: Option<Interval<f64>>,
    /// Length of the stream, px.
    pub stream_length: Option<Interval<f64>>,
    /// Mean path of a spark from the wheel to its end, px.
    pub flight: Option<Interval<f64>>,
    /// Direction of the stream, degrees counter-clockwise from the right, -180 to 180.
    pub direction: Option<Interval<f64>>,
    /// Opening angle, degrees.
    pub opening: Option<Interval<f64>>,
    /// Share of the stream's light in which sparks could be told apart, 0 to 1.
    pub resolved: f64,
    /// Light along the stream.
    pub light: Vec<LightFigure>,
}

impl StreamFigures {
    /// A length in pixels as millimetres, with what the scale leaves open as well.
    pub fn in_mm(px: &Interval<f64>, mm_per_px: &Interval<f64>) -> Option<Interval<f64>> {
        let one = Interval::new(1.0 / mm_per_px.high(), 1.0 / mm_per_px.best(), 1.0 / mm_per_px.low())?;
        over(px, &one)
    }

    /// Of some touches; `spread` is expected from touch to touch, relative: nothing where a touch stands for itself.
    pub(super) fn of(touches: Touches<'_>, reading: &PhotoReading, spread: f64) -> Self {
        let tally = |kind, count: &dyn Fn(&Frame, f64) -> Count| Tally::of(touches, kind, spread, count);
        let range = |tally: Option<Tally>| tally.and_then(|t| t.range());
        let ratio = |get: fn(&Frame) -> Option<Interval<f64>>| pooled(touches, Scale::Ratio, spread, get);
        let flight = ratio(|f| scaled(f.photo.stream.flight.as_ref()?, f.unit));
        let bursting = tally(Kind::Rate, &bursting_per_px);
        let frames = || touches.iter().copied().flatten();
        let seconds: Option<Vec<f64>> = frames().map(exposed).collect();
        let exposed_s = seconds.filter(|s| !s.is_empty()).map(|s| s.iter().sum::<f64>() / s.len() as f64);
        let timed =
            |kind, count: &dyn Fn(&Frame, f64) -> Count| exposed_s.and_then(|_| range(tally(kind, count)));
        Self {
            photos: frames().count(),
            carriers: range(tally(Kind::Rate, &|f, _| carriers(f, reading))),
            bursts: range(tally(Kind::Rate, &|f, _| primary(f, 1.0, reading))),
            length: lengths::length(touches, 0.5, spread),
            longest: lengths::length(touches, 0.05, spread),
            share_bursting: range(tally(Kind::Share, &bursting_share)),
            share_in_flight: bursting
                .zip(flight.as_ref())
                .and_then(|(t, flight)| in_flight(touches, &t, flight)),
            bursts_per_carrier: range(tally(Kind::Mean, &on_a_carrier)),
            bursts_per_px: range(tally(Kind::Rate, &|f, _| burst_rate(f, reading))),
            exposed_s,
            bursts_per_s: timed(Kind::Rate, &|f, _| primary(f, exposed(f).unwrap_or(0.0), reading)),
            path_per_s: timed(Kind::Mean, &|f, _| path_in_time(f, reading)),
            rays: bursts::rays(touches, spread),
            secondary_share: range(tally(Kind::Share, &secondary)),
            tiers: bursts::tiers(touches, spread),
            onset: bursts::onset(touches, spread),
            stream_length: ratio(|f| scaled(f.photo.stream.length.as_ref()?, f.unit)),
            flight,
            // how the camera stood is no property of the steel: nothing is expected of its spread
            direction: pooled(touches, Scale::Angle, 0.0, |f| Some(f.photo.stream.direction)),
            opening: pooled(touches, Scale::Plain, 0.0, |f| Some(f.photo.stream.opening)),
            resolved: frames().map(|f| f.photo.resolved).sum::<f64>() / frames().count().max(1) as f64,
            light: light(touches, reading),
        }
    }
}

impl Frame {
    /// How many carriers were traced on it.
    pub fn carriers_traced(&self) -> usize {
        self.photo.carriers.len()
    }

    /// How many bursts on carriers were found on it.
    pub fn bursts_traced(&self) -> usize {
        self.photo.bursts.iter().filter(|b| b.tier <= 1).count()
    }
}

pub(super) fn scaled(range: &Interval<f64>, factor: f64) -> Option<Interval<f64>> {
    Interval::new(range.low() * factor, range.best() * factor, range.high() * factor)
}

fn exposed(frame: &Frame) -> Option<f64> {
    frame.photo.exposed.seconds.filter(|s| *s > 0.0)
}

/// Each carrier adds the square of its length to the variance, as the sum of a Poisson number of lengths has it; what is
/// missed of them differs as it does for carriers.
fn path_in_time(frame: &Frame, reading: &PhotoReading) -> Count {
    let (path, squares) = frame.path();
    let doubt = squares + (reading.carriers_miscounted.value * path).powi(2);
    Count { seen: path, of: exposed(frame).unwrap_or(0.0), doubt }
}

/// Carriers on a photo: finds by their chance, and what finds miss.
fn carriers(frame: &Frame, reading: &PhotoReading) -> Count {
    let (seen, doubt) = frame.carriers();
    missed(seen, 1.0, doubt, reading.carriers_found.value, reading.carriers_miscounted.value)
}

/// Bursts on carriers against `of`, with what finds miss.
fn primary(frame: &Frame, of: f64, reading: &PhotoReading) -> Count {
    let (seen, doubt) = frame.primary_bursts();
    missed(seen, of, doubt, reading.bursts_found.value, reading.bursts_miscounted.value)
}

/// Bursts for each pixel of carrier, with what finds of both miss.
fn burst_rate(frame: &Frame, reading: &PhotoReading) -> Count {
    let (seen, doubt) = frame.primary_bursts();
    let (found, miscounted) = (reading.burst_rate_found.value, reading.burst_rate_miscounted.value);
    missed(seen, frame.path().0, doubt, found, miscounted)
}

/// What `seen` finds stand for, where a share of all is found and that share differs by `miscounted`, relative.
fn missed(seen: f64, of: f64, doubt: f64, found: f64, miscounted: f64) -> Count {
    let all = seen / found;
    Count { seen: all, of, doubt: doubt / (found * found) + (miscounted * all).powi(2) }
}

/// Bursts on a carrier, by those that were traced to one: carriers differ in that as they do.
fn on_a_carrier(frame: &Frame, ratio: f64) -> Count {
    let mut count = Count { seen: 0.0, of: 0.0, doubt: 0.0 };
    for carrier in &frame.photo.carriers {
        let chances =
            || carrier.bursts.iter().filter_map(|i| frame.photo.bursts.get(*i)).map(|b| b.certainty);
        let bursts: f64 = chances().sum();
        count.seen += carrier.certainty * bursts;
        count.of += carrier.certainty;
        let spread = chances().map(|p| p * (1.0 - p)).sum::<f64>();
        count.doubt += carrier.certainty * ((bursts - ratio).powi(2) + spread);
    }
    count
}

/// Carriers that burst, of all. Each carrier is one by chance c and bursts by chance b: of C (B - ratio), C and B
/// being 0 or 1, the variance beyond that of a sure carrier.
fn bursting_share(frame: &Frame, ratio: f64) -> Count {
    let mut count = Count { seen: 0.0, of: 0.0, doubt: 0.0 };
    for carrier in &frame.photo.carriers {
        let (c, b) = (carrier.certainty, frame.bursts_at_all(carrier));
        let square = c * (b * (1.0 - ratio).powi(2) + (1.0 - b) * ratio.powi(2));
        count.seen += c * b;
        count.of += c;
        count.doubt += (square - (c * (b - ratio)).powi(2)).max(0.0);
    }
    count
}

/// Carriers that burst, for each pixel of carrier seen.
fn bursting_per_px(frame: &Frame, _: f64) -> Count {
    let chance = || frame.photo.carriers.iter().map(|c| c.certainty * frame.bursts_at_all(c));
    Count { seen: chance().sum(), of: frame.path().0, doubt: chance().map(|p| p * (1.0 - p)).sum() }
}

/// Bursts that burst again, of all on carriers.
fn secondary(frame: &Frame, _: f64) -> Count {
    let mut count = Count { seen: 0.0, of: 0.0, doubt: 0.0 };
    for (burst, tier) in frame.families() {
        count.of += burst.certainty;
        count.seen += if tier > 1 { burst.certainty } else { 0.0 };
    }
    count
}
