//! The outline of a face as it is seen: a section that tore, chipped and was nicked.

use super::noise::Noise;
use super::section::{Mm, Section, dot};

/// The outline of a broken face.
#[derive(Clone, Debug)]
pub(crate) struct Outline {
    pub(crate) section: Section,
    /// How far it is torn inward, mm, and the longest wavelength of that, mm.
    pub(crate) torn: (f64, f64),
    pub(crate) noise: Noise,
    pub(crate) chips: Vec<Chip>,
    pub(crate) nick: Option<Nick>,
    /// Radius of a hole in the middle, mm; 0: none. No coupon has one.
    pub(crate) bore: f64,
}

/// A piece that is gone.
#[derive(Clone, Debug)]
pub(crate) struct Chip {
    /// On the outline of the section.
    pub(crate) at: Mm,
    pub(crate) inward: Mm,
    /// How far inward it goes, mm.
    pub(crate) depth: f64,
    /// 1 is a straight cut; more is a hollow one.
    pub(crate) hollow: f64,
}

/// A notch that was sawn or ground into a side before the blow. Its wall is seen beside the break.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Nick {
    pub(crate) side: usize,
    /// mm
    pub(crate) depth: f64,
    /// How uneven its end is, mm.
    pub(crate) uneven: f64,
}

impl Nick {
    /// How far inward it reaches at a place along its side, mm.
    pub(crate) fn reach(&self, along: f64, noise: Noise) -> f64 {
        let wave = noise.octaves((along / 0.9) as f32, 7.7, 0.5, 0.05);
        self.depth + self.uneven * f64::from(wave)
    }
}

impl Chip {
    /// Above zero where it is gone, mm.
    pub(crate) fn gone(&self, p: Mm, noise: Noise) -> f64 {
        let from = [p[0] - self.at[0], p[1] - self.at[1]];
        if dot(from, from) > (4.0 * self.depth).powi(2) {
            return -self.depth;
        }
        let (down, aside) = (dot(from, self.inward), dot(from, [self.inward[1], -self.inward[0]]));
        let s = 2.2 / self.depth;
        let ragged = noise.octaves((p[0] * s) as f32, (p[1] * s) as f32, 0.55, 0.05);
        let bowl = self.hollow * aside * aside / (3.0 * self.depth);
        self.depth * (1.0 + 0.22 * f64::from(ragged)) - down - bowl
    }
}

impl Outline {
    /// Distance to the outline before it tore, mm.
    pub(crate) fn plain(&self, p: Mm) -> f64 {
        let outer = self.section.distance(p);
        if self.bore > 0.0 { outer.max(self.bore - p[0].hypot(p[1])) } else { outer }
    }

    /// Distance to what is seen of the outline, mm, nearly: below zero inside.
    pub(crate) fn distance(&self, p: Mm) -> f64 {
        let plain = self.plain(p);
        let (deep, long) = self.torn;
        if plain > 0.0 || plain < -3.0 * deep && self.chips.is_empty() {
            return plain;
        }
        let at = [(p[0] / long) as f32, (p[1] / long) as f32];
        let torn = deep * (0.6 + f64::from(self.noise.octaves(at[0], at[1], 0.55, 0.04))).max(0.0);
        self.chips.iter().map(|c| c.gone(p, self.noise)).fold(plain + torn, f64::max)
    }

    /// How far below the end of the nick a point lies, mm: below zero in the nick. None without a nick.
    pub(crate) fn below_nick(&self, p: Mm) -> Option<f64> {
        let nick = self.nick?;
        let (along, below) = self.section.below(nick.side, p);
        Some(below - nick.reach(along, self.noise))
    }

    /// Points of what is seen of the outline, clockwise.
    pub(crate) fn trace(&self, step: f64) -> Vec<Mm> {
        self.section.walk(step).into_iter().map(|(p, inward)| self.first_inside(p, inward)).collect()
    }

    /// From a point of the section's outline inward to where the face begins.
    pub(crate) fn first_inside(&self, p: Mm, inward: Mm) -> Mm {
        let at = |t: f64| [p[0] + t * inward[0], p[1] + t * inward[1]];
        let most = self.section.thickness();
        let mut t = 0.0;
        while t < most && self.distance(at(t + 1e-6)) > 0.0 {
            t += 0.004;
        }
        // between the last two steps
        let (mut low, mut high) = ((t - 0.004_f64).max(0.0), t);
        for _ in 0..12 {
            let middle = 0.5 * (low + high);
            if self.distance(at(middle + 1e-6)) > 0.0 { low = middle } else { high = middle }
        }
        at(high)
    }
}
