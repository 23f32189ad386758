use super::outlined::Outlined;
use super::texture::Texture;
use super::warmth::least_red;
use crate::fracture::FaceRefusal;
use crate::photo::{Picture, Plane};
use crate::stats::quantile;

/// Side of the squares in which stripes are looked for, px of the flat picture.
const SQUARE: usize = 24;
/// Linear light that counts as white (judgement).
const WHITE: f32 = 0.92;
/// Share of red in the light that counts as brown, and how far above the least red of the whole photo it must lie: a warm
/// lamp reddens bare steel too, and all that is around it (judgements).
const BROWN: f64 = 0.42;
const REDDER: f64 = 0.06;

// All of these are judgements on drawn development faces.

/// Least middle brightness, linear light.
const LEAST_LIGHT: f64 = 0.008;
/// Most of the face that may be white, and brown.
const MOST_WHITE: f64 = 0.25;
const MOST_BROWN: f64 = 0.6;
/// Least swing of the light from grain to grain, natural logarithm, and the swing below which focus is at fault.
const LEAST_CONTRAST: f64 = 0.035;
const BLURRED: f64 = 0.010;
/// Rust is redder than the least red fifth of the face by so much, share of red in the light. On scale it covers at least so
/// much of the face and is so many times brighter than the rest (more is a lamp); and either red spreads so far over the
/// face, nine tenths against one, or the rest is as dark as this, linear light.
const SPOT: f64 = 0.05;
const LEAST_SPOTS: f64 = 0.1;
const BRIGHTER: std::ops::Range<f64> = 1.2..2.5;
const LEAST_REDS: f64 = 0.12;
const DARK_REST: f64 = 0.1;
/// How much the slopes of the whole face may point one way.
const MOST_STRIPED: f64 = 0.65;

/// How well a face can be seen.
#[derive(Debug, Clone, Copy)]
pub(super) struct Quality {
    /// Middle linear light.
    pub(super) light: f64,
    /// Share of the face that is white.
    pub(super) white: f64,
    /// Share of the face that is red or brown.
    pub(super) brown: f64,
    /// Rust that is brighter than what is around it.
    pub(super) scale: Option<Scale>,
    /// Usual swing of the light in the second and third band together, natural logarithm.
    pub(super) contrast: f64,
    /// Mean swing of the light in each band, natural logarithm, finest first.
    pub(super) swings: [f64; 4],
    /// Share of squares whose slopes all point one way, and the same way.
    pub(super) striped: f64,
}

impl Quality {
    pub(super) fn of(picture: &Picture, seen: &Outlined, texture: &Texture) -> Self {
        let mask = &seen.rim.inner;
        let inside: Vec<usize> = (0..mask.values.len()).filter(|i| mask.values[*i] > 0.0).collect();
        let n = inside.len().max(1) as f64;
        let share = |of: &dyn Fn(usize) -> bool| inside.iter().filter(|i| of(**i)).count() as f64 / n;
        let mean = |k: usize| inside.iter().map(|i| f64::from(texture.swings[k].values[*i])).sum::<f64>() / n;
        let light =
            quantile(inside.iter().step_by(7).map(|i| f64::from(texture.light.values[*i])).collect(), 0.5);
        let swings: [f64; 4] = std::array::from_fn(mean);
        let white = libm::logf(WHITE);
        let brown = BROWN.max(least_red(picture) + REDDER) as f32;
        Self {
            light: libm::exp(light),
            white: share(&|i| texture.light.values[i] > white),
            brown: share(&|i| seen.face.shades[0].values[i] > brown),
            scale: Scale::of(&inside, &texture.light, &seen.face.shades[0]),
            swings,
            contrast: swings[1] + swings[2],
            striped: striped(texture, mask.width, mask.height),
        }
    }

    /// What makes the face unreadable, if anything does.
    pub(super) fn refusal(&self) -> Option<FaceRefusal> {
        let percent = |v: f64| 100.0 * v;
        if self.light < LEAST_LIGHT {
            Some(FaceRefusal::TooDark { light: percent(self.light), needed: percent(LEAST_LIGHT) })
        } else if self.white > MOST_WHITE {
            Some(FaceRefusal::BlownOut { share: percent(self.white), allowed: percent(MOST_WHITE) })
        } else if self.brown > MOST_BROWN {
            Some(FaceRefusal::Oxidised { share: percent(self.brown), allowed: percent(MOST_BROWN) })
        } else if let Some(Scale { spots, times }) = self.scale {
            Some(FaceRefusal::Scaled { share: percent(spots), times })
        } else if self.contrast < BLURRED {
            Some(FaceRefusal::NotSharp { contrast: percent(self.contrast), needed: percent(LEAST_CONTRAST) })
        } else if self.contrast < LEAST_CONTRAST {
            Some(FaceRefusal::FlatLight { contrast: percent(self.contrast), needed: percent(LEAST_CONTRAST) })
        } else if self.striped > MOST_STRIPED {
            Some(FaceRefusal::Tooled { share: percent(self.striped), allowed: percent(MOST_STRIPED) })
        } else {
            None
        }
    }
}

/// Scale with rust on it: rust is darker than bare steel, and brighter than scale.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    /// Share of the face that is rusty.
    spots: f64,
    /// How many times brighter it is there than elsewhere.
    times: f64,
}

impl Scale {
    fn of(inside: &[usize], light: &Plane, red: &Plane) -> Option<Self> {
        let some: Vec<usize> = inside.iter().copied().step_by(7).collect();
        let value = |plane: &Plane, i: &usize| f64::from(plane.values[*i]);
        let reds = |share| quantile(some.iter().map(|i| value(red, i)).collect(), share);
        let least = reds(0.2) + SPOT;
        let (rust, rest): (Vec<usize>, Vec<usize>) = some.iter().partition(|i| value(red, i) > least);
        let middle = |of: &[usize]| quantile(of.iter().map(|i| value(light, i)).collect(), 0.5);
        let spots = rust.len() as f64 / some.len().max(1) as f64;
        let rest = middle(&rest);
        let times = libm::exp(middle(&rust) - rest);
        let plain = reds(0.9) - reds(0.1) >= LEAST_REDS || libm::exp(rest) <= DARK_REST;
        (spots >= LEAST_SPOTS && BRIGHTER.contains(&times) && plain).then_some(Self { spots, times })
    }
}

/// Share of squares striped in the direction of most.
fn striped(texture: &Texture, width: usize, height: usize) -> f64 {
    let [xx, xy, yy] = &texture.slopes;
    let mut squares = Vec::new();
    for top in (0..height.saturating_sub(SQUARE - 1)).step_by(SQUARE) {
        for left in (0..width.saturating_sub(SQUARE - 1)).step_by(SQUARE) {
            let mut sums = [0.0_f64; 3];
            let mut empty = 0;
            for y in top..top + SQUARE {
                for x in left..left + SQUARE {
                    let i = y * width + x;
                    empty += usize::from(xx.values[i] + yy.values[i] == 0.0);
                    for (s, p) in sums.iter_mut().zip([xx, xy, yy]) {
                        *s += f64::from(p.values[i]);
                    }
                }
            }
            let total = sums[0] + sums[2];
            if empty < SQUARE * SQUARE / 4 && total > 0.0 {
                // twice the angle of the main slope, as long as it is clear
                squares.push([(sums[0] - sums[2]) / total, 2.0 * sums[1] / total]);
            }
        }
    }
    let n = squares.len().max(1) as f64;
    let mean = [0, 1].map(|k| squares.iter().map(|s| s[k]).sum::<f64>() / n);
    libm::hypot(mean[0], mean[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A face of which three pixels in ten are rust: linear light of rust and of the rest.
    fn scale(rust: f64, rest: f64, redder: f32) -> Option<Scale> {
        let plane = |rusty: f32, other: f32| Plane {
            width: 700,
            height: 1,
            values: (0..700).map(|i| if i % 10 < 3 { rusty } else { other }).collect(),
        };
        let inside: Vec<usize> = (0..700).collect();
        let light = plane(libm::log(rust) as f32, libm::log(rest) as f32);
        Scale::of(&inside, &light, &plane(0.32 + redder, 0.32))
    }

    /// Scale is darker than rust, bare steel brighter: common practice, no source.
    #[test]
    fn rust_is_brighter_than_scale_and_darker_than_steel() {
        let found = scale(0.15, 0.09, 0.15).unwrap();
        assert!((found.spots - 0.3).abs() < 0.01 && (found.times - 1.67).abs() < 0.01, "{found:?}");
        assert!(scale(0.15, 0.3, 0.15).is_none(), "bare steel");
        assert!(scale(0.3, 0.09, 0.15).is_none(), "a lamp");
        assert!(scale(0.3, 0.2, 0.06).is_none(), "hardly red, and the rest not dark");
        assert!(scale(0.15, 0.09, 0.0).is_none(), "no rust");
    }
}
