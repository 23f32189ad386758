use super::pieces::percent;
use crate::estimate::{SparkAnswer, TrainedRig, read_sparks_at};
use crate::features::SparkFeatures;
use crate::known::{Beside, Shown};
use crate::spark::SparkObservation;
use crate::tree::WalkError;
use crate::units::{CarbonPercent, Interval};

/// Reads a coupon by a rig: its photos if there are any, else what was told. `stock` is the carbon of the untreated stock.
/// `None`: the rig has no steels that were seen in that way.
pub(in crate::files) fn read_at(
    rig: &TrainedRig,
    told: &SparkObservation,
    features: &SparkFeatures,
    stock: &Interval<CarbonPercent>,
) -> Result<Option<SparkAnswer>, WalkError> {
    let (shown, beside) =
        photographed_beside(told, stock).unwrap_or_else(|| (Shown::in_words(features), None));
    let Some(rig) = rig.by(shown.by()) else { return Ok(None) };
    let steels = beside.iter().map(|(carbon, shown)| (*carbon, shown)).collect();
    read_sparks_at(rig, features, &shown, &Beside { steels, fitted: false }).map(Some)
}

/// What photos of a coupon show, and those of the stock beside it, with its carbon, wt%. `None`: there are no photos.
pub(in crate::files) fn photographed_beside(
    told: &SparkObservation,
    stock: &Interval<CarbonPercent>,
) -> Option<(Shown, Option<(Interval<f64>, Shown)>)> {
    let photographed = told.photographed.as_ref()?;
    let coupon = Shown::on_photos(photographed.figures.as_ref()?);
    let beside =
        photographed.stock_figures.as_ref().map(|figures| (percent(stock), Shown::on_photos(figures)));
    Some((coupon, beside))
}
