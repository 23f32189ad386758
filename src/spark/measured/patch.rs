use super::fit::angle_to;
use super::scene::Scene;
use super::stream_photo::Spot;

/// Places along one side of a patch.
pub(super) const SIDE: usize = 32;
/// What is told of each place: light by the noise, light by the brightest near the middle.
pub(super) const TOLD: usize = 2;
/// A place of the coarse patch is the mean of so many by so many of the fine one's.
const COARSER: usize = 3;
/// Places along one side of what is read.
pub(super) const READ: usize = SIDE * COARSER;
/// Places of the fine patch to a line's width (judgement: a line is drawn by a little more than two pixels).
const PER_LINE: f64 = 2.2;
/// Light of so many standard deviations of noise is where small changes begin to count less, and what it is divided
/// by then: values come out near 1 (judgements).
const BEND: f64 = 4.0;
const TAME: f64 = 3.0;
/// Places from the edge of the fine patch to the part whose brightest place the other light is held against.
const INNER: usize = 10;
/// Least such light, roots of light, and the range of what is held against it.
const LEAST: f64 = 1e-3;
const RANGE: (f64, f64) = (-0.5, 2.0);

/// What lies around a place: the contact is to the right, a line is about two places wide. Row by row, and for each place
/// what is [`TOLD`] of it.
pub(super) type Patch = Vec<f32>;

/// A fine patch and a coarse one, which reaches three times as far, of what was [`read`]; `noise` is that of one pixel.
pub(super) fn patches(light: &[f32], noise: f64) -> [Patch; 2] {
    let fine = |row: usize, column: usize| f64::from(light[(row + SIDE) * READ + column + SIDE]);
    let coarse = |row: usize, column: usize| {
        let mut sum = 0.0;
        for y in COARSER * row..COARSER * (row + 1) {
            sum += light[y * READ + COARSER * column..][..COARSER].iter().map(|v| f64::from(*v)).sum::<f64>();
        }
        sum / (COARSER * COARSER) as f64
    };
    let inner = INNER..SIDE - INNER;
    let brightest = inner
        .clone()
        .flat_map(|row| inner.clone().map(move |column| (row, column)))
        .map(|(row, column)| fine(row, column))
        .fold(LEAST, f64::max);
    let told = |light: f64| {
        let by_noise = libm::asinh(light / (BEND * noise)) / TAME;
        [by_noise as f32, (light / brightest).clamp(RANGE.0, RANGE.1) as f32]
    };
    let patch = |of: &dyn Fn(usize, usize) -> f64| {
        (0..SIDE * SIDE).flat_map(|i| told(of(i / SIDE, i % SIDE))).collect::<Patch>()
    };
    [patch(&fine), patch(&coarse)]
}

/// Roots of light above the background around a place, with the contact to the right: [`READ`] rows of [`READ`].
pub(super) fn read(scene: &Scene, at: Spot, contact: Spot) -> Vec<f32> {
    let pitch = scene.line / PER_LINE;
    let (sin, cos) = angle_to(at, contact).sin_cos();
    let off = |i: usize| (i as f64 - (READ - 1) as f64 / 2.0) * pitch;
    let mut light = Vec::with_capacity(READ * READ);
    for row in 0..READ {
        let y = off(row);
        for column in 0..READ {
            let x = off(column);
            light.push(scene.above(at[0] + x * cos - y * sin, at[1] + x * sin + y * cos) as f32);
        }
    }
    light
}
