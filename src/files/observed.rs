use super::known_set::{ByPhotos, PublishedTrend, read_at};
use super::{Models, RunSheet, TrainError};
use crate::crosscheck::{Doubtful, Seen};
use crate::estimate::{CaseAnswer, SparkAnswer, SparkReader, TrainedRig, read_fracture, read_sparks};
use crate::features::{FractureFeatures, SparkFeatures};
use crate::known::told_by_photos;
use crate::spark::{SparkObservation, SteelState};
use crate::tree::WalkError;
use crate::units::{CarbonPercent, Interval, Mass, last_digit};
use thiserror::Error;

/// What was seen of a coupon as numbers, and what they say: from the observations of a sheet alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Observed {
    /// Sparks.
    pub sparks: Option<(SparkFeatures, SparkAnswer)>,
    /// The face.
    pub face: Option<(FractureFeatures, CaseAnswer)>,
}

/// Why nothing can be made of observations: a fault of the program's own tables.
#[derive(Debug, Error)]
pub enum ObserveError {
    /// The rows that missing answers are filled from.
    #[error(transparent)]
    Rows(#[from] TrainError),
    /// A tree that is not for these features.
    #[error(transparent)]
    Tree(#[from] WalkError),
}

impl Observed {
    /// Reads sparks and face of a sheet.
    pub fn of(sheet: &RunSheet, rig: Option<&TrainedRig>, models: &Models) -> Result<Self, ObserveError> {
        let sparks = match &sheet.spark {
            None => None,
            Some(told) => Some(Self::sparks(told, &sheet.stock.carbon, rig, models)?),
        };
        let face = match &sheet.fracture {
            None => None,
            Some(told) => {
                let size = sheet.coupon.and_then(|c| c.shape.size());
                let features = FractureFeatures::described(told, size, &models.face_reading);
                let answer = read_fracture(&features, &models.face_tree)?;
                Some((features, answer))
            }
        };
        Ok(Self { sparks, face })
    }

    /// Reads sparks beside stock of that carbon: by the known steels of a rig if it has been trained on such as these,
    /// else by the published trend.
    pub fn sparks(
        told: &SparkObservation,
        stock: &Interval<CarbonPercent>,
        rig: Option<&TrainedRig>,
        models: &Models,
    ) -> Result<(SparkFeatures, SparkAnswer), ObserveError> {
        let published = PublishedTrend::shipped(models)?;
        let photos = ByPhotos::of(told, stock);
        let shown = photos.map(|photos| {
            told_by_photos(&published.trend, &published.exposures, &photos.coupon, &photos.beside())
        });
        let (words, stock_wt) = (&models.spark_words, stock.best().wt_percent());
        let features = SparkFeatures::observed(told, words, stock_wt, &shown.unwrap_or_default());
        if let Some(rig) = rig
            && let Some(answer) = read_at(rig, told, &features, stock)?
        {
            return Ok((features, answer));
        }
        let reader = SparkReader::published(&models.spark_tree, &published.rows.training);
        let answer = read_sparks(&features, &reader)?;
        Ok((features, answer))
    }

    /// Together with all else that the sheet tells of the coupon.
    pub fn seen<'a>(&'a self, sheet: &'a RunSheet, models: &Models) -> Seen<'a> {
        let spark = sheet.spark.as_ref();
        Seen {
            sparks: self.sparks.as_ref().map(|(features, answer)| (features, answer)),
            sparked_hard: spark.and_then(|s| s.coupon.state).map(|state| state == SteelState::Hardened),
            inward: spark.and_then(|s| s.over_time.or_else(|| s.photographed.as_ref()?.over_time)),
            touches: spark.and_then(|s| s.touches),
            ground: spark.and_then(|s| s.ground_depth),
            face: self.face.as_ref().map(|(features, answer)| (features, answer)),
            witness: sheet.witness.as_ref(),
            gain: gain(sheet),
            stock_unknown: sheet.stock.name == models.default_grade,
        }
    }
}

/// Mass gain as weighed, mg, with what the last digits leave open.
fn gain(sheet: &RunSheet) -> Option<Doubtful> {
    let coupon = sheet.coupon.as_ref()?;
    let gain = coupon.mass_after?.grams() - coupon.mass_before?.grams();
    let step = |field| last_digit::<Mass>(sheet.typed.get(field)?);
    // either mass lies anywhere within its last digit: a flat spread of one has a twelfth of it as variance
    let variance =
        [step("stock.mass_before")?, step("stock.mass_after")?].map(|kg| (kg * 1e6).powi(2) / 12.0);
    let sd = variance.iter().sum::<f64>().sqrt();
    Some(Doubtful { best: gain * 1e3, down: sd, up: sd })
}
