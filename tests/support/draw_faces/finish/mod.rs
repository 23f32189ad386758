//! What a surface looks like from near: relief, tone and gloss at a point, by how it came about.

mod cleavage;
mod fibrous;
mod grains;
mod struck;
mod worked;

pub(crate) use cleavage::Cleavage;
pub(crate) use fibrous::Fibrous;
pub(crate) use grains::Grains;
pub(crate) use struck::Struck;
pub(crate) use worked::Worked;

use crate::support::drawing::dice::Dice;

/// A surface at a point.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Patch {
    /// mm; what is large enough to throw shadows.
    pub(crate) height: f32,
    /// Slope in x and y of what is too small for that.
    pub(crate) slope: [f32; 2],
    /// Share of light that is scattered all round.
    pub(crate) tone: f32,
    /// Share of light that is mirrored.
    pub(crate) gloss: f32,
    /// Spread of the mirror, as a standard deviation of slope.
    pub(crate) rough: f32,
}

impl Patch {
    /// This with a share of another one.
    pub(crate) fn mixed(self, other: Self, share: f32) -> Self {
        let mix = |a: f32, b: f32| a + share * (b - a);
        Self {
            height: mix(self.height, other.height),
            slope: [0, 1].map(|k| mix(self.slope[k], other.slope[k])),
            tone: mix(self.tone, other.tone),
            gloss: mix(self.gloss, other.gloss),
            rough: mix(self.rough, other.rough),
        }
    }
}

/// How a surface came about.
#[derive(Clone, Debug)]
pub(crate) enum Finish {
    Grains(Grains),
    Fibrous(Fibrous),
    Cleavage(Cleavage),
    Worked(Worked),
    Struck(Struck),
}

impl Finish {
    /// The same kind of surface elsewhere.
    pub(crate) fn reseed(&mut self, dice: &mut Dice) {
        let seed = match self {
            Self::Grains(f) => &mut f.seed,
            Self::Fibrous(f) => &mut f.seed,
            Self::Cleavage(f) => &mut f.seed,
            Self::Worked(f) => &mut f.seed,
            Self::Struck(f) => &mut f.seed,
        };
        *seed = (dice.unit() * f64::from(u32::MAX)) as u32;
    }

    /// At a point, mm; `cell`: what is smaller cannot be drawn, mm.
    pub(crate) fn at(&self, x: f32, y: f32, cell: f32) -> Patch {
        match self {
            Self::Grains(f) => f.at(x, y, cell),
            Self::Fibrous(f) => f.at(x, y, cell),
            Self::Cleavage(f) => f.at(x, y, cell),
            Self::Worked(f) => f.at(x, y, cell),
            Self::Struck(f) => f.at(x, y, cell),
        }
    }
}
