use super::{PhotographedSparks, Refusal};

/// A photo that was given and not used.
#[derive(Debug, Clone, PartialEq)]
pub struct UnusedPhoto {
    /// What it is called.
    pub name: String,
    /// Why.
    pub why: Unusable,
}

/// Why a photo was not used.
#[derive(Debug, Clone, PartialEq)]
pub enum Unusable {
    /// It is a picture, but no stream can be measured on it.
    Refused(Refusal),
    /// It is no picture that can be read.
    NotRead {
        /// What is wrong with it.
        message: String,
        /// What to do.
        help: String,
    },
}

/// Photos that were looked at.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LookedAt {
    /// What the usable ones show; `None`: none of the coupon is usable.
    pub sparks: Option<PhotographedSparks>,
    /// The others.
    pub unused: Vec<UnusedPhoto>,
    /// What is odd about the files: the photo's name and what to know of it.
    pub remarks: Vec<(String, String)>,
}
