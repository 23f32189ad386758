use super::line::Prior;
use super::{By, SparkMeasure, Trend};

/// What a measure's own number means nothing by itself: what is expected of it spans any camera and exposure.
const ANY: f64 = 10.0;
/// Pieces that the expected scatter is worth (judgement: a smith's first session).
const WORTH: f64 = 4.0;
/// Slope against the trend's, standard deviation (judgement: a reading that follows carbon half as steeply, or half
/// again as steeply, is no surprise).
const SLOPE: f64 = 0.5;

impl Prior {
    /// What is expected of a measure before a steel of the rig is seen. Offsets and drifts are judgements, on the scale of
    /// the measure: 0.3 of a logarithm is a third more or less, 0.5 of the logarithm of odds moves one half to five in
    /// eight. An amount on photos has no number to be off from, so nothing is expected of it.
    pub(super) fn of(trend: &Trend, measure: SparkMeasure, by: By) -> Self {
        let (offset, drift) = match measure {
            SparkMeasure::Share | SparkMeasure::Onset => (0.7, 0.15),
            SparkMeasure::Bursts => (0.3, 0.15),
            SparkMeasure::Carriers | SparkMeasure::Length => (0.2, 0.08),
            SparkMeasure::Rays => (1.0, 0.2),
            SparkMeasure::Tiers | SparkMeasure::Fine => (0.5, 0.1),
        };
        let offset = if by == By::Photos && measure.is_amount() { ANY } else { offset };
        Self { offset, slope: SLOPE, drift, scatter: trend.scatter(measure), worth: WORTH }
    }
}
