use super::carbon_density::CarbonDensity;
use super::line::{Line, Point, Prior, Today};
use super::{By, Exposures, Piece, Shown, SparkMeasure, Trend};
use crate::stats::NINE_IN_TEN;
use crate::units::Interval;
use std::collections::BTreeMap;

/// How one rig, by photos or in words, differs from the published trend: a line for each measure.
///
/// Each line has an offset, a slope and a scatter, all pulled towards what is expected of any rig while evidence is thin, and
/// a drift of each day that the day's own reference steels show. It never falls where the trend rises.
#[derive(Debug, Clone, PartialEq)]
pub struct Correction {
    /// Photos or words.
    pub by: By,
    /// How exposures compare with the usual one.
    pub exposures: Exposures,
    /// One for each measure, in the order of [`SparkMeasure::ALL`].
    pub lines: [Line; 8],
}

/// What was sparked on the day of a coupon beside it: untreated stock, known steels.
#[derive(Debug, Clone, Default)]
pub struct Beside<'a> {
    /// Carbon, wt%, and what was shown.
    pub steels: Vec<(Interval<f64>, &'a Shown)>,
    /// Whether the rig's fit has taken these in already.
    pub fitted: bool,
}

impl<'a> Beside<'a> {
    /// The pieces of each day that are in the fit.
    pub fn by_day(pieces: &[&'a Piece]) -> BTreeMap<usize, Self> {
        let mut days: BTreeMap<usize, Self> = BTreeMap::new();
        for piece in pieces {
            let day = days.entry(piece.day).or_insert_with(|| Self { steels: Vec::new(), fitted: true });
            day.steels.push((piece.carbon, &piece.shown));
        }
        days
    }
}

/// A measure tells nothing if it moves by less than this part of its scatter from mild steel to the richest (judgement).
const LEAST_REACH: f64 = 1.0;

impl Correction {
    /// Fits a rig's pieces, those that show by photos or those in words.
    pub fn fit(trend: &Trend, by: By, pieces: &[&Piece], exposures: &Exposures) -> Self {
        let pieces: Vec<&&Piece> = pieces.iter().filter(|p| p.shown.by() == by).collect();
        let usual_s = usual(pieces.iter().filter_map(|p| p.shown.exposed_s()).collect());
        let exposures = Exposures { usual_s, ..*exposures };
        let days = pieces.iter().map(|p| p.day + 1).max().unwrap_or(0);
        let lines = SparkMeasure::ALL.map(|measure| {
            let mut points: Vec<Vec<Point>> = vec![Vec::new(); days];
            for piece in &pieces {
                let point = point(trend, measure, &piece.carbon, &piece.shown, &exposures);
                points[piece.day].extend(point);
            }
            points.retain(|day| !day.is_empty());
            Line::fit(trend.centre(measure), &points, &Prior::of(trend, measure, by))
        });
        Self { by, exposures, lines }
    }

    /// What is expected of the photos of any rig.
    pub(super) fn of_any_rig(trend: &Trend, exposures: Exposures) -> Self {
        Self { exposures, ..Self::fit(trend, By::Photos, &[], &exposures) }
    }

    /// Takes in what was sparked beside a coupon on its day.
    pub fn on_day(&self, trend: &Trend, beside: &Beside<'_>) -> OnDay {
        let lines = SparkMeasure::ALL.map(|measure| {
            let points = beside.steels.iter().filter(|(_, shown)| shown.by() == self.by);
            let point = |(carbon, shown): &(Interval<f64>, &Shown)| {
                point(trend, measure, carbon, shown, &self.exposures)
            };
            let points: Vec<Point> = points.filter_map(point).collect();
            let line = self.lines[measure as usize];
            let (told, today) = line.with_day(&points);
            (if beside.fitted { line } else { told }, today)
        });
        OnDay { exposures: self.exposures, lines }
    }

    /// Whether a measure of this rig says anything of carbon.
    pub fn tells(&self, trend: &Trend, measure: SparkMeasure) -> bool {
        let line = &self.lines[measure as usize];
        let known = self.by == By::Words || line.readings > 0 || trend.on_photos(measure).is_some();
        known && line.slope() * trend.reach(measure) >= LEAST_REACH * line.scatter
    }
}

/// A rig on one day.
#[derive(Debug, Clone)]
pub struct OnDay {
    exposures: Exposures,
    lines: [(Line, Today); 8],
}

impl OnDay {
    /// Chance of each carbon content by what was shown; `tells` are the measures that are asked.
    pub fn density(&self, trend: &Trend, tells: &[SparkMeasure], shown: &Shown) -> CarbonDensity {
        let readings: Vec<_> = tells
            .iter()
            .filter_map(|m| Some((*m, self.lines[*m as usize], shown.reading(*m, &self.exposures)?)))
            .collect();
        CarbonDensity::by(|step| {
            let mut log = 0.0;
            for (measure, (line, today), reading) in &readings {
                let (mean, variance) = line.expect(today, trend.at_step(*measure, step) - line.centre);
                let variance = variance + reading.variance;
                log -= 0.5 * ((reading.at - mean).powi(2) / variance + libm::log(variance));
            }
            log
        })
    }

    /// How far a measure lies off what is expected at a carbon content, wt%, in standard deviations.
    pub(super) fn off(&self, trend: &Trend, measure: SparkMeasure, wt: f64, shown: &Shown) -> Option<f64> {
        let (line, today) = &self.lines[measure as usize];
        let reading = shown.reading(measure, &self.exposures)?;
        let (mean, variance) = line.expect(today, trend.typical(measure, wt) - line.centre);
        Some((reading.at - mean) / (variance + reading.variance).sqrt())
    }

    /// A measure as the trend would have shown it, with the range that its own range and the day leave.
    pub fn as_trend(&self, measure: SparkMeasure, shown: &Shown) -> Option<Interval<f64>> {
        let (line, today) = &self.lines[measure as usize];
        let reading = shown.reading(measure, &self.exposures)?;
        let slope = line.slope();
        let (mean, variance) = line.expect(today, 0.0);
        let at = line.centre + (reading.at - mean) / slope;
        let own = reading.variance + variance - line.scatter.powi(2);
        let half = NINE_IN_TEN * own.max(0.0).sqrt() / slope;
        Interval::new(measure.off_scale(at - half), measure.off_scale(at), measure.off_scale(at + half))
    }

    /// The day's drift of a measure, on its scale.
    pub fn drift(&self, measure: SparkMeasure) -> f64 {
        let (line, today) = &self.lines[measure as usize];
        today.drift(line)
    }
}

fn point(
    trend: &Trend,
    measure: SparkMeasure,
    carbon: &Interval<f64>,
    shown: &Shown,
    exposures: &Exposures,
) -> Option<Point> {
    let reading = shown.reading(measure, exposures)?;
    let (typical, label) = Piece::over_carbon(carbon, |wt| trend.typical(measure, wt));
    Some(Point { at: reading.at, variance: reading.variance, trend: typical - trend.centre(measure), label })
}

/// The middle one.
fn usual(mut seconds: Vec<f64>) -> Option<f64> {
    seconds.sort_by(f64::total_cmp);
    seconds.get(seconds.len() / 2).copied()
}
