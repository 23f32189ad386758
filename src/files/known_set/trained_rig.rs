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
    let photos = ByPhotos::of(told, stock);
    let (shown, beside) = match &photos {
        Some(photos) => (photos.coupon.clone(), photos.beside()),
        None => (Shown::in_words(features), Beside::default()),
    };
    let Some(rig) = rig.by(shown.by()) else { return Ok(None) };
    read_sparks_at(rig, features, &shown, &beside).map(Some)
}

/// What photos of a coupon and of the stock beside it show.
pub(in crate::files) struct ByPhotos {
    pub(in crate::files) coupon: Shown,
    /// Its carbon, wt%, and what it shows.
    stock: Option<(Interval<f64>, Shown)>,
}

impl ByPhotos {
    /// `None`: there are no photos of the coupon.
    pub(in crate::files) fn of(told: &SparkObservation, stock: &Interval<CarbonPercent>) -> Option<Self> {
        let photographed = told.photographed.as_ref()?;
        let coupon = Shown::on_photos(photographed.figures.as_ref()?);
        let figures = photographed.stock_figures.as_ref();
        Some(Self { coupon, stock: figures.map(|figures| (percent(stock), Shown::on_photos(figures))) })
    }

    /// What stands beside the coupon.
    pub(in crate::files) fn beside(&self) -> Beside<'_> {
        let steels = self.stock.iter().map(|(carbon, shown)| (*carbon, shown)).collect();
        Beside { steels, fitted: false }
    }
}
