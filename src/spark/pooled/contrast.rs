use super::figures::scaled;
use super::measures::over;
use super::{PhotoNote, PhotoReading, StreamFigures};
use crate::spark::measured::RESOLVED;
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

impl SparkContrast {
    /// Of figures in the same pixels.
    pub fn of(
        coupon: &StreamFigures,
        stock: &StreamFigures,
        reading: &PhotoReading,
        notes: &mut Vec<PhotoNote>,
    ) -> Self {
        let ratio = |get: fn(&StreamFigures) -> Option<&Interval<f64>>| over(get(coupon)?, get(stock)?);
        let (bursts, carriers) = if let Some((a, b)) = coupon.exposed_s.zip(stock.exposed_s) {
            if (a / b).max(b / a) > reading.same_exposure.value {
                notes.push(PhotoNote::ExposuresDiffer { coupon: a, stock: b });
            }
            (ratio(|f| f.bursts_per_s.as_ref()), ratio(|f| f.path_per_s.as_ref()))
        } else {
            notes.push(PhotoNote::ExposureUnknown);
            let off = reading.unknown_exposure.value;
            let wider = |r: Interval<f64>| Interval::new(r.low() / off, r.best(), r.high() * off);
            let bursts = ratio(|f| f.bursts.as_ref());
            (bursts.and_then(wider), ratio(|f| f.carriers.as_ref()).and_then(wider))
        };
        if stock.bursts.is_some_and(|b| b.best() <= 0.0) {
            notes.push(PhotoNote::StockWithoutBursts);
        }
        let unresolved = |r: Interval<f64>| as_far_as_resolved(&r, coupon.resolved, stock.resolved);
        Self {
            bursts: bursts.and_then(unresolved),
            carriers: carriers.and_then(unresolved),
            bursts_per_length: ratio(|f| f.bursts_per_px.as_ref()),
            length: ratio(|f| f.stream_length.as_ref()),
        }
    }
}

/// What lies in the part of a stream that could not be told apart was not counted. Taken to be as full of sparks as
/// its light says, but it may hold as few as were counted. Where less than [`RESOLVED`] of the light was told apart and it was
/// a stream all the same, the rest is glare or a window behind it, and tells of no sparks.
fn as_far_as_resolved(ratio: &Interval<f64>, coupon: f64, stock: f64) -> Option<Interval<f64>> {
    if coupon <= 0.0 || stock <= 0.0 {
        return None;
    }
    let best = scaled(ratio, stock.max(RESOLVED) / coupon.max(RESOLVED))?;
    Interval::new(best.low().min(ratio.low()), best.best(), best.high().max(ratio.high()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_not_told_apart_counts_by_its_light_but_glare_does_not() {
        let ratio = Interval::new(1.0, 2.0, 4.0).unwrap();
        let best = |coupon, stock| as_far_as_resolved(&ratio, coupon, stock).unwrap();
        let [low, middle, high] =
            [Interval::low, Interval::best, Interval::high].map(|of| of(&best(0.8, 0.4)));
        assert_eq!((low, middle, high), (0.5, 1.0, 4.0), "half as much of the stock was told apart");
        assert!(
            (best(0.8, 0.05).best() - 0.5).abs() < 1e-12,
            "glare behind the stock: as a fifth told apart"
        );
        assert!((best(0.1, 0.05).best() - 2.0).abs() < 1e-12, "glare behind both");
        assert_eq!(as_far_as_resolved(&ratio, 0.0, 0.5), None);
    }
}
