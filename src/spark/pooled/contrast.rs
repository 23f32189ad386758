use super::figures::{carriers, primary, scaled};
use super::measures::over;
use super::tally::{Count, Kind, Tally, Touches};
use super::{Frame, PhotoNote, PhotoReading, StreamFigures};
use crate::units::Interval;

/// The coupon's stream over that of the untreated stock, each range holding nine in ten. `None`: the photos do not
/// tell.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SparkContrast {
    /// Bursts in the stream.
    pub bursts: Option<Interval<f64>>,
    /// Carriers in the stream.
    pub carriers: Option<Interval<f64>>,
    /// Bursts for each length of carrier seen.
    pub bursts_per_length: Option<Interval<f64>>,
    /// Length of the stream.
    pub length: Option<Interval<f64>>,
}

/// Touches of one piece with what they show.
pub(super) struct Side<'a> {
    pub(super) touches: Touches<'a>,
    pub(super) figures: &'a StreamFigures,
}

impl Side<'_> {
    /// The time that each photo was exposed, s; `None` unless all tell it.
    fn seconds(&self) -> Option<f64> {
        let mut sum = 0.0;
        for frame in self.touches.iter().copied().flatten() {
            sum += exposed(frame)?;
        }
        Some(sum / self.figures.photos.max(1) as f64)
    }

    fn range(&self, kind: Kind, spread: f64, count: impl Fn(&Frame) -> Count) -> Option<Interval<f64>> {
        Tally::of(self.touches, kind, spread, |f, _| count(f))?.range()
    }
}

fn exposed(frame: &Frame) -> Option<f64> {
    frame.photo.exposed.seconds.filter(|s| *s > 0.0)
}

impl SparkContrast {
    pub(super) fn of(
        coupon: &Side<'_>,
        stock: &Side<'_>,
        reading: &PhotoReading,
        notes: &mut Vec<PhotoNote>,
    ) -> Self {
        let spread = reading.touch_spread.value;
        let ratio = |kind, count: &dyn Fn(&Frame) -> Count| {
            over(&coupon.range(kind, spread, count)?, &stock.range(kind, spread, count)?)
        };
        let pairs = |get: fn(&StreamFigures) -> Option<&Interval<f64>>| {
            over(get(coupon.figures)?, get(stock.figures)?)
        };
        let unresolved =
            |r: Interval<f64>| as_far_as_resolved(&r, coupon.figures.resolved, stock.figures.resolved);
        let (bursts, carriers) = if let Some((a, b)) = coupon.seconds().zip(stock.seconds()) {
            if (a / b).max(b / a) > reading.same_exposure.value {
                notes.push(PhotoNote::ExposuresDiffer { coupon: a, stock: b });
            }
            (
                ratio(Kind::Rate, &|f| bursts_in_time(f, reading)),
                ratio(Kind::Mean, &|f| path_in_time(f, reading)),
            )
        } else {
            notes.push(PhotoNote::ExposureUnknown);
            let off = reading.unknown_exposure.value;
            let wider = |r: Interval<f64>| Interval::new(r.low() / off, r.best(), r.high() * off);
            let bursts = ratio(Kind::Rate, &|f| primary(f, 1.0, reading));
            (bursts.and_then(wider), ratio(Kind::Rate, &|f| carriers(f, reading)).and_then(wider))
        };
        if stock.figures.bursts.is_some_and(|b| b.best() <= 0.0) {
            notes.push(PhotoNote::StockWithoutBursts);
        }
        Self {
            bursts: bursts.and_then(unresolved),
            carriers: carriers.and_then(unresolved),
            bursts_per_length: pairs(|f| f.bursts_per_px.as_ref()),
            length: pairs(|f| f.stream_length.as_ref()),
        }
    }
}

/// Bursts for each second of exposure: R T p of R sparks a second that burst p times, whatever the time T.
fn bursts_in_time(frame: &Frame, reading: &PhotoReading) -> Count {
    primary(frame, exposed(frame).unwrap_or(0.0), reading)
}

/// Path of carriers seen for each second of exposure: R T L of it is recorded in a time T, so this is R L, the number
/// aloft at any moment times their speed, whatever the shutter. Each carrier adds the square of its length to the
/// variance, as the sum of a Poisson number of lengths has it; what is missed of them differs as it does for carriers.
fn path_in_time(frame: &Frame, reading: &PhotoReading) -> Count {
    let (path, squares) = frame.path();
    let doubt = squares + (reading.carriers_miscounted.value * path).powi(2);
    Count { seen: path, of: exposed(frame).unwrap_or(0.0), doubt }
}

/// What lies in the part of a stream that could not be told apart was not counted. Taken to be as full of sparks as
/// its light says, but it may hold as few as were counted.
fn as_far_as_resolved(ratio: &Interval<f64>, coupon: f64, stock: f64) -> Option<Interval<f64>> {
    if coupon <= 0.0 || stock <= 0.0 {
        return None;
    }
    let best = scaled(ratio, stock / coupon)?;
    Interval::new(best.low().min(ratio.low()), best.best(), best.high().max(ratio.high()))
}
