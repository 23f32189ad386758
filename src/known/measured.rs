use super::KnownPhoto;
use crate::spark::StreamFigures;

/// What the photos of one record show, as it was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// The way of measuring: [`crate::spark::MEASURING`] then.
    pub measuring: u32,
    /// The photos that were looked at.
    pub photos: Vec<MeasuredPhoto>,
    /// How many of them could be used.
    pub used: usize,
    /// Those that could not, each with the code of the reason.
    pub unused: Vec<(String, String)>,
    /// Longer side of the first photo that was used, px.
    pub picture_px: Option<u32>,
    /// Its focal length, mm, if the camera told it.
    pub focal_mm: Option<f64>,
    /// What the usable ones show together, without light; `None`: none is usable.
    pub figures: Option<StreamFigures>,
}

/// Which photo, and of which touch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeasuredPhoto {
    /// SHA-256 of its bytes.
    pub hash: String,
    /// The touch it was told to be of.
    pub touch: Option<u32>,
}

impl Measured {
    /// Whether these are the figures of `photos` by the way of measuring that is `now`.
    pub fn fits(&self, photos: &[KnownPhoto], now: u32) -> bool {
        let same = |(m, p): (&MeasuredPhoto, &KnownPhoto)| m.hash == p.hash && m.touch == p.touch;
        self.measuring == now && self.photos.len() == photos.len() && self.photos.iter().zip(photos).all(same)
    }
}
