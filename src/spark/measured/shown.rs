use super::net::FEATURES;
use super::stream_photo::Spot;

/// What is seen at one look at a place where rays may meet: what [`crate::spark::BurstNet`] learns from.
#[derive(Debug, Clone, PartialEq)]
pub struct ShownPlace {
    /// Its middle, px of the photo.
    pub at: Spot,
    /// Roots of light above the background, 96 rows of 96 places: the contact is to the right, a line 2.2 places wide.
    pub light: Vec<f32>,
    /// Standard deviation of the noise of one pixel, roots of light.
    pub noise: f64,
    /// Measured numbers: those of [`crate::spark::BurstNet::features`].
    pub features: [f64; FEATURES],
    /// The bursts that were found before this look, px of the photo.
    pub before: Vec<Spot>,
}
