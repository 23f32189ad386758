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
    let photographed = told.photographed.as_ref();
    let figures = photographed.and_then(|p| Some((p.figures.as_ref()?, p.stock_figures.as_ref())));
    let (shown, beside) = match figures {
        Some((coupon, stock)) => (Shown::on_photos(coupon), stock.map(|stock| Shown::on_photos(stock))),
        None => (Shown::in_words(features), None),
    };
    let Some(rig) = rig.by(shown.by()) else { return Ok(None) };
    let steels = beside.iter().map(|shown| (percent(stock), shown)).collect();
    read_sparks_at(rig, features, &shown, &Beside { steels, fitted: false }).map(Some)
}
