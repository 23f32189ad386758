use super::patch::{opened, patches};
use super::quadrangle::quadrangle;
use super::shape::{Shape, ellipse, outline};
use crate::photo::Plane;

// All of these are judgements on drawn development faces.

/// Least and most share of the picture that a face fills.
const FILLS: [f64; 2] = [0.004, 0.9];
/// Most of a patch's outline that may lie on the frame.
const ON_FRAME: f64 = 0.4;
/// How well a patch must fit a form to be looked at, 0 to 1.
const LEAST_OVERLAP: f64 = 0.8;
/// By how much masks are opened, places.
const OPENED: [usize; 3] = [0, 2, 4];
/// Patches that share so much of what either covers are one.
const SAME: f64 = 0.8;
/// How much size counts: a large patch is a face rather than a part of one.
const SIZE: f64 = 0.3;

/// A patch that may be the face.
pub(super) struct Candidate {
    /// The form laid over it.
    pub(super) shape: Shape,
    /// How well it fills that form, 0 to 1.
    pub(super) overlap: f64,
}

/// A candidate with the places that it covers, and how much it is like a face.
pub(super) struct Judged {
    pub(super) candidate: Candidate,
    covers: Vec<bool>,
    /// Mean chance of face of its places.
    pub(super) chance: f64,
    like: f64,
}

impl Judged {
    /// From the natural logarithms of the odds of its places.
    fn of(candidate: Candidate, odds: &Plane) -> Self {
        let middle = |i: usize| [i % odds.width, i / odds.width].map(|v| v as f64 + 0.5);
        let covers: Vec<bool> = (0..odds.values.len()).map(|i| candidate.shape.holds(middle(i))).collect();
        let of_face = covers.iter().zip(&odds.values).filter(|(on, _)| **on);
        let sum: f64 = of_face.map(|(_, odds)| 1.0 / (1.0 + libm::exp(-f64::from(*odds)))).sum();
        let count = covers.iter().filter(|on| **on).count() as f64;
        let size = (count / covers.len().max(1) as f64).powf(SIZE);
        let chance = sum / count.max(1.0);
        Self { like: candidate.overlap.powi(2) * chance * size, chance, candidate, covers }
    }

    fn is(&self, other: &Self) -> bool {
        let count = |of: &dyn Fn(bool, bool) -> bool| {
            self.covers.iter().zip(&other.covers).filter(|(a, b)| of(**a, **b)).count() as f64
        };
        count(&|a, b| a && b) >= SAME * count(&|a, b| a || b)
    }
}

/// Every candidate, the one most like a face first; of equal ones only the best.
pub(super) fn judged(odds: &Plane, candidates: Vec<Candidate>) -> Vec<Judged> {
    let mut all: Vec<Judged> = candidates.into_iter().map(|c| Judged::of(c, odds)).collect();
    all.sort_by(|a, b| b.like.total_cmp(&a.like));
    let mut kept: Vec<Judged> = Vec::new();
    for judged in all {
        if !kept.iter().any(|other| other.is(&judged)) {
            kept.push(judged);
        }
    }
    kept
}

/// Looks at every patch of a mask, opened a little and much.
pub(super) fn consider(mask: &Plane, candidates: &mut Vec<Candidate>) {
    let (w, h) = (mask.width as f64, mask.height as f64);
    for radius in OPENED {
        let open = if radius == 0 { mask.clone() } else { opened(mask, radius) };
        for patch in patches(&open, (FILLS[0] * w * h) as usize) {
            if patch.area as f64 > FILLS[1] * w * h || patch.on_frame > ON_FRAME {
                continue;
            }
            let points = outline(&patch.mask);
            let mut shapes = vec![ellipse(&patch.mask)];
            shapes.extend(quadrangle(&points));
            let fits = shapes.into_iter().map(|s| (s.overlap(&patch.mask, patch.area), s));
            let Some((overlap, shape)) = fits.max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
            if overlap >= LEAST_OVERLAP {
                candidates.push(Candidate { shape, overlap });
            }
        }
    }
}
