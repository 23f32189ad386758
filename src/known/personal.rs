use super::carbon_density::CarbonDensity;
use super::correction::{Beside, Correction};
use super::trend::column;
use super::{By, Exposures, Piece, STATED, Shown, SparkMeasure, Trend, TrendRows};
use crate::features::{Feature, FeatureName, Origin, SparkFeatures};
use crate::steel::CarbonBand;
use crate::tree::{FitError, Row, Settings, Training, Tree, fit};
use crate::units::{CarbonPercent, Interval};

/// Most questions on the way to a leaf.
const DEPTH: usize = 4;
/// Least rows in a leaf, of some 2,500. Both were chosen on drawn smiths: deeper trees with smaller leaves miss the band by
/// more than one three times as often.
const LEAF: usize = 100;

/// What known steels make of the published trend for one rig: its correction, and the small tree that reads carbon bands
/// from what was shown, once that is turned into what the trend would have shown.
///
/// The tree is fitted on the rows of the trend, scattered as this rig scatters, and on the rig's own pieces, a row each.
/// Its last column is the carbon that the corrected trend reads from the other columns together.
#[derive(Debug, Clone, PartialEq)]
pub struct Personal {
    /// The rig against the trend.
    pub correction: Correction,
    /// The tree; its features are [`Self::columns`].
    pub tree: Tree,
    asked: Asked,
}

/// The measures that are asked of a rig, with what the trend has for them.
#[derive(Debug, Clone, PartialEq)]
struct Asked {
    measures: Vec<SparkMeasure>,
    /// Scatter of this rig in the trend's units, on the scale of each measure.
    scatter: Vec<f64>,
    trend: Trend,
}

/// Values on the scales of measures, in their order; missing ones are not asked.
type Values<'a> = &'a [Option<f64>];

impl Personal {
    /// Fits correction and tree. Fails where no measure tells anything.
    pub fn fit(
        trend: &Trend,
        rows: &TrendRows,
        by: By,
        pieces: &[&Piece],
        exposures: &Exposures,
    ) -> Result<Self, FitError> {
        let correction = Correction::fit(trend, by, pieces, exposures);
        let asked = Asked::of(trend, &correction);
        let mut training = asked.training(rows);
        let pieces: Vec<&Piece> = pieces.iter().filter(|p| p.shown.by() == by).copied().collect();
        for (day, beside) in Beside::by_day(&pieces) {
            let on_day = correction.on_day(trend, &beside);
            for piece in pieces.iter().filter(|p| p.day == day) {
                training.rows.extend(asked.rows_of(piece, |measure| {
                    Some(measure.on_scale(on_day.as_trend(measure, &piece.shown)?.best()))
                }));
            }
        }
        let settings = Settings::exact(training.features.len(), DEPTH, LEAF);
        let tree = fit(&training, &settings)?;
        Ok(Self { correction, tree, asked })
    }

    /// One that was fitted before.
    pub fn kept(trend: &Trend, correction: Correction, tree: Tree) -> Self {
        let asked = Asked::of(trend, &correction);
        Self { correction, tree, asked }
    }

    /// The measures that tell anything at this rig.
    pub fn measures(&self) -> &[SparkMeasure] {
        &self.asked.measures
    }

    /// Columns of the tree.
    pub fn columns(&self) -> Vec<FeatureName> {
        self.asked.columns()
    }

    /// Chance of each carbon content by what a coupon showed beside others on its day.
    pub fn density(&self, shown: &Shown, beside: &Beside<'_>) -> CarbonDensity {
        let day = self.correction.on_day(&self.asked.trend, beside);
        day.density(&self.asked.trend, &self.asked.measures, shown)
    }

    /// Features as the published trend would have shown them.
    pub fn corrected(&self, features: &SparkFeatures, shown: &Shown, beside: &Beside<'_>) -> SparkFeatures {
        let day = self.correction.on_day(&self.asked.trend, beside);
        let origin = if shown.by() == By::Photos { Origin::Photo } else { Origin::Described };
        let mut corrected = features.clone();
        for measure in &self.asked.measures {
            let value = day.as_trend(*measure, shown);
            corrected.replace(measure.column(), value.map(|value| Feature { value, origin }));
        }
        let density = day.density(&self.asked.trend, &self.asked.measures, shown);
        let likeliest = density.likeliest();
        let around = |range: Interval<f64>| {
            Interval::new(range.low().min(likeliest), likeliest, range.high().max(likeliest))
        };
        let carbon = density.middle_part(STATED).and_then(around).map(|value| Feature { value, origin });
        corrected.replace(FeatureName::TrendCarbon, carbon);
        corrected
    }

    /// How many times the usual bursts the rig throws on the day of a coupon, by what was sparked beside it. `None`:
    /// nothing was, or bursts tell nothing here.
    pub fn drift(&self, beside: &Beside<'_>) -> Option<f64> {
        let seen = beside.steels.iter().any(|(_, shown)| shown.by() == self.correction.by);
        let told = seen && self.asked.measures.contains(&SparkMeasure::Bursts);
        let day = self.correction.on_day(&self.asked.trend, beside);
        told.then(|| libm::exp(day.drift(SparkMeasure::Bursts)))
    }

    /// What of a coupon is farthest off what the rig shows at a carbon content, wt%, in standard deviations.
    pub fn misfit(&self, wt: f64, shown: &Shown, beside: &Beside<'_>) -> Option<(FeatureName, f64)> {
        let day = self.correction.on_day(&self.asked.trend, beside);
        let off = |m: &SparkMeasure| Some((m.column(), day.off(&self.asked.trend, *m, wt, shown)?));
        self.asked.measures.iter().filter_map(off).max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
    }
}

impl Asked {
    fn of(trend: &Trend, correction: &Correction) -> Self {
        let measures: Vec<SparkMeasure> =
            SparkMeasure::ALL.into_iter().filter(|m| correction.tells(trend, *m)).collect();
        let line = |m: &SparkMeasure| &correction.lines[*m as usize];
        let scatter = measures.iter().map(|m| line(m).scatter / line(m).slope()).collect();
        Self { measures, scatter, trend: trend.clone() }
    }

    fn columns(&self) -> Vec<FeatureName> {
        let own = self.measures.iter().map(|m| m.column());
        own.chain([FeatureName::TrendCarbon]).collect()
    }

    fn carbon(&self, scaled: Values<'_>) -> f64 {
        let density = CarbonDensity::by(|step| {
            let off = |((measure, scatter), at): ((&SparkMeasure, &f64), &Option<f64>)| {
                at.map_or(0.0, |at| ((at - self.trend.at_step(*measure, step)) / scatter).powi(2))
            };
            -0.5 * self.measures.iter().zip(&self.scatter).zip(scaled).map(off).sum::<f64>()
        });
        density.likeliest()
    }

    /// The rows of the trend as this rig scatters; those of steel that was as hard or soft as its stock.
    fn training(&self, rows: &TrendRows) -> Training {
        let harder = FeatureName::TREE.iter().position(|name| *name == FeatureName::Harder);
        let alike = |row: &Row| harder.and_then(|at| row.values.get(at)).is_none_or(|hard| *hard == 0.0);
        let row = |(row, wt): (&Row, &f64)| {
            let scaled = self.measures.iter().zip(&self.scatter).map(|(measure, scatter)| {
                let value = *row.values.get(column(*measure)?)?;
                let typical = self.trend.typical(*measure, *wt);
                let off = measure.on_scale(value) - typical;
                Some(typical + off * scatter / self.trend.scatter(*measure).max(f64::MIN_POSITIVE))
            });
            self.row(&scaled.collect::<Vec<_>>(), row.label, row.weight)
        };
        let kept = rows.training.rows.iter().zip(&rows.carbon).filter(|(r, _)| alike(r));
        Training {
            features: self.columns().into_iter().map(|name| name.column().to_string()).collect(),
            classes: CarbonBand::ALL.len(),
            rows: kept.map(row).collect(),
        }
    }

    /// Rows of a piece: one for each band that its carbon may lie in, by the part that does. What it did not show is
    /// what is typical of the carbon that it reads as: that of its label would give the label away.
    fn rows_of(&self, piece: &Piece, shown: impl Fn(SparkMeasure) -> Option<f64>) -> Vec<Row> {
        let scaled: Vec<Option<f64>> = self.measures.iter().map(|m| shown(*m)).collect();
        if scaled.iter().all(Option::is_none) {
            return Vec::new();
        }
        let wt = self.carbon(&scaled);
        let filled: Vec<Option<f64>> =
            self.measures.iter().zip(&scaled).map(|(m, v)| v.or(Some(self.trend.typical(*m, wt)))).collect();
        let row = |band: CarbonBand| {
            let inside = |wt| CarbonPercent::new(wt).is_ok_and(|c| CarbonBand::of(c) == band);
            let (part, _) = Piece::over_carbon(&piece.carbon, |wt| f64::from(u8::from(inside(wt))));
            let mut row = self.row(&filled, band.index(), part);
            if let Some(last) = row.values.last_mut() {
                *last = wt;
            }
            row
        };
        let rows = CarbonBand::ALL.into_iter().map(row);
        rows.filter(|row| row.weight >= Settings::LEAST_WEIGHT).collect()
    }

    fn row(&self, scaled: Values<'_>, label: usize, weight: f64) -> Row {
        let value = |(m, at): (&SparkMeasure, &Option<f64>)| m.off_scale(at.unwrap_or_default());
        let mut values: Vec<f64> = self.measures.iter().zip(scaled).map(value).collect();
        values.push(self.carbon(scaled));
        Row { values, label, weight }
    }
}
