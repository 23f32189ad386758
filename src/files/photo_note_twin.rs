//! The JSON form of photos that were not used and of what to know of the others; documented on [`super::Answer`].

use crate::photo::{Unusable, UnusedPhoto};
use crate::spark::{PhotoNote, Refusal};
use serde::Serialize;
use std::fmt::Display;

#[derive(Debug, Serialize)]
pub(super) struct UnusedTwin {
    photo: String,
    code: &'static str,
    reason: String,
}

#[derive(Debug, Serialize)]
#[serde(tag = "code", rename_all = "snake_case")]
pub(super) enum NoteTwin {
    Copy { photo: String, of: String },
    NoTimes,
    TouchesByTime { touches: usize },
    ExposuresDiffer { coupon_s: f64, stock_s: f64 },
    ExposureUnknown,
    SizesDiffer,
    FocalLengthsDiffer,
    FocalLengthUnknown,
    ShutterTooShort { photos: usize },
    ShutterTooLong { photos: usize },
    FlightUnknown,
    StreamLeavesPicture,
    StockWithoutBursts,
    NoStock,
    SurfaceTouches { used: usize, of: usize },
    RimUnseen,
    NoScale,
    BrightnessUncorrected,
}

/// A reason with a code.
pub(super) trait Coded: Display {
    /// The code.
    fn code(&self) -> &'static str;
}

impl UnusedTwin {
    pub(super) fn new<R: Coded>(unused: &UnusedPhoto<R>) -> Self {
        let reason = match &unused.why {
            Unusable::Refused(refusal) => refusal.to_string(),
            Unusable::NotRead { message, .. } => message.clone(),
        };
        Self { photo: unused.name.clone(), code: unused_code(&unused.why), reason }
    }
}

/// The code of why a photo was not used.
pub(super) fn unused_code<R: Coded>(why: &Unusable<R>) -> &'static str {
    match why {
        Unusable::Refused(refusal) => refusal.code(),
        Unusable::NotRead { .. } => "not_read",
    }
}

impl Coded for Refusal {
    fn code(&self) -> &'static str {
        match self {
            Refusal::NoSparks { .. } => "no_sparks",
            Refusal::NoStream { .. } => "no_stream",
            Refusal::UnlikeSparks { .. } => "unlike_sparks",
            Refusal::SideBySide { .. } => "side_by_side",
            Refusal::AllRound { .. } => "all_round",
            Refusal::TooDark { .. } => "too_dark",
            Refusal::BlownOut { .. } => "blown_out",
            Refusal::Blurred { .. } => "blurred",
            Refusal::TooFew { .. } => "too_few",
            Refusal::NotSeparable { .. } => "not_separable",
        }
    }
}

impl NoteTwin {
    pub(super) fn new(note: &PhotoNote) -> Self {
        match note {
            PhotoNote::Copy { photo, of } => Self::Copy { photo: photo.clone(), of: of.clone() },
            PhotoNote::NoTimes => Self::NoTimes,
            PhotoNote::TouchesByTime { touches } => Self::TouchesByTime { touches: *touches },
            PhotoNote::ExposuresDiffer { coupon, stock } => {
                Self::ExposuresDiffer { coupon_s: *coupon, stock_s: *stock }
            }
            PhotoNote::ExposureUnknown => Self::ExposureUnknown,
            PhotoNote::SizesDiffer => Self::SizesDiffer,
            PhotoNote::FocalLengthsDiffer => Self::FocalLengthsDiffer,
            PhotoNote::FocalLengthUnknown => Self::FocalLengthUnknown,
            PhotoNote::ShutterTooShort { photos } => Self::ShutterTooShort { photos: *photos },
            PhotoNote::ShutterTooLong { photos } => Self::ShutterTooLong { photos: *photos },
            PhotoNote::FlightUnknown => Self::FlightUnknown,
            PhotoNote::StreamLeavesPicture => Self::StreamLeavesPicture,
            PhotoNote::StockWithoutBursts => Self::StockWithoutBursts,
            PhotoNote::NoStock => Self::NoStock,
            PhotoNote::SurfaceTouches { used, of } => Self::SurfaceTouches { used: *used, of: *of },
            PhotoNote::RimUnseen => Self::RimUnseen,
            PhotoNote::NoScale => Self::NoScale,
            PhotoNote::BrightnessUncorrected => Self::BrightnessUncorrected,
        }
    }
}
