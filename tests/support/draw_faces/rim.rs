//! The case below the sides of a section: how deep, and how sharply it ends.

use super::noise::Noise;
use super::section::{Mm, Section};

/// Carbon at the border over that at the surface, both above the core's. Judgement: 0.40 % C where the surface has
/// 0.9 and the core 0.18. The profile is the error function of a constant diffusivity (Crank 1975, eq. 2.45).
const AT_BORDER: f64 = 0.30;
/// `erf(REACH) = 1 - AT_BORDER`.
const REACH: f64 = 0.7329;
/// From 10 to 90 % of a logistic curve, in its own units: `2 ln 9`.
const TEN_TO_NINETY: f64 = 4.394;
/// A side with less than this has no case, mm.
const NONE_MM: f64 = 0.004;

/// The case of a coupon.
#[derive(Clone, Debug)]
pub(crate) struct Rim {
    pub(crate) sides: Vec<SideRim>,
    /// From 10 to 90 % case, mm.
    pub(crate) width: f64,
}

/// The case below one side, as it would be without its neighbours.
#[derive(Clone, Debug)]
pub(crate) struct SideRim {
    /// Mean depth, mm.
    pub(crate) depth: f64,
    /// Share that it varies by, and the wavelength of that, mm.
    pub(crate) varies: (f64, f64),
    pub(crate) noise: Noise,
    /// Walked the other way, as the other half of a break is seen.
    pub(crate) mirrored: bool,
    /// Where it is, along the side, mm, and over what length it ends there; everywhere if none.
    pub(crate) where_: Option<([f64; 2], f64)>,
}

impl SideRim {
    fn at(&self, along: f64, whole: f64, closed: bool) -> f64 {
        let (amount, wavelength) = self.varies;
        // mirrored left to right: a round side begins on the right
        let along = match (self.mirrored, closed) {
            (false, _) => along,
            (true, false) => whole - along,
            (true, true) => (1.5 * whole - along).rem_euclid(whole),
        };
        // round a bar the noise must close: it is walked along a circle
        let wave = if closed {
            let (sin, cos) = (along / whole * std::f64::consts::TAU).sin_cos();
            let r = whole / wavelength / std::f64::consts::TAU;
            self.noise.octaves((r * cos) as f32, (r * sin) as f32, 0.5, 0.2)
        } else {
            self.noise.octaves((along / wavelength) as f32, 0.37, 0.5, 0.2)
        };
        let here = self.where_.map_or(1.0, |([low, high], over)| {
            let rise = |t: f64| {
                let t = (t / over + 0.5).clamp(0.0, 1.0);
                t * t * (3.0 - 2.0 * t)
            };
            rise(along - low) * rise(high - along)
        });
        self.depth * here * (1.0 + amount * f64::from(wave)).max(0.2)
    }
}

impl Rim {
    /// What is left of the share of carbon above the core's, less that at the border, and the slope of it there,
    /// per mm. Carbon from several sides adds up as the product of what each one leaves out: exact for
    /// corners of constant diffusivity, and near it for plates whose cases have not met.
    fn above_border(&self, section: &Section, p: Mm) -> (f64, f64) {
        let (mut left, mut nearest, mut depth) = (1.0, f64::MAX, 0.0);
        for (i, side) in self.sides.iter().enumerate() {
            let (along, below) = section.below(i, p);
            let local = side.at(along, section.side_length(i), section.is_round());
            if local < NONE_MM {
                continue;
            }
            left *= erf(REACH * below.max(0.0) / local);
            if below / local < nearest {
                (nearest, depth) = (below / local, local);
            }
        }
        // where a case runs out, the mix must not spread all over the core
        let depth = depth.max(0.5 * self.typical());
        // derivative of erf at REACH, times REACH over the depth
        (1.0 - left - AT_BORDER, 0.4834 / depth)
    }

    fn typical(&self) -> f64 {
        self.sides.iter().map(|s| s.depth).fold(0.0, f64::max)
    }

    /// Share of case in the mix of case and core at a point, 0..1; one half at the border.
    pub(crate) fn share(&self, section: &Section, p: Mm) -> f64 {
        let (above, slope) = self.above_border(section, p);
        1.0 / (1.0 + (-TEN_TO_NINETY * above / (slope * self.width)).exp())
    }

    /// More case than core.
    pub(crate) fn is_case(&self, section: &Section, p: Mm) -> bool {
        self.above_border(section, p).0 > 0.0
    }

    /// Above zero in the case, below in the core, smooth.
    pub(crate) fn excess(&self, section: &Section, p: Mm) -> f64 {
        self.above_border(section, p).0
    }
}

/// Abramowitz and Stegun 1964, 7.1.26: within 1.5e-7 for positive arguments.
fn erf(x: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.327_591_1 * x);
    let sum = t
        * (0.254_829_592
            + t * (-0.284_496_736 + t * (1.421_413_741 + t * (-1.453_152_027 + t * 1.061_405_429))));
    1.0 - sum * (-x * x).exp()
}
