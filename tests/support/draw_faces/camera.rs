//! From millimetres on the face to pixels, and back.

use super::section::Mm;

pub(crate) type Matrix = [[f64; 3]; 3];

/// A pinhole before the face. The face lies in the plane of `beyond = 0`; what is farther from the camera has a
/// positive `beyond`, mm.
#[derive(Clone, Debug)]
pub(crate) struct Camera {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// px
    focal: f64,
    /// Pixel of the lens' axis.
    middle: [f64; 2],
    rotation: Matrix,
    /// Camera to the middle of the face, mm.
    shift: [f64; 3],
    to_px: Matrix,
    to_mm: Matrix,
}

/// How a camera stands.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pose {
    /// Turn of the picture, rad.
    pub(crate) roll: f64,
    /// Tilt, rad, and the direction of its axis in the face, rad.
    pub(crate) tilt: (f64, f64),
    /// To the middle of the face, mm.
    pub(crate) distance: f64,
    /// At the middle of the face, along the tilt's axis.
    pub(crate) px_per_mm: f64,
    /// Pixel of the middle of the face.
    pub(crate) at: [f64; 2],
}

impl Camera {
    pub(crate) fn new(width: usize, height: usize, pose: Pose) -> Self {
        let ((st, ct), (sa, ca)) = (pose.tilt.0.sin_cos(), pose.tilt.1.sin_cos());
        // about an axis in the plane of the face (Rodrigues)
        let tilt = [
            [ct + ca * ca * (1.0 - ct), ca * sa * (1.0 - ct), sa * st],
            [ca * sa * (1.0 - ct), ct + sa * sa * (1.0 - ct), -ca * st],
            [-sa * st, ca * st, ct],
        ];
        let (sr, cr) = pose.roll.sin_cos();
        let rotation = product(&[[cr, -sr, 0.0], [sr, cr, 0.0], [0.0, 0.0, 1.0]], &tilt);
        let focal = pose.px_per_mm * pose.distance;
        let middle = [width as f64 / 2.0, height as f64 / 2.0];
        let shift = [
            (pose.at[0] - middle[0]) / pose.px_per_mm,
            (pose.at[1] - middle[1]) / pose.px_per_mm,
            pose.distance,
        ];
        let lens = [[focal, 0.0, middle[0]], [0.0, focal, middle[1]], [0.0, 0.0, 1.0]];
        let place: Matrix = std::array::from_fn(|i| [rotation[i][0], rotation[i][1], shift[i]]);
        let mut to_px = product(&lens, &place);
        let last = to_px[2][2];
        for v in to_px.iter_mut().flatten() {
            *v /= last;
        }
        let to_mm = inverse(&to_px);
        Self { width, height, focal, middle, rotation, shift, to_px, to_mm }
    }

    /// From mm on the face to px, row by row, the last number 1.
    pub(crate) fn homography(&self) -> Matrix {
        self.to_px
    }

    pub(crate) fn px(&self, p: Mm) -> [f64; 2] {
        apply(&self.to_px, p)
    }

    pub(crate) fn mm(&self, px: [f64; 2]) -> Mm {
        apply(&self.to_mm, px)
    }

    /// Pixel of a point beyond the face.
    pub(crate) fn px_beyond(&self, p: Mm, beyond: f64) -> [f64; 2] {
        let at: [f64; 3] = std::array::from_fn(|i| {
            let r = self.rotation[i];
            r[0] * p[0] + r[1] * p[1] + r[2] * beyond + self.shift[i]
        });
        [0, 1].map(|k| self.middle[k] + self.focal * at[k] / at[2])
    }

    /// Where the ray through a point of the face's plane goes: mm aside for each mm beyond.
    pub(crate) fn drift(&self, p: Mm) -> Mm {
        let eye = self.eye();
        [(p[0] - eye[0]) / -eye[2], (p[1] - eye[1]) / -eye[2]]
    }

    /// The camera in the face's own axes: x, y, beyond.
    fn eye(&self) -> [f64; 3] {
        std::array::from_fn(|k| -(0..3).map(|i| self.rotation[i][k] * self.shift[i]).sum::<f64>())
    }

    /// From the middle of the face to the camera, of length 1; the last number is towards the camera.
    pub(crate) fn view(&self) -> [f32; 3] {
        let [x, y, beyond] = self.eye();
        let long = (x * x + y * y + beyond * beyond).sqrt();
        [x / long, y / long, -beyond / long].map(|v| v as f32)
    }

    /// Root of the area of one mm2 there, px/mm.
    pub(crate) fn scale(&self, p: Mm) -> f64 {
        let step = 1e-3;
        let (a, b, c) = (self.px(p), self.px([p[0] + step, p[1]]), self.px([p[0], p[1] + step]));
        let area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        area.abs().sqrt() / step
    }
}

fn apply(m: &Matrix, p: [f64; 2]) -> [f64; 2] {
    let [x, y, w] = std::array::from_fn(|i| m[i][0] * p[0] + m[i][1] * p[1] + m[i][2]);
    [x / w, y / w]
}

fn product(a: &Matrix, b: &Matrix) -> Matrix {
    std::array::from_fn(|i| std::array::from_fn(|j| (0..3).map(|k| a[i][k] * b[k][j]).sum()))
}

/// By cofactors.
fn inverse(m: &Matrix) -> Matrix {
    let minor = |i: usize, j: usize| {
        let (r, s) = ((i + 1) % 3, (i + 2) % 3);
        let (c, d) = ((j + 1) % 3, (j + 2) % 3);
        m[r][c] * m[s][d] - m[r][d] * m[s][c]
    };
    let whole: f64 = (0..3).map(|j| m[0][j] * minor(0, j)).sum();
    std::array::from_fn(|i| std::array::from_fn(|j| minor(j, i) / whole))
}
