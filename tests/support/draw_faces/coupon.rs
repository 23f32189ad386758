//! A broken coupon: its outline, its case, and how each part of it broke.

use super::finish::Finish;
use super::noise::Noise;
use super::outline::Outline;
use super::recipe;
use super::rim::Rim;
use super::stain::Stain;
use crate::support::drawing::dice::Dice;

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
    /// Marks that run away from where the crack began: where, mm, their slope, and how many in a
    /// radian.
    pub(crate) marks: ([f32; 2], f32, f32),
    pub(crate) lip: Option<Lip>,
    /// Of the nick's wall.
    pub(crate) notch: Finish,
    pub(crate) stains: Vec<Stain>,
    /// Height, mm, of the burr at the edge, up or down.
    pub(crate) burr: f32,
    /// Uneven tone and colour over the whole break, 0..1.
    pub(crate) uneven: f32,
    pub(crate) noise: Noise,
    /// Colours of case and core over grey.
    pub(crate) tints: [[f32; 3]; 2],
}

/// A smooth slanted band along sides that broke last.
#[derive(Clone, Debug)]
pub(crate) struct Lip {
    /// And how each was smeared.
    pub(crate) sides: Vec<(usize, Finish)>,
    /// mm
    pub(crate) width: f64,
    /// Up towards the outline is positive.
    pub(crate) slope: f32,
}

impl Lip {
    /// How far inward it reaches at a place along a side, mm.
    pub(crate) fn reach(&self, side: usize, along: f64, noise: Noise) -> f64 {
        let wave = noise.octaves((along / 2.2) as f32, side as f32 + 0.4, 0.42, 0.05);
        self.width * (1.0 + 0.5 * f64::from(wave))
    }
}

impl Coupon {
    /// The other half of the break, as seen from its own side: left is right, hills are hollows, what broke off or
    /// came onto it later is its own.
    pub(crate) fn mate(mut self, hard: f64, dice: &mut Dice) -> Self {
        let n = self.outline.section.sides();
        let mirrored = |side: usize| (n - side) % n;
        if let Some(rim) = &mut self.rim {
            let old = rim.sides.clone();
            for (i, side) in rim.sides.iter_mut().enumerate() {
                *side = old[mirrored(i)].clone();
                side.mirrored = !side.mirrored;
            }
        }
        if let Some(nick) = &mut self.outline.nick {
            nick.side = mirrored(nick.side);
        }
        if let Some(lip) = &mut self.lip {
            for (side, _) in &mut lip.sides {
                *side = mirrored(*side);
            }
            lip.slope = -lip.slope;
        }
        self.marks.0[0] = -self.marks.0[0];
        self.step = -self.step;
        self.burr = -self.burr;
        self.other_break(hard, dice)
    }

    /// Untreated stock of the same section: no case, the core all over.
    pub(crate) fn blank(mut self, hard: f64, dice: &mut Dice) -> Self {
        self.rim = None;
        self.other_break(hard, dice)
    }

    /// The same finishes in another break.
    fn other_break(mut self, hard: f64, dice: &mut Dice) -> Self {
        self.case.reseed(dice);
        self.core.reseed(dice);
        self.notch.reseed(dice);
        self.noise = recipe::noise(dice);
        self.outline.noise = recipe::noise(dice);
        self.outline.chips = recipe::chips(&self.outline.section, hard, dice);
        self.stains = recipe::stains(self.outline.section.thickness(), hard, dice);
        self
    }
}
