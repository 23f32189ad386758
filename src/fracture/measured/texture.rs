use super::blur::inside;
use super::flattened::Flattened;
use crate::photo::Plane;

/// Radii of the boxes, px of the flat picture, between which the picture is split into bands.
const RADII: [usize; 4] = [1, 2, 4, 8];

/// How many numbers tell case from core on one face.
pub(super) const FEATURES: usize = 6;

/// Pointwise measures of texture over the flat picture; 0 off the face.
pub(super) struct Texture {
    /// Logarithm of light.
    pub(super) light: Plane,
    /// How far the light swings in each band, finest first.
    pub(super) swings: [Plane; 4],
    /// Bright swings less dark ones, second band.
    pub(super) tilt: Plane,
    /// Products of the light's slopes in x and y: xx, xy, yy.
    pub(super) slopes: [Plane; 3],
}

impl Texture {
    pub(super) fn of(face: &Flattened, mask: &Plane) -> Self {
        let mut last = face.light.clone();
        let mut tilt = Plane::new(last.width, last.height);
        let mut slopes = [tilt.clone(), tilt.clone(), tilt.clone()];
        let swings = RADII.map(|radius| {
            let smooth = inside(&face.light, mask, radius);
            let mut band = last.clone();
            for ((b, s), m) in band.values.iter_mut().zip(&smooth.values).zip(&mask.values) {
                *b = (*b - s) * m;
            }
            last = smooth;
            match radius {
                1 => slopes = slopes_of(&last, mask),
                2 => tilt = band.clone(),
                _ => {}
            }
            for b in &mut band.values {
                *b = b.abs();
            }
            band
        });
        Self { light: face.light.clone(), swings, tilt, slopes }
    }
}

/// Products of central differences.
fn slopes_of(smooth: &Plane, mask: &Plane) -> [Plane; 3] {
    let (w, h) = (smooth.width, smooth.height);
    let mut out = [(); 3].map(|()| Plane::new(w, h));
    for y in 1..h.saturating_sub(1) {
        for x in 1..w.saturating_sub(1) {
            let i = y * w + x;
            if [i - 1, i + 1, i - w, i + w].iter().any(|j| mask.values[*j] == 0.0) {
                continue;
            }
            let dx = (smooth.values[i + 1] - smooth.values[i - 1]) / 2.0;
            let dy = (smooth.values[i + w] - smooth.values[i - w]) / 2.0;
            out[0].values[i] = dx * dx;
            out[1].values[i] = dx * dy;
            out[2].values[i] = dy * dy;
        }
    }
    out
}
