use super::{PhotographedSparks, Refusal};
use crate::photo;

/// A photo of sparks that was given and not used.
pub type UnusedPhoto = photo::UnusedPhoto<Refusal>;
/// Why a photo of sparks was not used.
pub type Unusable = photo::Unusable<Refusal>;

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
