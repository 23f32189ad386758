//! How well what was found in a picture agrees with its truth. Nothing here knows how it was found.

mod bursts;
mod carriers;
mod matching;
mod picture;
mod quantile;
mod set;
#[cfg(test)]
mod tests;

pub(crate) use picture::{PictureScore, score_picture};
pub(crate) use set::SetScore;

/// What a measurer found in one picture.
#[derive(Clone, Debug, Default)]
pub(crate) struct Found {
    pub(crate) carriers: Vec<FoundCarrier>,
    pub(crate) bursts: Vec<FoundBurst>,
}

/// One carrier that was found.
#[derive(Clone, Debug)]
pub(crate) struct FoundCarrier {
    /// px, x right, y down
    pub(crate) path: Vec<[f64; 2]>,
    pub(crate) length_px: f64,
    pub(crate) cut_by_frame: bool,
    /// Bursts that sit on it.
    pub(crate) bursts: usize,
}

/// One burst that was found.
#[derive(Clone, Debug)]
pub(crate) struct FoundBurst {
    pub(crate) at: [f64; 2],
    pub(crate) rays: usize,
    pub(crate) tier: usize,
}
