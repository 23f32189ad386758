use super::{Frame, PhotoReading, StreamFigures};
use crate::units::{Interval, Speed};

/// A shutter against the sparks' flight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShutterJudged {
    /// Time that it was open, s, as the camera wrote it.
    pub seconds: Option<f64>,
    /// What part of a flight passes while it is open; 1 and more: all of it.
    pub flights: f64,
    /// Too short to read how long carriers are.
    pub too_short: bool,
    /// Too long to tell bursts apart.
    pub too_long: bool,
}

/// Judges the shutter of one photo; `None`: the photo does not say. With scale and speed of the wheel a spark's path
/// in that time is known (at 20 m/s 1/160 s records 125 mm), else carriers tell: of a flight L that takes a time t a
/// shutter of T records L T / (t + T) on the average, so T / t follows from what was recorded.
pub(super) fn judge(
    frame: &Frame,
    figures: &StreamFigures,
    mm_per_px: Option<&Interval<f64>>,
    speed: Option<Speed>,
    reading: &PhotoReading,
) -> Option<ShutterJudged> {
    // a stream is about as long as the longest flights
    let flight = figures.flight.or(figures.stream_length)?.best();
    let seconds = frame.photo.exposed.seconds;
    let passed = || Some(speed?.metres_per_second() * 1e3 * seconds? / mm_per_px?.best() / flight);
    let seen = || {
        let number = frame.carriers().0;
        let mean = (number > 0.0).then(|| frame.path().0 / number)?;
        let share = (mean / flight).min(ALL_OF_IT);
        Some(share / (1.0 - share))
    };
    let flights = passed().or_else(seen)?;
    let too_short = flights < reading.recorded.value;
    let too_long = !too_short && frame.photo.resolved < reading.resolved.value;
    Some(ShutterJudged { seconds, flights, too_short, too_long })
}

/// A carrier that was recorded over so much of a flight was recorded whole.
const ALL_OF_IT: f64 = 0.95;
