//! How large the facets of a mosaic are whose tones have nothing to do with each other.
//!
//! Two points of it differ as soon as they lie on two facets, so that the variogram of its light rises by the chance of
//! that: to half its height at 0.44 of the mean diameter. Facets about points strewn at random (Gilbert, Random
//! Subdivisions of Space into Crystals, Annals of Mathematical Statistics 33, 1962) stand for grown grains.

use super::variogram::Variogram;

/// The chance that two points lie on one facet, by their distance over the mean diameter, as a sum of bells: share of
/// each and its width. Fitted to Gilbert's integral within 0.006; a sum of bells stays one when blurred.
pub(super) const BELLS: [[f64; 2]; 4] =
    [[0.0417, 0.0183], [0.1006, 0.0830], [0.2234, 0.2395], [0.6343, 0.5464]];
/// Diameters that are tried, px: the first, and each to the one before.
const FIRST: f64 = 1.0;
const STEP: f64 = 1.06;
const TRIED: usize = 77;
/// Blurs that are tried, px, one standard deviation: from the pixel's own to a photo that is just not refused.
const BLURS: [f64; 10] = [0.4, 0.6, 0.8, 1.0, 1.25, 1.5, 1.8, 2.2, 2.7, 3.3];
/// Farthest pairs that are looked at: so many diameters and blurs; beyond, light changes for other reasons (judgement).
const REACH: [f64; 2] = [3.0, 4.0];
/// Least reach, px, least number of distances, and rounds in which reach and diameter settle.
const LEAST_REACH: f64 = 6.0;
const LEAST: usize = 5;
const ROUNDS: usize = 3;

/// The mosaic that a variogram fits best.
#[derive(Debug, Clone, Copy)]
pub(super) struct Mosaic {
    /// Mean diameter of a facet, the root of its mean area, px.
    pub(super) diameter: f64,
    /// Blur, px, one standard deviation.
    pub(super) blur: f64,
    /// Variance of the facets' tone, natural logarithm of light.
    pub(super) contrast: f64,
    /// What the fit leaves over: root of the sum of squares, of the share that each distance is off by.
    pub(super) off: f64,
}

impl Mosaic {
    /// `None`: too few distances for a fit.
    pub(super) fn of(seen: &Variogram) -> Option<Self> {
        let mut best: Option<Self> = None;
        for _ in 0..ROUNDS {
            let reach = best.map_or(f64::INFINITY, |b| REACH[0] * b.diameter + REACH[1] * b.blur);
            let near = seen.within(reach.max(LEAST_REACH));
            let farthest = near.last().map_or(0.0, |p| p.distance);
            if near.len() < LEAST {
                break;
            }
            let diameters = (0..TRIED).map(|k| FIRST * libm::pow(STEP, k as f64));
            let fits = diameters
                .take_while(|d| *d <= 0.8 * farthest)
                .flat_map(|d| BLURS.map(|blur| (d, blur)))
                .filter_map(|(diameter, blur)| {
                    let rise: Vec<f64> = near.iter().map(|p| rise(p.distance, diameter, blur)).collect();
                    let [contrast, off] = fitted(&rise, near)?;
                    Some(Self { diameter, blur, contrast, off })
                });
            best = fits.min_by(|a, b| a.off.total_cmp(&b.off)).or(best);
        }
        best
    }
}

/// Variogram of a blurred mosaic of contrast 1.
fn rise(distance: f64, diameter: f64, blur: f64) -> f64 {
    BELLS
        .iter()
        .map(|[share, width]| {
            let sharp = (width * diameter) * (width * diameter);
            let wide = sharp + 2.0 * blur * blur;
            share * sharp / wide * (1.0 - libm::exp(-distance * distance / (2.0 * wide)))
        })
        .sum()
}

/// Contrast of the mosaic with noise below it, neither less than 0, and what is left over; shares of what is seen,
/// weighed by how many pairs there are.
fn fitted(rise: &[f64], near: &[super::variogram::Pairs]) -> Option<[f64; 2]> {
    let (mut aa, mut ab, mut bb, mut ay, mut by, mut yy) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    for (rise, pairs) in rise.iter().zip(near) {
        let (a, b) = (rise / pairs.half_square, 1.0 / pairs.half_square);
        let w = pairs.weight;
        aa += w * a * a;
        ab += w * a * b;
        bb += w * b * b;
        ay += w * a;
        by += w * b;
        yy += w;
    }
    let det = aa * bb - ab * ab;
    let noise = (aa * by - ab * ay) / det;
    let (contrast, noise) = if noise > 0.0 { ((bb * ay - ab * by) / det, noise) } else { (ay / aa, 0.0) };
    let off = yy - contrast * ay - noise * by;
    (contrast > 0.0 && off.is_finite()).then(|| [contrast, off.max(0.0).sqrt()])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::Plane;
    use rand_pcg::Pcg64Mcg;
    use rand_pcg::rand_core::{Rng, SeedableRng};

    const SIZE: usize = 300;

    fn unit(dice: &mut Pcg64Mcg) -> f64 {
        f64::from(dice.next_u32()) / f64::from(u32::MAX)
    }

    /// Facets of a mean diameter about points strewn at random, and noise.
    fn drawn(diameter: f64, noise: f64, seed: u64) -> Plane {
        let mut dice = Pcg64Mcg::seed_from_u64(seed);
        let size = SIZE as f64;
        let points: Vec<[f64; 3]> = (0..(size * size / (diameter * diameter)) as usize)
            .map(|_| [unit(&mut dice) * size, unit(&mut dice) * size, unit(&mut dice)])
            .collect();
        let mut plane = Plane::new(SIZE, SIZE);
        for (i, value) in plane.values.iter_mut().enumerate() {
            let (x, y) = ((i % SIZE) as f64, (i / SIZE) as f64);
            let far = |p: &&[f64; 3]| (p[0] - x) * (p[0] - x) + (p[1] - y) * (p[1] - y);
            let nearest = points.iter().min_by(|a, b| far(a).total_cmp(&far(b))).unwrap();
            *value = (nearest[2] + noise * (unit(&mut dice) - 0.5)) as f32;
        }
        plane
    }

    fn found(plane: &Plane) -> Mosaic {
        Mosaic::of(&Variogram::of(plane, &vec![true; plane.values.len()])).unwrap()
    }

    /// Their number is known; bounds written before the first run.
    #[test]
    fn facets_strewn_at_random_are_found_again() {
        for (diameter, noise, seed) in [(6.0, 0.0, 1), (10.0, 0.0, 2), (10.0, 0.3, 3), (18.0, 0.3, 4)] {
            let mosaic = found(&drawn(diameter, noise, seed));
            let off = mosaic.diameter / diameter - 1.0;
            assert!(off.abs() < 0.12, "{diameter} px, noise {noise}: {mosaic:?}");
            // tones spread evenly over 0 to 1
            assert!((mosaic.contrast * 12.0 - 1.0).abs() < 0.2, "{mosaic:?}");
            assert!(mosaic.off < 0.1, "{mosaic:?}");
        }
    }

    #[test]
    fn blur_is_told_from_size() {
        let sharp = drawn(12.0, 0.0, 5);
        let all = Plane { values: vec![1.0; SIZE * SIZE], ..sharp.clone() };
        let once = super::super::blur::inside(&sharp, &all, 1);
        let mosaic = found(&super::super::blur::inside(&once, &all, 1));
        assert!((mosaic.diameter / 12.0 - 1.0).abs() < 0.15, "{mosaic:?}");
        // each smooths by two boxes of 3 px, whose variance is 2/3 px2: 1.63 px in all; blurs are tried in steps
        assert!((mosaic.blur - 1.63).abs() < 0.2, "{mosaic:?}");
    }

    #[test]
    fn light_that_only_changes_slowly_is_no_mosaic() {
        let mut ramp = Plane::new(SIZE, SIZE);
        for (i, value) in ramp.values.iter_mut().enumerate() {
            *value = (i % SIZE) as f32 / 100.0;
        }
        assert!(found(&ramp).off > 0.1);
        let seen = Variogram::of(&Plane::new(SIZE, SIZE), &vec![true; SIZE * SIZE]);
        assert!(Mosaic::of(&seen).is_none());
    }

    /// Area that two discs cover, their middles `apart`.
    fn covered(a: f64, b: f64, apart: f64) -> f64 {
        let pi = std::f64::consts::PI;
        if apart <= (a - b).abs() {
            return pi * a.max(b) * a.max(b);
        }
        let part = |r: f64, other: f64| {
            let half = ((apart * apart + r * r - other * other) / (2.0 * apart * r)).clamp(-1.0, 1.0).acos();
            r * r * (half - half.sin() * half.cos())
        };
        pi * (a * a + b * b) - if apart < a + b { part(a, b) + part(b, a) } else { 0.0 }
    }

    /// Gilbert 1962: both points belong to a third one if no other lies in the discs about them that reach it.
    #[test]
    fn bells_are_gilberts_integral() {
        let step = 0.02;
        for apart in [0.1, 0.2, 0.4, 0.7, 1.0, 1.5] {
            let mut chance = 0.0;
            for i in -150..150 {
                for j in -150..150 {
                    let (x, y) = ((f64::from(i) + 0.5) * step, (f64::from(j) + 0.5) * step);
                    chance += libm::exp(-covered(x.hypot(y), (x - apart).hypot(y), apart)) * step * step;
                }
            }
            let bells = 1.0 - rise(apart, 1.0, 0.0);
            assert!((bells - chance).abs() < 0.01, "{apart}: {bells} against {chance}");
        }
    }
}
