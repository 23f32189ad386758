use super::correction::{Beside, Correction};
use super::{Exposures, Shown, SparkMeasure, Trend};
use crate::features::FeatureName;
use crate::units::Interval;

/// What photos show, as those who told the published trend would have seen it: by what is expected of photos of any rig, and by
/// the stock beside. What photos tell nothing of carbon by is left out, amounts too where no stock stands beside.
pub fn told_by_photos(
    trend: &Trend,
    exposures: &Exposures,
    shown: &Shown,
    beside: &Beside<'_>,
) -> Vec<(FeatureName, Interval<f64>)> {
    let stock_s = beside.steels.iter().find_map(|(_, stock)| stock.exposed_s());
    let rig =
        Correction::of_any_rig(trend, Exposures { usual_s: stock_s.or(shown.exposed_s()), ..*exposures });
    let day = rig.on_day(trend, beside);
    let told = |m: &SparkMeasure| rig.tells(trend, *m) && !(m.is_amount() && beside.steels.is_empty());
    let of = |m: SparkMeasure| Some((m.column(), day.as_trend(m, shown)?));
    SparkMeasure::ALL.into_iter().filter(told).filter_map(of).collect()
}
