use crate::fracture::{Rim, Texture};
use crate::sources::Sourced;
use crate::units::Temperature;

/// How well a face is read: the tables of `models/fracture.toml`.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceReading {
    /// How far a depth told without a range is off, mm either way.
    pub length_mm: Sourced<f64>,
    /// How far a share of the thickness told without a range is off, 0 to 1, either way.
    pub share: Sourced<f64>,
    /// Tempered no hotter than this, a case still breaks as it does untempered.
    pub harmless_temper: Sourced<Temperature>,
}

/// How far round the face the rim runs, least first; the order is the number in a tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RimClass {
    /// No rim seen.
    None,
    /// On some sides only.
    Partial,
    /// All round.
    AllRound,
    /// The whole face looks like rim.
    Through,
}

impl RimClass {
    /// All, in order.
    pub const ALL: [Self; 4] = [Self::None, Self::Partial, Self::AllRound, Self::Through];
    /// Words in training data, in the order of [`Self::ALL`].
    pub const WORDS: [&'static str; 4] = ["none", "partial", "all round", "through"];

    /// Its number in a tree, 0 to 3.
    pub fn rank(self) -> f64 {
        f64::from(self as u8)
    }
}

impl From<Rim> for RimClass {
    fn from(rim: Rim) -> Self {
        match rim {
            Rim::None => Self::None,
            Rim::Partial => Self::Partial,
            Rim::AllRound => Self::AllRound,
            Rim::Through => Self::Through,
        }
    }
}

/// What a region of the face looks like: from torn to broken along ever larger grains. The order is a
/// judgement; only its ends rest on a source (fibrous core, coarse overheated steel).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FaceTexture {
    /// Torn threads, dull.
    Fibrous,
    /// Too fine for the eye.
    Silky,
    /// Fine grain, just seen.
    Fine,
    /// Grain plainly seen.
    Grainy,
    /// Coarse and bright.
    Coarse,
    /// Flat bright facets.
    Faceted,
}

impl FaceTexture {
    /// All, in order.
    pub const ALL: [Self; 6] =
        [Self::Fibrous, Self::Silky, Self::Fine, Self::Grainy, Self::Coarse, Self::Faceted];

    /// Its number in a tree, 0 to 5.
    pub fn rank(self) -> f64 {
        f64::from(self as u8)
    }

    /// Not torn: it broke with little or no bending of the metal.
    pub fn is_brittle(self) -> bool {
        self > Self::Fibrous
    }
}

impl From<Texture> for FaceTexture {
    fn from(texture: Texture) -> Self {
        match texture {
            Texture::Fibrous => Self::Fibrous,
            Texture::Silky => Self::Silky,
            Texture::Fine => Self::Fine,
            Texture::Grainy => Self::Grainy,
            Texture::Coarse => Self::Coarse,
            Texture::Faceted => Self::Faceted,
        }
    }
}
