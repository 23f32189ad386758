//! The fracture face on its background.
pub mod bands;
pub mod look;
pub mod patch;
pub mod shades;
pub mod shape;

use super::blur::boxed;
use crate::photo::{Picture, Plane};
use bands::Bands;
use look::Look;
use patch::{opened, patches, thresholded};
use shades::Shades;
use shape::{Shape, ellipse, outline, quadrangle};

/// Share of the picture's sides that is taken for background at first (judgement).
const RING: f64 = 0.05;
/// Least and most share of the picture that a face fills (judgement).
const FILLS: [f64; 2] = [0.004, 0.9];

/// Candidates that are judged, at most.
const MOST: usize = 40;
/// How well a patch must fit a form to be looked at.
const LEAST_OVERLAP: f64 = 0.86;

pub struct Found {
    pub look: Look,
    pub shape: Shape,
    pub overlap: f64,
    pub score: f64,
    pub all: Vec<(f64, Candidate)>,
}

/// A patch that may be the face.
pub struct Candidate {
    pub mask: Plane,
    pub shape: Shape,
    pub overlap: f64,
    on_frame: f64,
    off: f64,
    size: f64,
    pub why: [f64; 6],
}

pub fn find(picture: &Picture) -> Option<Found> {
    let look = Look::of(picture);
    let (w, h) = (look.width, look.height);
    let n = w * h;
    let ring = (RING * w.min(h) as f64).ceil() as usize;
    let on_ring = |i: usize| {
        let (x, y) = (i % w, i / w);
        x < ring || y < ring || x + ring >= w || y + ring >= h
    };
    let ground: Vec<usize> = (0..n).filter(|i| on_ring(*i)).collect();
    let back = Shades::of(&look, &ground, 6)?.with_shadows();
    let mut strange = Plane::new(w, h);
    for i in 0..n {
        strange.values[i] = -(back.log_density(&look.features(i)) as f32);
    }
    let mut candidates = Vec::new();
    let smooth = boxed(&strange, 1);
    for share in [0.5, 0.6, 0.7, 0.78, 0.85, 0.9, 0.94, 0.97] {
        consider(&thresholded(&smooth, level(&smooth, share)), &mut candidates);
    }
    let texture = boxed(&look.planes[3], 1);
    for share in [0.5, 0.6, 0.7, 0.78, 0.85, 0.9, 0.94, 0.97] {
        consider(&thresholded(&texture, level(&texture, share)), &mut candidates);
    }
    // strangeness from none to all: what most of the ring has is none
    let (low, high) = (level_of(&strange, &ground, 0.8), level_of(&strange, &ground, 0.8) + 6.0);
    let mut odd = strange.clone();
    for v in &mut odd.values {
        *v = ((*v - low) / (high - low)).clamp(0.0, 1.0);
    }
    // then what is like the best patches and unlike the rest
    for _ in 0..2 {
        let mut judged = judged(&look, &odd, candidates);
        judged.truncate(4);
        candidates = judged.into_iter().map(|(_, c)| c).collect();
        for k in 0..candidates.len() {
            refine(&look, k, &mut candidates);
        }
    }
    let mut judged = judged(&look, &odd, candidates);
    judged.truncate(MOST);
    let (score, best) = judged.first()?;
    Some(Found { shape: best.shape, overlap: best.overlap, score: *score, look, all: judged })
}

fn level(plane: &Plane, share: f64) -> f32 {
    let mut values = plane.values.clone();
    let at = ((values.len() - 1) as f64 * share) as usize;
    *values.select_nth_unstable_by(at, f32::total_cmp).1
}

fn level_of(plane: &Plane, members: &[usize], share: f64) -> f32 {
    let mut values: Vec<f32> = members.iter().map(|i| plane.values[*i]).collect();
    let at = ((values.len() - 1) as f64 * share) as usize;
    *values.select_nth_unstable_by(at, f32::total_cmp).1
}

/// More candidates from one: what looks like it against what does not.
fn refine(look: &Look, k: usize, candidates: &mut Vec<Candidate>) {
    let n = look.width * look.height;
    let shape = candidates[k].shape;
    let mask = &candidates[k].mask;
    let face: Vec<usize> = (0..n).filter(|i| mask.values[*i] != 0.0 && shape.holds(at(look, *i))).collect();
    let near = boxed(mask, 3);
    let ground: Vec<usize> = (0..n).filter(|i| near.values[*i] == 0.0).collect();
    let (Some(front), Some(back)) = (Shades::of(look, &face, 4), Shades::of(look, &ground, 8)) else {
        return;
    };
    let back = back.with_shadows();
    let mut odds = Plane::new(look.width, look.height);
    for i in 0..n {
        let f = look.features(i);
        odds.values[i] = (front.log_density(&f) - back.log_density(&f)).clamp(-6.0, 6.0) as f32;
    }
    let smooth = boxed(&boxed(&odds, 1), 1);
    for at in [-1.5, 0.0, 1.5] {
        consider(&thresholded(&smooth, at), candidates);
    }
}

fn at(look: &Look, i: usize) -> [f64; 2] {
    [(i % look.width) as f64 + 0.5, (i / look.width) as f64 + 0.5]
}

/// Every candidate with how much it looks like a face, best first; of equal ones only the best.
fn judged(look: &Look, odd: &Plane, candidates: Vec<Candidate>) -> Vec<(f64, Candidate)> {
    let mut all: Vec<(f64, Candidate)> =
        candidates.into_iter().map(|mut c| (judge(look, odd, &mut c), c)).collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut kept: Vec<(f64, Candidate)> = Vec::new();
    for (score, candidate) in all {
        let same = |(_, other): &(f64, Candidate)| {
            let far = |a: [f64; 2], b: [f64; 2]| libm::hypot(a[0] - b[0], a[1] - b[1]);
            other.shape.far(&candidate.shape, far) < 0.03 * other.shape.extent()
        };
        if !kept.iter().any(same) {
            kept.push((score, candidate));
        }
    }
    kept
}

/// How much a candidate looks like a fracture face with something else around it.
fn judge(look: &Look, odd: &Plane, c: &mut Candidate) -> f64 {
    let texture = &look.planes[3];
    let inner = bands::middle(texture, look, &c.shape, true);
    let floor = bands::middle(texture, look, &c.shape, false);
    let weight = (inner - floor).clamp(0.0, 1.0);
    let range = (inner - floor).max(0.3);
    let rough = Bands::of(texture, &c.shape);
    let odd = Bands::of(odd, &c.shape);
    let like = |t: f64, o: f64| weight * ((t - floor) / range).clamp(0.0, 1.0) + (1.0 - weight) * o;
    let inside: Vec<f64> = rough.inside.iter().zip(&odd.inside).map(|(t, o)| like(*t, *o)).collect();
    let mut outside: Vec<f64> = rough
        .outside
        .iter()
        .zip(&odd.outside)
        .map(|(t, o)| if t.is_nan() { 1.0 } else { like(*t, *o).max(*o) })
        .collect();
    let least = inside.iter().copied().fold(f64::INFINITY, f64::min);
    outside.sort_by(f64::total_cmp);
    let open = outside[(outside.len() - 1) * 2 / 5];
    c.why = [least, open, weight, c.overlap, c.size, c.off];
    c.overlap.powi(4)
        * (1.0 + least - open)
        * (1.0 - c.on_frame).powi(2)
        * c.size.powf(0.15)
        * (1.0 - 0.5 * c.off)
}

/// Looks at every patch of a mask, opened a little and much.
fn consider(mask: &Plane, candidates: &mut Vec<Candidate>) {
    let (w, h) = (mask.width as f64, mask.height as f64);
    for radius in [0, 2, 5] {
        let open = if radius == 0 { mask.clone() } else { opened(mask, radius) };
        for patch in patches(&open, (FILLS[0] * w * h) as usize) {
            if patch.area as f64 > FILLS[1] * w * h || patch.on_frame > 0.3 {
                continue;
            }
            let points = outline(&patch.mask);
            let mut shapes = vec![ellipse(&patch.mask)];
            shapes.extend(quadrangle(&points));
            let fits = shapes.into_iter().map(|s| (s.overlap(&patch.mask), s));
            let Some((overlap, shape)) = fits.max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
            if overlap < LEAST_OVERLAP {
                continue;
            }
            let off = libm::hypot((patch.centre[0] - w / 2.0) / w, (patch.centre[1] - h / 2.0) / h);
            let size = (patch.area as f64 / (w * h)).sqrt();
            candidates.push(Candidate {
                mask: patch.mask,
                shape,
                overlap,
                on_frame: patch.on_frame,
                off,
                size,
                why: [0.0; 6],
            });
        }
    }
}
