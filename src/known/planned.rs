use super::line::{Line, Point};
use super::{Correction, Piece, SparkMeasure, Trend};
use crate::units::Interval;

/// Standard deviation of carbon of which nothing is known, wt%: that of an even spread over 0 to 1.3.
const NOTHING_KNOWN: f64 = 0.375;
/// Half the step in carbon over which a measure's rise is taken, wt%.
const STEP: f64 = 0.03;

/// A rig with steels that nobody has sparked yet: what they would add to what is known. Of a normal line only the doubt
/// changes with a steel more, and that follows from its carbon and the scatter alone, whatever it will show.
#[derive(Debug, Clone)]
pub struct Planned<'a> {
    trend: &'a Trend,
    lines: [Line; 8],
    tells: Vec<SparkMeasure>,
    /// Variance that the range of a usual reading gives it.
    own: [f64; 8],
}

impl<'a> Planned<'a> {
    /// The rig as it is, on the pieces that it was fitted on.
    pub fn of(trend: &'a Trend, correction: &Correction, pieces: &[&Piece]) -> Self {
        let own = SparkMeasure::ALL.map(|measure| {
            let readings: Vec<f64> = pieces
                .iter()
                .filter_map(|p| Some(p.shown.reading(measure, &correction.exposures)?.variance))
                .collect();
            readings.iter().sum::<f64>() / readings.len().max(1) as f64
        });
        let tells = SparkMeasure::ALL.into_iter().filter(|m| correction.tells(trend, *m)).collect();
        Self { trend, lines: correction.lines, tells, own }
    }

    /// The rig after one day more with these steels, by their carbon, wt%; each with so many times the usual photos.
    #[must_use]
    pub fn after(&self, steels: &[Interval<f64>], photos: f64) -> Self {
        let mut after = self.clone();
        for measure in SparkMeasure::ALL {
            let points: Vec<Point> = steels.iter().map(|steel| self.point(measure, steel, photos)).collect();
            let line = &mut after.lines[measure as usize];
            *line = line.with_day(&points).0;
        }
        after
    }

    /// How far the carbon of a coupon will be off, standard deviation, wt%, where it has `wt` and these steels are sparked
    /// beside it: by the information that each measure adds (Cramér and Rao).
    pub fn doubt(&self, wt: f64, beside: &[Interval<f64>]) -> f64 {
        let mut information = NOTHING_KNOWN.powi(-2);
        for measure in &self.tells {
            let points: Vec<Point> = beside.iter().map(|steel| self.point(*measure, steel, 1.0)).collect();
            let (line, today) = self.lines[*measure as usize].with_day(&points);
            let typical = |wt: f64| self.trend.typical(*measure, wt);
            let (_, variance) = line.expect(&today, typical(wt) - line.centre);
            let rise = line.slope() * (typical(wt + STEP) - typical(wt - STEP)) / (2.0 * STEP);
            information += rise * rise / (variance + self.own[*measure as usize]);
        }
        information.sqrt().recip()
    }

    /// What a steel is expected to show: it moves no line, it only makes them surer.
    fn point(&self, measure: SparkMeasure, steel: &Interval<f64>, photos: f64) -> Point {
        let line = &self.lines[measure as usize];
        let (typical, label) = Piece::over_carbon(steel, |wt| self.trend.typical(measure, wt));
        let trend = typical - line.centre;
        let at = line.centre + line.offset() + line.slope() * trend;
        Point { at, variance: self.own[measure as usize] / photos, trend, label }
    }
}
