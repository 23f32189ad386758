use super::tiles::{Tiles, quantile};
use crate::photo::Plane;
use crate::photo::{Picture, Shrink};

/// Added to linear light before its root is taken: read noise and the dark steps of 8 bit pictures come
/// out as small as the noise of brighter light (judgement; about three steps of an 8 bit picture).
const DARK: f32 = 0.001;
/// How much of red, green and blue makes the light of a spark: it is yellow to red, what stands behind
/// may be blue (judgement).
const MIX: [f32; 3] = [0.5, 0.4, 0.1];
/// Side of the squares in which the background is measured, px of the plane.
const GROUND_TILE: usize = 48;
/// Share of a square's pixels that is darker than what counts as its background (judgement: sparks fill less than most
/// of it), and share of the squares around that have a darker one: a dense stream is no background.
const GROUND: f64 = 0.3;
const GROUND_AROUND: f64 = 0.15;
/// Rows read at a time.
const BAND: usize = 64;

/// A picture as it is read: square roots of the sparks' linear light, in which noise is alike everywhere.
pub(super) struct Scene {
    /// √(light + [`DARK`]).
    pub(super) plane: Plane,
    /// Its background.
    pub(super) ground: Tiles,
    /// Pixels of the picture to one of the plane.
    pub(super) factor: usize,
    /// Full width at half its brightness of a usual line, px of the plane.
    pub(super) line: f64,
}

impl Scene {
    /// Reads a picture at one pixel for `factor`², with lines `line` px of the plane wide.
    pub(super) fn of(picture: &Picture, factor: usize, line: f64) -> Self {
        let linear = picture.linear(Shrink::by(factor).unwrap_or(Shrink::NONE));
        let (width, height) = (linear.width(), linear.height());
        let mut plane = Plane::new(width, height);
        for (band, values) in plane.values.chunks_mut(BAND * width.max(1)).enumerate() {
            let rows = band * BAND..((band + 1) * BAND).min(height);
            let [red, green, blue] = linear.rgb(rows);
            for (((value, r), g), b) in values.iter_mut().zip(red).zip(green).zip(blue) {
                *value = (MIX[0] * r + MIX[1] * g + MIX[2] * b + DARK).sqrt();
            }
        }
        let ground = Tiles::of(&plane, GROUND_TILE, |seen| quantile(seen, GROUND))
            .around(|near| quantile(near, GROUND_AROUND));
        Self { plane, ground, factor, line }
    }

    /// Root of the light above that of the background.
    pub(super) fn above(&self, x: f64, y: f64) -> f64 {
        self.plane.at(x, y) - self.ground.at(x, y)
    }

    /// Linear light of the background at a place of the plane.
    pub(super) fn ground_light(&self, x: f64, y: f64) -> f64 {
        linear(self.ground.at(x, y))
    }
}

/// Back from the root.
pub(super) fn linear(root: f64) -> f64 {
    root * root - f64::from(DARK)
}
