use super::{LookedAtFaces, PhotographedFace};
use crate::steel::QuenchMedium;
use crate::units::{Depth, Interval, Share, Temperature};

/// How far round the face the rim runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rim {
    /// No rim seen.
    None,
    /// On some sides only.
    Partial,
    /// All round.
    AllRound,
    /// The whole face looks like rim.
    Through,
}

/// Depth of the rim on one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RimDepth {
    /// As a length.
    Length(Interval<Depth>),
    /// As a share of the whole thickness of the coupon.
    OfThickness(Interval<Share>),
}

/// What a region of the face looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Texture {
    /// Torn threads, dull: tough.
    Fibrous,
    /// Too fine for the eye, matt like porcelain.
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

/// How the broken piece was quenched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quenching {
    /// Not at all: the rim of a soft piece can hardly be seen.
    NotQuenched,
    /// In this.
    In(QuenchMedium),
}

/// What heat it was quenched from.
#[derive(Debug, Clone, PartialEq)]
pub enum QuenchHeat {
    /// A temperature.
    Temperature(Interval<Temperature>),
    /// A colour, with the temperatures that tables give it.
    Colour {
        /// The word.
        word: String,
        /// What it stands for.
        temperature: Interval<Temperature>,
    },
    /// When the magnet had just let go.
    JustPastMagnet,
    /// Straight from the soak.
    FromSoak,
}

/// Whether it was tempered before it was broken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tempering {
    /// Not tempered.
    Not,
    /// Tempered, at this if it is known.
    At(Option<Interval<Temperature>>),
}

/// How it broke.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Broken {
    /// Snapped at one blow.
    OneBlow,
    /// Bent first.
    BentFirst,
}

/// One fracture face. `None`: not said, never "none seen".
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FaceDescription {
    /// The rim.
    pub rim: Option<Rim>,
    /// Its depth: one entry for all sides, or one a side; a side that was not read is `None`.
    pub depth: Vec<Option<RimDepth>>,
    /// What the rim looks like.
    pub texture_rim: Option<Texture>,
    /// What the core looks like.
    pub texture_core: Option<Texture>,
    /// Whether there is a slanting smooth lip along an edge, which can pass for a rim.
    pub shear_lip: Option<bool>,
    /// How it was quenched.
    pub quenched: Option<Quenching>,
    /// From what heat.
    pub quench_heat: Option<QuenchHeat>,
    /// Tempered or not.
    pub tempered: Option<Tempering>,
    /// How it broke.
    pub broken: Option<Broken>,
    /// Photos of it, as paths in the run sheet's folder.
    pub photos: Vec<String>,
    /// What they show.
    pub photographed: Option<PhotographedFace>,
}

impl FaceDescription {
    /// A face has at most this many sides.
    pub const MOST_SIDES: usize = 8;
}

/// The coupon's face, with the blank of untreated stock if one was broken.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FractureDescription {
    /// The coupon.
    pub coupon: FaceDescription,
    /// Untreated stock, quenched and broken the same way.
    pub blank: Option<FaceDescription>,
}

impl FractureDescription {
    /// Paths of all photos: the coupon's, then the blank's.
    pub fn photos(&self) -> impl Iterator<Item = &str> {
        let faces = std::iter::once(&self.coupon).chain(&self.blank);
        faces.flat_map(|face| &face.photos).map(String::as_str)
    }

    /// Takes in what photos show.
    pub fn take(&mut self, seen: &LookedAtFaces) {
        self.coupon.photographed.clone_from(&seen.coupon);
        if let Some(blank) = &mut self.blank {
            blank.photographed.clone_from(&seen.blank);
        }
    }
}
