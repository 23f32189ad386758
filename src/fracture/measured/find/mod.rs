//! What may be the fracture face on a photo: patches that the network takes for one and that fill a rectangle or an
//! ellipse.

mod candidate;
mod patch;
pub(super) mod quadrangle;
pub(super) mod shape;

use super::sight::Sight;
use candidate::{Candidate, Judged, consider, judged};
use patch::thresholded;
use shape::Shape;

/// Natural logarithms of the odds of face against ground at which patches are cut out (judgement).
const ODDS: [f32; 3] = [-3.0, -1.0, 1.0];
/// How many are looked at closely (judgement).
const FEW: usize = 3;

/// Where the face may be.
pub(super) struct Found {
    /// Its form, px of the photo.
    pub(super) shape: Shape,
    /// How well what looks like the face fills that form, 0 to 1.
    pub(super) overlap: f64,
    /// Mean chance that the network gives to face within it, 0 to 1.
    pub(super) chance: f64,
}

/// What may be the face on a photo, the likeliest first: no more than [`FEW`], none if nothing in it has the form of one.
pub(super) fn find(sight: &Sight) -> Vec<Found> {
    let mut candidates = Vec::new();
    for odds in ODDS {
        consider(&thresholded(&sight.face, odds), &mut candidates);
    }
    let found = judged(&sight.face, candidates).into_iter().take(FEW);
    let of = |f: Judged| {
        let Candidate { shape, overlap } = f.candidate;
        Found { shape: shape.times(sight.factor), overlap, chance: f.chance }
    };
    found.map(of).collect()
}
