//! From metres to pixels: perspective, focus, unsteady hands.

use super::physics::Vec3;

/// A pinhole with a lens' blur. World: metres, x right, y up, z to the camera, the contact at the origin.
#[derive(Clone, Debug)]
pub(crate) struct Camera {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// px
    pub(crate) focal: f64,
    /// Camera to the plane of the contact, m.
    pub(crate) distance: f64,
    /// Where the contact lies in the picture, px.
    pub(crate) contact: [f64; 2],
    /// Blur in focus: standard deviation, px.
    pub(crate) sharp: f64,
    /// Blur out of focus, px per relative depth: distance from the plane in focus, over z.
    pub(crate) defocus: f64,
    /// Depth in focus, m from the camera.
    pub(crate) focus: f64,
    /// Tilt of the camera about its axis, rad.
    pub(crate) roll: f64,
    /// Unsteadiness: amplitude px, frequency Hz and phase, for x and y.
    pub(crate) shake: [[f64; 3]; 2],
}

/// Where and how wide a point is drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Seen {
    pub(crate) x: f64,
    pub(crate) y: f64,
    /// Standard deviation of its blur, px.
    pub(crate) sigma: f64,
    /// Light over that of the same point at the contact's distance.
    pub(crate) nearer: f64,
}

/// Nothing is seen nearer to the lens than this, m: it would hit it.
const NEAREST_M: f64 = 0.12;

impl Camera {
    pub(crate) fn px_per_m(&self) -> f64 {
        self.focal / self.distance
    }

    /// Pixel (with fractions, centres at +0.5) of a point at a time; none if it is at the lens.
    pub(crate) fn see(&self, at: Vec3, t: f64) -> Option<Seen> {
        let z = self.distance - at[2];
        if z < NEAREST_M {
            return None;
        }
        let (sin, cos) = self.roll.sin_cos();
        let (x, y) = (at[0] * cos - at[1] * sin, at[0] * sin + at[1] * cos);
        // the picture's centre is the lens' axis: the contact stands aside of it
        let middle = [self.width as f64 / 2.0, self.height as f64 / 2.0];
        let aside = [self.contact[0] - middle[0], middle[1] - self.contact[1]].map(|p| p / self.px_per_m());
        let shake = self.shake.map(|[a, f, p]| a * (std::f64::consts::TAU * f * t + p).sin());
        let coc = self.defocus * (z - self.focus).abs() / z;
        Some(Seen {
            x: middle[0] + self.focal * (x + aside[0]) / z + shake[0],
            y: middle[1] - self.focal * (y + aside[1]) / z + shake[1],
            sigma: (self.sharp * self.sharp + coc * coc).sqrt(),
            nearer: (self.distance / z).powi(2),
        })
    }

    pub(crate) fn inside(&self, x: f64, y: f64) -> bool {
        (0.0..self.width as f64).contains(&x) && (0.0..self.height as f64).contains(&y)
    }
}
