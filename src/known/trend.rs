use super::photo_line::{PhotoLine, PhotoLines};
use super::{CarbonDensity, SparkMeasure};
use crate::features::FeatureName;
use crate::tree::Training;

/// Carbon at which the trend is kept, wt%: the middles of its bands in `training-data/spark_trend.csv`.
const KNOTS: [f64; 10] = [0.025, 0.075, 0.14, 0.215, 0.30, 0.40, 0.525, 0.70, 0.90, 1.15];

/// Rows drawn from the published trend, with their carbon.
#[derive(Debug, Clone, PartialEq)]
pub struct TrendRows {
    /// The rows; columns as in [`FeatureName::TREE`].
    pub training: Training,
    /// Carbon of each, wt%.
    pub carbon: Vec<f64>,
}

/// The published trend on the scales of its measures: what is typical at a carbon content, and how far rows lie off it.
#[derive(Debug, Clone, PartialEq)]
pub struct Trend {
    typical: [[f64; KNOTS.len()]; SparkMeasure::ALL.len()],
    scatter: [f64; SparkMeasure::ALL.len()],
    on_photos: PhotoLines,
    /// Typical values at the carbon contents that densities weigh.
    steps: Vec<[f64; SparkMeasure::ALL.len()]>,
}

impl Trend {
    /// From its rows: at each knot the mean of the rows near it, each weighed by how near it is, straight in between;
    /// and what photos are expected to show against it.
    pub fn of(rows: &TrendRows, on_photos: PhotoLines) -> Self {
        let (typical, scatter) = Default::default();
        let mut trend = Self { typical, scatter, on_photos, steps: Vec::new() };
        for measure in SparkMeasure::ALL {
            let Some(column) = column(measure) else { continue };
            let values: Vec<(f64, f64)> = rows
                .training
                .rows
                .iter()
                .zip(&rows.carbon)
                .filter_map(|(row, wt)| Some((*wt, measure.on_scale(*row.values.get(column)?))))
                .collect();
            for (i, knot) in trend.typical[measure as usize].iter_mut().enumerate() {
                let mut unit = [0.0; KNOTS.len()];
                unit[i] = 1.0;
                let weights = || values.iter().map(|(wt, at)| (between(&unit, *wt), at));
                let total: f64 = weights().map(|(w, _)| w).sum();
                *knot = weights().map(|(w, at)| w * at).sum::<f64>() / total.max(f64::MIN_POSITIVE);
            }
            let off = |(wt, at): &(f64, f64)| (at - trend.typical(measure, *wt)).powi(2);
            let mean = values.iter().map(off).sum::<f64>() / values.len().max(1) as f64;
            trend.scatter[measure as usize] = mean.sqrt();
        }
        let at = |step| SparkMeasure::ALL.map(|m| trend.typical(m, CarbonDensity::carbon(step)));
        trend.steps = (0..CarbonDensity::STEPS).map(at).collect();
        trend
    }

    /// Typical value at a carbon content, wt%, on the measure's scale.
    pub fn typical(&self, measure: SparkMeasure, wt: f64) -> f64 {
        between(&self.typical[measure as usize], wt)
    }

    /// Typical value at a step of a density, on the measure's scale.
    pub(super) fn at_step(&self, measure: SparkMeasure, step: usize) -> f64 {
        self.steps[step][measure as usize]
    }

    /// Standard deviation of the trend's rows about it, on the measure's scale.
    pub fn scatter(&self, measure: SparkMeasure) -> f64 {
        self.scatter[measure as usize]
    }

    /// What is expected of a measure on photos against it; `None`: photos tell nothing of carbon by it.
    pub fn on_photos(&self, measure: SparkMeasure) -> Option<&PhotoLine> {
        self.on_photos[measure as usize].as_ref()
    }

    /// How far the typical value moves from mild steel to the richest.
    pub fn reach(&self, measure: SparkMeasure) -> f64 {
        let values = &self.typical[measure as usize];
        (values[KNOTS.len() - 1] - values[1]).abs()
    }

    /// The middle of the typical values.
    pub fn centre(&self, measure: SparkMeasure) -> f64 {
        self.typical[measure as usize].iter().sum::<f64>() / KNOTS.len() as f64
    }
}

/// Place of the measure's column among those of a tree.
pub(super) fn column(measure: SparkMeasure) -> Option<usize> {
    FeatureName::TREE.iter().position(|name| *name == measure.column())
}

/// Straight between knots, level beyond them.
fn between(values: &[f64; KNOTS.len()], wt: f64) -> f64 {
    let next = KNOTS.partition_point(|knot| *knot < wt).clamp(1, KNOTS.len() - 1);
    let share = ((wt - KNOTS[next - 1]) / (KNOTS[next] - KNOTS[next - 1])).clamp(0.0, 1.0);
    values[next - 1] * (1.0 - share) + values[next] * share
}
