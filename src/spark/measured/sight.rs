use super::ridge::Ridges;
use super::scene::Scene;
use super::stream_photo::Spot;
use crate::net::Planes;

/// Places to a line's width (judgement: a line is drawn by a little more than two pixels).
const PER_LINE: f64 = 2.2;
/// Light of so many standard deviations of noise is where small changes begin to count less, and what it is divided
/// by then: values come out near 1 (judgements).
const BEND: f32 = 4.0;
const TAME: f32 = 3.0;

/// Places that become one where the network looks coarsest.
pub(super) const HALVED: usize = 8;

/// A part of a photo as the network that tells bursts sees it: lines are 2.2 places wide.
#[derive(Debug, Clone, PartialEq)]
pub struct Sight {
    /// Places in each row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Roots of light above the background, row by row.
    pub light: Vec<f32>,
    /// Standard deviation of its noise.
    pub noise: Vec<f32>,
    /// Where the stream comes from, in places from the upper left corner.
    pub contact: Spot,
    /// Side of a place, px of the photo.
    pub pitch: f64,
    /// Upper left corner of the first place, px of the photo: it may lie beyond its edge.
    pub corner: Spot,
}

impl Sight {
    /// What is told of each place: light by its noise, and the direction of the contact, in x and in y.
    pub const TOLD: usize = 3;
    /// Which of these is the direction in x.
    pub(super) const IN_X: usize = 1;
    /// What is answered: log odds that the middle of a burst is there, and the logarithm of its number of rays.
    pub const ANSWERS: usize = 2;
    /// Places each way to one of which is answered.
    pub const STRIDE: usize = 2;

    /// What is told of all places.
    pub fn told(&self) -> Planes {
        let mut told = Planes::new(Self::TOLD, self.width, self.height);
        let (by_noise, toward) = told.values.split_at_mut(self.width * self.height);
        for ((to, light), noise) in by_noise.iter_mut().zip(&self.light).zip(&self.noise) {
            *to = libm::asinhf(light / (BEND * noise)) / TAME;
        }
        let (in_x, in_y) = toward.split_at_mut(self.width * self.height);
        for (i, (x, y)) in in_x.iter_mut().zip(in_y).enumerate() {
            let to = |place: usize, contact: f64| contact - (place as f64 + 0.5);
            let (dx, dy) = (to(i % self.width, self.contact[0]), to(i / self.width, self.contact[1]));
            let far = dx.hypot(dy) + 1.0;
            (*x, *y) = ((dx / far) as f32, (dy / far) as f32);
        }
        told
    }
}

/// A photo cut into places.
pub(super) struct Sights<'a> {
    pub(super) scene: &'a Scene,
    pub(super) ridges: &'a Ridges,
    pub(super) contact: Spot,
}

impl Sights<'_> {
    /// Side of a place, px of the plane.
    pub(super) fn pitch(&self) -> f64 {
        self.scene.line / PER_LINE
    }

    /// Px of the plane each way.
    fn extent(&self) -> [f64; 2] {
        [self.scene.plane.width, self.scene.plane.height].map(|v| v as f64)
    }

    /// Places in a row, and rows: whole [`HALVED`], so that a mirrored photo is cut into the mirrored places.
    pub(super) fn size(&self) -> [usize; 2] {
        self.extent().map(|v| ((v / self.pitch()).ceil().max(1.0) as usize).next_multiple_of(HALVED))
    }

    /// Upper left corner of the first place, px of the plane: the photo lies in the middle of all places.
    pub(super) fn corner(&self) -> Spot {
        let (extent, size) = (self.extent(), self.size());
        [0, 1].map(|k| 0.5 * (extent[k] - size[k] as f64 * self.pitch()))
    }

    /// So many places from these on.
    pub(super) fn part(&self, from: [usize; 2], [width, height]: [usize; 2]) -> Sight {
        let (pitch, corner, extent) = (self.pitch(), self.corner(), self.extent());
        let count = width * height;
        let (mut light, mut noise) = (Vec::with_capacity(count), Vec::with_capacity(count));
        let corner = [0, 1].map(|k| corner[k] + from[k] as f64 * pitch);
        for row in 0..height {
            let y = corner[1] + (row as f64 + 0.5) * pitch;
            for column in 0..width {
                let x = corner[0] + (column as f64 + 0.5) * pitch;
                let inside = (0.0..extent[0]).contains(&x) && (0.0..extent[1]).contains(&y);
                light.push(if inside { self.scene.above(x, y) as f32 } else { 0.0 });
                noise.push(self.ridges.noise([x, y]) as f32);
            }
        }
        let contact = [0, 1].map(|k| (self.contact[k] - corner[k]) / pitch);
        let factor = self.scene.factor as f64;
        let (pitch, corner) = (pitch * factor, corner.map(|v| v * factor));
        Sight { width, height, light, noise, contact, pitch, corner }
    }
}
