use crate::fracture::FacePhoto;

/// One photo of a face with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceFrame {
    /// What the photo is called.
    pub name: String,
    /// What it shows.
    pub photo: FacePhoto,
}
