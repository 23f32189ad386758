use super::PhotographedFace;
use crate::fracture::FaceRefusal;
use crate::photo::{Unusable, UnusedPhoto};

/// A photo of a face that was given and not used.
pub type UnusedFace = UnusedPhoto<FaceRefusal>;
/// Why a photo of a face was not used.
pub type UnusableFace = Unusable<FaceRefusal>;

/// Photos of faces that were looked at.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LookedAtFaces {
    /// The coupon's face; `None`: no photo of it is usable.
    pub coupon: Option<PhotographedFace>,
    /// The blank's; `None`: none is usable, or none was given.
    pub blank: Option<PhotographedFace>,
    /// Photos that could not be used.
    pub unused: Vec<UnusedFace>,
    /// What is odd about the files: the photo's name and what to know of it.
    pub remarks: Vec<(String, String)>,
}
