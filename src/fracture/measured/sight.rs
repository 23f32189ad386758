//! What the network is shown of a photo, or of a face laid flat, and what it says of each place.

use super::blur::boxed;
use super::flattened::Flattened;
use crate::net::{Planes, UNet};
use crate::photo::{Picture, Plane, Shrink};

/// What is shown of a place: light, two shades, swings of the light in a fine and in a coarser band.
pub(super) const SHOWN: usize = 5;
/// What is said of it: beside the face, core, case, neither (a lip, the wall of a nick).
pub(super) const SAID: usize = 4;

// What is shown must be as it was when the network was fitted: training-data/face_views.py and face_net.py have the same
// numbers, but for a face laid flat: its light is luminance over a floor of 0.001 here, the mean of the colours over 0.004
// there. On grey steel that differs in deep shadows alone; looks that the network was fitted to differ by more.

/// Longest side at which swings of a photo are taken, px, nearly.
const FINE: usize = 1600;
/// Longest side of what is shown, places, nearly.
const LONGEST: f64 = 235.0;
/// Added to linear light before its logarithm is taken.
const DARK: f32 = 0.004;
/// Added to swings before their logarithm is taken.
const STILL: f32 = 0.004;
/// Least spread of the light that it is divided by, natural logarithm.
const LEAST_SPREAD: f32 = 0.15;
/// A picture whose light spreads less shows nothing, whatever is said of it (judgement: a step of an 8 bit picture).
const EVEN: f32 = 0.01;
/// What shades are multiplied by, to be as large as the rest.
const SHADES: f32 = 12.0;
/// The most that is believed of what is said of a place, natural logarithm of the odds (judgement).
const MOST: f32 = 8.0;

/// What the network says, as natural logarithms of odds.
pub(super) struct Sight {
    /// Pixels of what was looked at to one place.
    pub(super) factor: f64,
    /// On the face and not beside it.
    pub(super) face: Plane,
    /// Case and not core.
    pub(super) case: Plane,
    /// Neither, and not one of the two.
    pub(super) neither: Plane,
}

impl Sight {
    /// Of a whole photo.
    pub(super) fn of_photo(picture: &Picture, net: &UNet) -> Self {
        let longest = picture.width().max(picture.height());
        let first = (longest as f64 / FINE as f64 + 0.5).clamp(1.0, 8.0) as usize;
        let linear = picture.linear(Shrink::by(first).unwrap_or(Shrink::NONE));
        let [r, g, b] = linear.rgb(0..linear.height());
        let mut light = Plane::new(linear.width(), linear.height());
        let mut shades = [light.clone(), light.clone()];
        for (i, light) in light.values.iter_mut().enumerate() {
            let sum = r[i] + g[i] + b[i] + 3.0 * DARK;
            *light = (sum / 3.0).ln();
            shades[0].values[i] = (r[i] + DARK) / sum;
            shades[1].values[i] = (b[i] + DARK) / sum;
        }
        let mut sight = Self::of(&light, &shades, net);
        sight.factor *= first as f64;
        sight
    }

    /// Of a face laid flat: its light and shades as they are.
    pub(super) fn of_flat(face: &Flattened, net: &UNet) -> Self {
        Self::of(&face.light, &face.shades, net)
    }

    fn of(light: &Plane, shades: &[Plane; 2], net: &UNet) -> Self {
        let by = (light.width.max(light.height) as f64 / LONGEST).round().max(1.0) as usize;
        let mut swings = swings(light).map(|p| shrunk(&p, by));
        for v in swings.iter_mut().flat_map(|p| &mut p.values) {
            *v = (*v + STILL).ln();
        }
        let [fine, coarser] = &mut swings;
        let [warm, cold] = shades;
        let (mut small, mut warm, mut cold) = (shrunk(light, by), shrunk(warm, by), shrunk(cold, by));
        let spread = centred(&mut small);
        for v in &mut small.values {
            *v /= spread.max(LEAST_SPREAD);
        }
        for plane in [&mut warm, &mut cold, &mut *fine, &mut *coarser] {
            centred(plane);
        }
        for v in warm.values.iter_mut().chain(&mut cold.values) {
            *v *= SHADES;
        }
        let (width, height) = (small.width, small.height);
        let values = [&small, &warm, &cold, fine, coarser].into_iter().flat_map(|p| &p.values).copied();
        let said = every_way(net, &Planes { width, height, values: values.collect() });
        let odds = |of: &dyn Fn([f32; SAID]) -> f32| {
            let values = (0..said.width * said.height)
                .map(|i| of(std::array::from_fn(|k| said.plane(k)[i])).clamp(-MOST, MOST));
            enlarged(
                &Plane { width: said.width, height: said.height, values: values.collect() },
                width,
                height,
            )
        };
        Self {
            factor: by as f64,
            face: odds(&|[beside, core, case, neither]| {
                if spread < EVEN { -MOST } else { either(either(core, case), neither) - beside }
            }),
            case: odds(&|[_, core, case, _]| case - core),
            neither: odds(&|[_, core, case, neither]| neither - either(core, case)),
        }
    }

    /// Natural logarithms of the odds of face, of case and of neither at a place of what was looked at, px.
    pub(super) fn at(&self, [x, y]: [f64; 2]) -> [f64; 3] {
        [&self.face, &self.case, &self.neither].map(|plane| plane.at(x / self.factor, y / self.factor))
    }
}

/// Logarithm of a sum of two whose logarithms are given.
fn either(a: f32, b: f32) -> f32 {
    a.max(b) + (-(a - b).abs()).exp().ln_1p()
}

/// What a network says of planes, and of the same in a mirror, upside down and both: the mean, so that what is seen does not
/// hang on how the photo was held. Sizes are even, so that places of one lie between those of another.
fn every_way(net: &UNet, seen: &Planes) -> Planes {
    let mut said = net.over(seen);
    let others = [
        net.over(&seen.mirrored()).mirrored(),
        net.over(&seen.upside_down()).upside_down(),
        net.over(&seen.mirrored().upside_down()).upside_down().mirrored(),
    ];
    for (i, v) in said.values.iter_mut().enumerate() {
        *v = (*v + others.iter().map(|o| o.values[i]).sum::<f32>()) / 4.0;
    }
    said
}

/// How far the light swings over two and over five pixels.
fn swings(light: &Plane) -> [Plane; 2] {
    let mut level = light.clone();
    centred(&mut level);
    let near = boxed(&level, 1);
    let wide = boxed(&boxed(&near, 2), 2);
    let apart = |a: &Plane, b: &Plane| {
        let values = a.values.iter().zip(&b.values).map(|(a, b)| (a - b).abs()).collect();
        Plane { width: a.width, height: a.height, values }
    };
    [apart(&level, &near), apart(&near, &wide)]
}

/// Takes the mean away; what is left spreads so much.
fn centred(plane: &mut Plane) -> f32 {
    let n = plane.values.len().max(1) as f64;
    let mean = (plane.values.iter().map(|v| f64::from(*v)).sum::<f64>() / n) as f32;
    for v in &mut plane.values {
        *v -= mean;
    }
    (plane.values.iter().map(|v| f64::from(*v).powi(2)).sum::<f64>() / n).sqrt() as f32
}

/// Means of squares of `by` px a side; an even number of them each way, if there are two.
fn shrunk(plane: &Plane, by: usize) -> Plane {
    let [w, h] = [plane.width, plane.height].map(|v| (v / by / 2 * 2).max(1));
    let mut out = Plane::new(w, h);
    for (y, row) in out.values.chunks_exact_mut(w).enumerate() {
        let lines = (y * by..(y + 1) * by).filter(|y| *y < plane.height);
        for line in lines.map(|y| plane.row(y)) {
            for (sum, part) in row.iter_mut().zip(line.chunks(by)) {
                *sum += part.iter().sum::<f32>();
            }
        }
        for v in row {
            *v /= (by * by) as f32;
        }
    }
    out
}

/// What is said of two by two places, as what is said of each: it was fitted to the first of them, and in a mirror that is
/// the last.
fn enlarged(said: &Plane, width: usize, height: usize) -> Plane {
    let mut out = Plane::new(width, height);
    for (i, v) in out.values.iter_mut().enumerate() {
        let [x, y] = [i % width, i / width].map(|p| 0.5 * p as f64 + 0.25);
        *v = said.at(x, y) as f32;
    }
    out
}
