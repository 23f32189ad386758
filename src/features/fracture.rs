use super::face_seen::FaceSeen;
use super::face_words::{FaceReading, FaceTexture, RimClass};
use super::spark::{Feature, Origin};
use super::words::Range;
use crate::fracture::{Broken, FaceDescription, FractureDescription, QuenchHeat, Quenching, Tempering};
use crate::steel::QuenchMedium;
use crate::units::{Depth, Interval, Temperature};

/// A number that a tree judges a fracture face by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FaceColumn {
    /// How far round the rim runs: [`RimClass::rank`], 0 to 3.
    Rim,
    /// Depth of the rim on one side over the whole thickness, 0 to 0.5.
    RimShare,
    /// Thickness or diameter of the coupon, mm.
    Thickness,
    /// What the rim looks like: [`FaceTexture::rank`], 0 to 5.
    TextureRim,
    /// What the core looks like: [`FaceTexture::rank`], 0 to 5.
    TextureCore,
    /// 1 if it bent before it broke, else 0.
    BentFirst,
}

impl FaceColumn {
    /// The columns of a tree, in order.
    pub const TREE: [Self; 6] =
        [Self::Rim, Self::RimShare, Self::Thickness, Self::TextureRim, Self::TextureCore, Self::BentFirst];

    /// Name in trees and training data.
    pub fn column(self) -> &'static str {
        match self {
            Self::Rim => "rim",
            Self::RimShare => "rim_share",
            Self::Thickness => "thickness_mm",
            Self::TextureRim => "texture_rim",
            Self::TextureCore => "texture_core",
            Self::BentFirst => "bent_first",
        }
    }
}

/// What the coupon was tempered to, as far as the look of a break goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tempered {
    /// Not at all.
    Not,
    /// So low that a case breaks all the same.
    Low,
    /// Hotter, or nobody knows how hot.
    Softened,
}

/// What heat the coupon was quenched from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HardeningHeat {
    /// A temperature, told or taken from a colour.
    At(Interval<Temperature>),
    /// The magnet had just let go.
    JustPastMagnet,
    /// Straight from the soak.
    FromSoak,
}

impl From<&QuenchHeat> for HardeningHeat {
    fn from(heat: &QuenchHeat) -> Self {
        match heat {
            QuenchHeat::Temperature(temperature) | QuenchHeat::Colour { temperature, .. } => {
                Self::At(*temperature)
            }
            QuenchHeat::JustPastMagnet => Self::JustPastMagnet,
            QuenchHeat::FromSoak => Self::FromSoak,
        }
    }
}

/// What the blank of untreated stock shows.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct BlankFeatures {
    /// Its rim beside the coupon's.
    pub rim: Option<BlankRim>,
    /// Whether its core hardened: brittle where untreated mild steel tears.
    pub core_hardened: Option<bool>,
    /// Whether it was quenched as the coupon was.
    pub same_quench: Option<bool>,
    /// Whether its photos and what was told of it exclude each other.
    pub photos_disagree: bool,
}

/// The rim of the blank beside the coupon's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BlankRim {
    /// The blank has none.
    None,
    /// The blank has one, but less of it.
    Less,
    /// The blank shows the same rim, or as much as can be told of it.
    Same,
}

/// The features of a fracture; what was not said is `None`, never zero.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FractureFeatures {
    /// How far round the rim runs, told or following from the depths.
    pub rim: Option<RimClass>,
    /// Depth of each side that was read, mm; one entry if all sides were told as one.
    pub sides_mm: Vec<Range>,
    /// Depth of each side that was read over the thickness, 0 to 1.
    pub side_shares: Vec<Range>,
    /// Thickness or diameter, mm.
    pub thickness_mm: Option<f64>,
    /// What the rim looks like.
    pub texture_rim: Option<FaceTexture>,
    /// What the core looks like.
    pub texture_core: Option<FaceTexture>,
    /// Whether there is a shear lip.
    pub shear_lip: Option<bool>,
    /// Whether it was quenched.
    pub quenched: Option<bool>,
    /// In what; `None` also if it was not quenched.
    pub medium: Option<QuenchMedium>,
    /// From what heat.
    pub heat: Option<HardeningHeat>,
    /// Whether it bent before it broke.
    pub bent_first: Option<bool>,
    /// What it was tempered to.
    pub tempered: Option<Tempered>,
    /// The blank, if one was broken.
    pub blank: Option<BlankFeatures>,
    /// Where photos and what was told exclude each other: [`FaceColumn::Rim`], [`FaceColumn::RimShare`].
    pub photos_disagree: Vec<FaceColumn>,
    /// Whether photos were read and do not tell whether there is a rim.
    pub photos_unclear: bool,
}

impl FractureFeatures {
    /// From a description, with what photos show of it, and the coupon's thickness or diameter.
    pub fn described(told: &FractureDescription, thickness: Option<Depth>, reading: &FaceReading) -> Self {
        let face = &told.coupon;
        // a piece without thickness has no face
        let thickness_mm = thickness.map(Depth::millimetres).filter(|mm| *mm > 0.0);
        let seen = FaceSeen::of(face, thickness_mm, reading);
        let blank = told.blank.as_ref().map(|blank| {
            let beside = FaceSeen::of(blank, thickness_mm, reading);
            BlankFeatures {
                rim: blank_rim(&seen, blank, &beside),
                core_hardened: core_hardened(blank, &beside),
                same_quench: face.quenched.zip(blank.quenched).map(|(a, b)| a == b),
                photos_disagree: !beside.disagree.is_empty(),
            }
        });
        Self {
            rim: seen.rim,
            thickness_mm,
            texture_rim: face.texture_rim.map(Into::into),
            texture_core: face.texture_core.map(Into::into),
            shear_lip: face.shear_lip,
            quenched: face.quenched.map(is_quenched),
            medium: face.quenched.and_then(medium),
            heat: face.quench_heat.as_ref().map(Into::into),
            bent_first: face.broken.map(|b| b == Broken::BentFirst),
            tempered: face.tempered.map(|t| tempered(t, reading)),
            blank,
            photos_unclear: seen.rim.is_none() && face.photographed.is_some(),
            photos_disagree: seen.disagree,
            sides_mm: seen.sides.mm,
            side_shares: seen.sides.shares,
        }
    }

    /// Depth over thickness, all sides together: measured from depths, or as the rim itself says (no rim
    /// is 0, a face that is all rim is half the thickness from either side).
    pub fn rim_share(&self) -> Option<Feature> {
        let said = |share| Some(Feature { value: Interval::exact(share), origin: Origin::Described });
        match self.rim {
            Some(RimClass::None) => said(0.0),
            Some(RimClass::Through) => said(0.5),
            _ => Some(Feature { value: together(&self.side_shares)?, origin: Origin::Measured }),
        }
    }

    /// One column of a tree.
    pub fn get(&self, column: FaceColumn) -> Option<Feature> {
        let said = |value| Feature { value: Interval::exact(value), origin: Origin::Described };
        match column {
            FaceColumn::Rim => self.rim.map(|r| said(r.rank())),
            FaceColumn::RimShare => self.rim_share(),
            FaceColumn::Thickness => {
                let value = Interval::exact(self.thickness_mm?);
                Some(Feature { value, origin: Origin::Measured })
            }
            FaceColumn::TextureRim => self.texture_rim.map(|t| said(t.rank())),
            FaceColumn::TextureCore => self.texture_core.map(|t| said(t.rank())),
            FaceColumn::BentFirst => self.bent_first.map(|b| said(f64::from(u8::from(b)))),
        }
    }
}

/// Sides as one: the median of the best values, from the lowest low to the highest high. Places that
/// differ are not averaged into a narrower answer.
pub fn together(sides: &[Range]) -> Option<Range> {
    let mut best: Vec<f64> = sides.iter().map(Interval::best).collect();
    best.sort_by(f64::total_cmp);
    let (upper, lower) = (*best.get(best.len() / 2)?, *best.get(best.len().checked_sub(1)? / 2)?);
    let low = sides.iter().map(Interval::low).fold(f64::INFINITY, f64::min);
    let high = sides.iter().map(Interval::high).fold(0.0, f64::max);
    Interval::new(low, f64::midpoint(lower, upper), high)
}

fn is_quenched(quenching: Quenching) -> bool {
    quenching != Quenching::NotQuenched
}

fn medium(quenching: Quenching) -> Option<QuenchMedium> {
    match quenching {
        Quenching::In(medium) => Some(medium),
        Quenching::NotQuenched => None,
    }
}

fn tempered(told: Tempering, reading: &FaceReading) -> Tempered {
    let most = reading.harmless_temper.value;
    match told {
        Tempering::Not => Tempered::Not,
        Tempering::At(Some(t)) if t.high() <= most => Tempered::Low,
        Tempering::At(_) => Tempered::Softened,
    }
}

/// Whether untreated stock hardened to its middle. Only a quench can show it.
fn core_hardened(blank: &FaceDescription, seen: &FaceSeen) -> Option<bool> {
    if blank.quenched == Some(Quenching::NotQuenched) {
        return None;
    }
    if seen.rim == Some(RimClass::Through) {
        return Some(true);
    }
    blank.texture_core.map(|t| FaceTexture::from(t).is_brittle())
}

/// The same: as far round, and depths, where both are known, whose ranges meet.
fn blank_rim(coupon: &FaceSeen, told: &FaceDescription, blank: &FaceSeen) -> Option<BlankRim> {
    match (coupon.rim, blank.rim?) {
        // soft stock shows no rim whatever it is
        (_, RimClass::None) if told.quenched == Some(Quenching::NotQuenched) => None,
        (_, RimClass::None) => Some(BlankRim::None),
        (None | Some(RimClass::None), _) => None,
        (Some(rim), other) => {
            let depths = |a: &[Range], b: &[Range]| together(a).zip(together(b));
            let apart = depths(&coupon.sides.mm, &blank.sides.mm)
                .or_else(|| depths(&coupon.sides.shares, &blank.sides.shares))
                .is_some_and(|(c, b)| c.low() > b.high());
            Some(if apart || other < rim { BlankRim::Less } else { BlankRim::Same })
        }
    }
}

#[cfg(test)]
mod tests;
