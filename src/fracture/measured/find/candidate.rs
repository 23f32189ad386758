use super::bands::{Bands, middle};
use super::look::Look;
use super::patch::{opened, patches};
use super::quadrangle::quadrangle;
use super::shape::{Shape, ellipse, outline};
use crate::photo::Plane;

// All of these are judgements on drawn development faces.

/// Least and most share of the picture that a face fills.
const FILLS: [f64; 2] = [0.004, 0.9];
/// Most of a patch's outline that may lie on the frame.
const ON_FRAME: f64 = 0.3;
/// How well a patch must fit a form to be looked at, 0 to 1.
const LEAST_OVERLAP: f64 = 0.86;
/// By how much masks are opened, px of the small picture.
const OPENED: [usize; 3] = [0, 2, 5];
/// Texture inside must stand out of that around by this much, natural logarithm, to speak for itself.
const TELLS: f64 = 1.0;
const TELLS_CUT: f64 = 0.3;
/// Outlines closer than this share of the smaller extent are one.
const SAME: f64 = 0.03;

/// A patch that may be the face.
pub(super) struct Candidate {
    /// What was found, 1 on it.
    pub(super) mask: Plane,
    /// The form laid over it.
    pub(super) shape: Shape,
    /// How well it fills that form, 0 to 1.
    pub(super) overlap: f64,
    /// Share of its outline on the frame.
    on_frame: f64,
    /// From the middle of the picture, share of its extents.
    off: f64,
}

impl Candidate {
    /// How much it looks like a fracture face with something else around it: rough or strange just inside every side,
    /// smooth and usual just outside most. `odd` is how strange each place is against the frame, 0 to 1.
    fn judge(&self, look: &Look, odd: &Plane) -> f64 {
        let texture = &look.planes[3];
        let inner = middle(texture, look, &self.shape, true);
        let floor = middle(texture, look, &self.shape, false);
        let weight = ((inner - floor) / TELLS).clamp(0.0, 1.0);
        let range = (inner - floor).max(TELLS_CUT);
        let rough = Bands::of(texture, &self.shape);
        let odd = Bands::of(odd, &self.shape);
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
        let size = (self.shape.area() / (look.width * look.height) as f64).sqrt();
        self.overlap.powi(4)
            * (1.0 + least - open)
            * (1.0 - self.on_frame).powi(2)
            * size.powf(0.15)
            * (1.0 - 0.5 * self.off)
    }
}

/// Every candidate with how much it looks like a face, best first; of equal ones only the best.
pub(super) fn judged(look: &Look, odd: &Plane, candidates: Vec<Candidate>) -> Vec<(f64, Candidate)> {
    let mut all: Vec<(f64, Candidate)> = candidates.into_iter().map(|c| (c.judge(look, odd), c)).collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut kept: Vec<(f64, Candidate)> = Vec::new();
    for (score, candidate) in all {
        let same = |(_, other): &(f64, Candidate)| {
            let far = |a: [f64; 2], b: [f64; 2]| libm::hypot(a[0] - b[0], a[1] - b[1]);
            other.shape.far(&candidate.shape, far) < SAME * other.shape.extent()
        };
        if !kept.iter().any(same) {
            kept.push((score, candidate));
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
            if overlap < LEAST_OVERLAP {
                continue;
            }
            let off = libm::hypot((patch.centre[0] - w / 2.0) / w, (patch.centre[1] - h / 2.0) / h);
            candidates.push(Candidate { mask: patch.mask, shape, overlap, on_frame: patch.on_frame, off });
        }
    }
}
