//! A broken coupon: its outline, its case, and how each part of it broke.

use super::finish::Finish;
use super::noise::Noise;
use super::outline::Outline;
use super::rim::Rim;
use super::stain::Stain;

/// All that the face of a coupon is drawn from.
#[derive(Clone, Debug)]
pub(crate) struct Coupon {
    pub(crate) outline: Outline,
    /// None: no case.
    pub(crate) rim: Option<Rim>,
    pub(crate) case: Finish,
    pub(crate) core: Finish,
    /// Light from the core over light from the case, wanted; none: as it comes.
    pub(crate) ratio: Option<f32>,
    /// How far the core stands above the case, mm.
    pub(crate) step: f32,
    /// Patches of pure case and pure core within the transition: their size, mm, and how pure, 0..1.
    pub(crate) mottle: (f32, f32),
    /// Swell of the whole break: height, mm, and wavelength, mm.
    pub(crate) swell: (f32, f32),
    /// Marks that run away from where the crack began: where, mm, height, mm, and how many in a turn.
    pub(crate) marks: ([f32; 2], f32, f32),
    pub(crate) lip: Option<Lip>,
    /// Of the nick's wall.
    pub(crate) notch: Finish,
    pub(crate) stains: Vec<Stain>,
    pub(crate) noise: Noise,
    /// Colours of case and core over grey.
    pub(crate) tints: [[f32; 3]; 2],
}

/// A smooth slanted band along sides that broke last.
#[derive(Clone, Debug)]
pub(crate) struct Lip {
    pub(crate) sides: Vec<usize>,
    /// mm
    pub(crate) width: f64,
    /// Up towards the outline is positive.
    pub(crate) slope: f32,
    pub(crate) finish: Finish,
}
