use super::line::Prior;
use super::photo_line::PhotoLine;
use super::{By, SparkMeasure, Trend};

/// What a measure's own number means nothing by itself: what is expected of it spans any camera and exposure.
const ANY: f64 = 10.0;
/// Pieces that the expected scatter is worth (judgement: a smith's first session).
const WORTH: f64 = 4.0;
/// Slope in words against the trend's, standard deviation (judgement: a reading that follows carbon half as steeply, or
/// half again as steeply, is no surprise).
const SLOPE: f64 = 0.5;
/// Real rigs may differ so much more from each other than the drawn ones that [`PhotoLine`]s come from (judgement).
const WIDER: f64 = 1.3;

impl Prior {
    /// What is expected of a measure before a steel of the rig is seen.
    pub(super) fn of(trend: &Trend, measure: SparkMeasure, by: By) -> Self {
        match trend.on_photos(measure) {
            Some(line) if by == By::Photos => Self::on_photos(line),
            _ => Self::in_words(trend, measure),
        }
    }

    fn on_photos(line: &PhotoLine) -> Self {
        let (offset, offset_sd) = line.offset.map_or((0.0, ANY), |(mean, sd)| (mean, WIDER * sd));
        Self {
            expected: [offset, line.slope.0],
            offset: offset_sd,
            slope: WIDER * line.slope.1,
            drift: line.drift,
            scatter: line.scatter,
            worth: WORTH,
        }
    }

    /// Offsets and drifts are judgements, on the scale of the measure: 0.3 of a logarithm is a third more or less, 0.5 of
    /// the logarithm of odds moves one half to five in eight.
    fn in_words(trend: &Trend, measure: SparkMeasure) -> Self {
        let (offset, drift) = match measure {
            SparkMeasure::Share | SparkMeasure::Onset => (0.7, 0.15),
            SparkMeasure::Bursts => (0.3, 0.15),
            SparkMeasure::Carriers | SparkMeasure::Length => (0.2, 0.08),
            SparkMeasure::Rays => (1.0, 0.2),
            SparkMeasure::Tiers | SparkMeasure::Fine => (0.5, 0.1),
        };
        let scatter = trend.scatter(measure);
        Self { expected: [0.0, 1.0], offset, slope: SLOPE, drift, scatter, worth: WORTH }
    }
}
