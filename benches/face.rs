//! How long a photo of a fracture face takes: decoding and measuring. The target: measuring takes at most 5 times as
//! long as decoding; it is not reached: 1.39 s against 6.4 ms, medians on one core of a two-core x86-64 machine, built
//! without link-time optimisation (with it the whole program takes 1.0 s): 220 times. Before the network was twice as wide and
//! saw four ways it was 87 times. The picture is the drawn one of `examples/face`; 12 MP have not been measured.
//! `peers/face_profile.py` is the plain pipeline.

// A benchmark that cannot read its input has nothing to measure.
#![allow(clippy::unwrap_used)]

use divan::Bencher;
use snapspark::files::face_model;
use snapspark::fracture::{FaceKnown, measure_face};
use snapspark::photo::{Limits, decode};

const PHOTO: &[u8] = include_bytes!("../examples/face/face.jpg");

fn main() {
    divan::main();
}

#[divan::bench(sample_count = 20)]
fn decoded(bencher: Bencher) {
    bencher.bench_local(|| decode(PHOTO, &Limits::default()).unwrap());
}

#[divan::bench(sample_count = 10)]
fn measured(bencher: Bencher) {
    let photo = decode(PHOTO, &Limits::default()).unwrap();
    let model = face_model().unwrap();
    bencher.bench_local(|| measure_face(&photo.picture, &FaceKnown::default(), &model).unwrap());
}
