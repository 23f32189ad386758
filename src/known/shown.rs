use super::SparkMeasure;
use crate::features::{Origin, SparkFeatures};
use crate::spark::{PhotoReading, StreamFigures};
use crate::stats::NINE_IN_TEN;
use crate::units::Interval;

/// One measure of one piece on the measure's scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Value.
    pub at: f64,
    /// Its variance, by its own range.
    pub variance: f64,
}

/// Whether sparks were photographed or told in words: each has its own way of being off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum By {
    /// Photos.
    Photos,
    /// Words and counts.
    Words,
}

/// How exposures of photos are compared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exposures {
    /// Usual exposure of a photo of the rig, s, if it is known.
    pub usual_s: Option<f64>,
    /// Times that differ by no more than this factor are the same.
    pub same: f64,
    /// What amounts may be off by, either way, where a time is not known.
    pub unknown: f64,
}

impl Exposures {
    /// As photos are judged; none is usual yet.
    pub fn judged(reading: &PhotoReading) -> Self {
        Self { usual_s: None, same: reading.same_exposure.value, unknown: reading.unknown_exposure.value }
    }
}

/// What one piece showed on one day.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    by: By,
    ranges: [Option<Interval<f64>>; 8],
    /// Time that a photo was exposed, s, if all tell it.
    exposed_s: Option<f64>,
}

/// An amount of none lies down to this part of the most that it may be (judgement: a thirtieth, so that its middle is
/// a fifth).
const NONE_DOWN_TO: f64 = 1.0 / 30.0;

impl Shown {
    /// On photos: amounts are those of a photo.
    pub fn on_photos(figures: &StreamFigures) -> Self {
        let ranges = SparkMeasure::ALL.map(|measure| match measure {
            SparkMeasure::Share => figures.share_bursting,
            SparkMeasure::Rays => figures.rays,
            SparkMeasure::Tiers => figures.tiers,
            SparkMeasure::Onset => figures.onset,
            SparkMeasure::Bursts => figures.bursts,
            SparkMeasure::Carriers => figures.carriers,
            SparkMeasure::Length => figures.length,
            SparkMeasure::Fine => None,
        });
        Self { by: By::Photos, ranges, exposed_s: figures.exposed_s }
    }

    /// In words and counts: amounts are those against the stock. What photos show is left out.
    pub fn in_words(features: &SparkFeatures) -> Self {
        let ranges = SparkMeasure::ALL.map(|measure| {
            let feature = features.get(measure.column()).filter(|f| f.origin != Origin::Photo);
            feature.map(|f| f.value)
        });
        Self { by: By::Words, ranges, exposed_s: None }
    }

    /// Photos or words.
    pub fn by(&self) -> By {
        self.by
    }

    /// Time that a photo was exposed, s, if all tell it.
    pub fn exposed_s(&self) -> Option<f64> {
        self.exposed_s
    }

    /// A measure as it was shown, by photos or in words.
    pub fn range(&self, measure: SparkMeasure) -> Option<Interval<f64>> {
        self.ranges[measure as usize]
    }

    /// Whether it shows anything.
    pub fn is_empty(&self) -> bool {
        self.ranges.iter().all(Option::is_none)
    }

    /// A measure as a photo of the usual exposure would show it. What a longer or shorter exposure changes in
    /// no simple way is left out; exposures that nobody knows are taken as usual, with doubt.
    pub fn reading(&self, measure: SparkMeasure, exposures: &Exposures) -> Option<Reading> {
        let range = self.ranges[measure as usize]?;
        let mut reading = reading(measure, &range)?;
        if self.by == By::Words || !measure.is_amount() {
            return Some(reading);
        }
        match exposures.usual_s.zip(self.exposed_s) {
            Some((usual, own)) if (usual / own).max(own / usual) > exposures.same => {
                // as many bursts for each second; carriers and their lengths grow in no such way
                (measure == SparkMeasure::Bursts).then(|| {
                    reading.at += libm::log(usual / own);
                    reading
                })
            }
            Some(_) => Some(reading),
            None => {
                let off = libm::log(exposures.unknown) / NINE_IN_TEN;
                reading.variance += off * off;
                Some(reading)
            }
        }
    }
}

/// The middle of a range of nine in ten on the measure's scale, and its variance.
fn reading(measure: SparkMeasure, range: &Interval<f64>) -> Option<Reading> {
    let (low, best, high) = (range.low(), range.best(), range.high());
    if measure.is_amount() {
        if high <= 0.0 {
            return None;
        }
        let low = low.max(high * NONE_DOWN_TO);
        let (low, high) = (measure.on_scale(low), measure.on_scale(high));
        let sd = 0.5 * (high - low) / NINE_IN_TEN;
        // the best value, unless it is none
        let at = if best > 0.0 { measure.on_scale(best).max(low) } else { f64::midpoint(low, high) };
        return Some(Reading { at, variance: sd * sd });
    }
    let sd = 0.5 * (measure.on_scale(high) - measure.on_scale(low)) / NINE_IN_TEN;
    Some(Reading { at: measure.on_scale(best), variance: sd * sd })
}
