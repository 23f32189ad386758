//! The fracture face on its background.
//!
//! A small picture of light, two shades and fine texture; what is strange against the frame, and what is rough, is cut
//! out at several levels; each patch that fills a rectangle or an ellipse is a candidate. The best are looked for again
//! by what they look like, and the one that most looks like a face wins. Walls seen at a slant may still be on it.

mod bands;
mod candidate;
pub(super) mod look;
mod patch;
pub(super) mod quadrangle;
pub(super) mod shades;
pub(super) mod shape;

use super::blur::boxed;
use crate::photo::{Picture, Plane};
use candidate::{Candidate, consider, judged};
use look::Look;
use patch::thresholded;
use shades::Shades;
use shape::Shape;

/// Share of the picture's sides that is taken for background at first (judgement).
const RING: f64 = 0.05;
/// Shares of the small picture that are left out, one after the other, when patches are cut out (judgement).
const LEVELS: [f64; 8] = [0.5, 0.6, 0.7, 0.78, 0.85, 0.9, 0.94, 0.97];
/// What most of the frame is like is usual; so much less likely than that, natural logarithm, is wholly strange.
const USUAL: f64 = 0.8;
const STRANGE: f32 = 6.0;
/// How often the best candidates are looked for anew, how many, and at what odds of face against ground.
const ROUNDS: usize = 2;
const BEST: usize = 4;
/// How many are looked at closely (judgement).
const FEW: usize = 4;
const ODDS: [f32; 3] = [-1.5, 0.0, 1.5];
/// How much a place may say for face or ground, natural logarithm.
const MOST: f64 = 6.0;
/// Usual looks of the frame, of a face and of all around it.
const LOOKS: [usize; 3] = [6, 4, 8];

/// Where the face may be.
pub(super) struct Found {
    /// Its form, px of the photo.
    pub(super) shape: Shape,
    /// How well what looks like the face fills that form, 0 to 1.
    pub(super) overlap: f64,
}

/// What may be the face on a photo, the likeliest first: no more than [`FEW`], none if nothing in it has the form of one.
pub(super) fn find(picture: &Picture) -> Vec<Found> {
    let look = Look::of(picture);
    let ground = frame(&look);
    let Some(back) = Shades::of(&look, &ground, LOOKS[0]) else { return Vec::new() };
    let back = back.with_shadows();
    let mut strange = Plane::new(look.width, look.height);
    for (i, v) in strange.values.iter_mut().enumerate() {
        *v = -(back.log_density(&look.features(i)) as f32);
    }
    let mut candidates = Vec::new();
    for plane in [boxed(&strange, 1), boxed(&look.planes[3], 1)] {
        for share in LEVELS {
            consider(&thresholded(&plane, level(plane.values.clone(), share)), &mut candidates);
        }
    }
    let usual = level(ground.iter().map(|i| strange.values[*i]).collect(), USUAL);
    for v in &mut strange.values {
        *v = ((*v - usual) / STRANGE).clamp(0.0, 1.0);
    }
    let best = |candidates: Vec<Candidate>, count: usize| -> Vec<Candidate> {
        judged(&look, &strange, candidates).into_iter().take(count).map(|(_, c)| c).collect()
    };
    for _ in 0..ROUNDS {
        candidates = best(candidates, BEST);
        for k in 0..candidates.len() {
            look_again(&look, k, &mut candidates);
        }
    }
    let found = best(candidates, FEW).into_iter();
    found.map(|f| Found { shape: f.shape.times(look.factor), overlap: f.overlap }).collect()
}

/// The outermost pixels of the small picture.
fn frame(look: &Look) -> Vec<usize> {
    let (w, h) = (look.width, look.height);
    let ring = (RING * w.min(h) as f64).ceil() as usize;
    let on = |i: &usize| {
        let (x, y) = (i % w, i / w);
        x < ring || y < ring || x + ring >= w || y + ring >= h
    };
    (0..w * h).filter(on).collect()
}

/// The value with `share` of the others below it.
fn level(mut values: Vec<f32>, share: f64) -> f32 {
    let at = (values.len().saturating_sub(1) as f64 * share) as usize;
    if values.is_empty() { 0.0 } else { *values.select_nth_unstable_by(at, f32::total_cmp).1 }
}

/// More candidates from one: what looks like it against what does not.
fn look_again(look: &Look, k: usize, candidates: &mut Vec<Candidate>) {
    let all = 0..look.width * look.height;
    let Candidate { shape, mask, .. } = &candidates[k];
    let at = |i: usize| [(i % look.width) as f64 + 0.5, (i / look.width) as f64 + 0.5];
    let face: Vec<usize> = all.clone().filter(|i| mask.values[*i] != 0.0 && shape.holds(at(*i))).collect();
    let near = boxed(mask, 3);
    let ground: Vec<usize> = all.filter(|i| near.values[*i] == 0.0).collect();
    let (Some(front), Some(back)) = (Shades::of(look, &face, LOOKS[1]), Shades::of(look, &ground, LOOKS[2]))
    else {
        return;
    };
    let back = back.with_shadows();
    let mut odds = Plane::new(look.width, look.height);
    for (i, v) in odds.values.iter_mut().enumerate() {
        let f = look.features(i);
        *v = (front.log_density(&f) - back.log_density(&f)).clamp(-MOST, MOST) as f32;
    }
    let smooth = boxed(&boxed(&odds, 1), 1);
    for at in ODDS {
        consider(&thresholded(&smooth, at), candidates);
    }
}
