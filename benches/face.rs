//! How long a photo of a fracture face takes: decoding and measuring. The target: measuring takes at most 5 times as
//! long as decoding; it is not reached. Medians on one core of a two-core x86-64 machine with AVX2, built without link-time
//! optimisation: the drawn picture of `examples/face` (1.1 MP) decodes in 2.8 ms and is measured in 0.36 s, the same enlarged
//! to 12 MP in 43 ms and 0.67 s: 128 and 15 times the decode. Of the latter a quarter are the sums of the network, which looks
//! four ways at the photo, at each candidate and three times more at the face; laying it flat is a sixth, boxes about as much.
//! `peers/face_profile.py` is the plain pipeline.

// A benchmark that cannot read its input has nothing to measure.
#![allow(clippy::unwrap_used)]

use divan::Bencher;
use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::load_from_memory;
use snapspark::files::face_model;
use snapspark::fracture::{FaceKnown, measure_face};
use snapspark::photo::{Limits, decode};

const PHOTO: &[u8] = include_bytes!("../examples/face/face.jpg");
/// Millions of pixels: as it is (1), and as from a phone.
const SIZES: [u32; 2] = [1, 12];

fn main() {
    divan::main();
}

/// The picture of the example at so many millions of pixels.
fn photo(megapixels: u32) -> Vec<u8> {
    if megapixels == SIZES[0] {
        return PHOTO.to_vec();
    }
    let small = load_from_memory(PHOTO).unwrap();
    let by = (f64::from(megapixels) * 1e6 / f64::from(small.width() * small.height())).sqrt();
    let [w, h] = [small.width(), small.height()].map(|v| (f64::from(v) * by) as u32);
    let mut bytes = Vec::new();
    let large = small.resize_exact(w, h, FilterType::CatmullRom);
    large.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, 90)).unwrap();
    bytes
}

#[divan::bench(args = SIZES, sample_count = 20)]
fn decoded(bencher: Bencher, megapixels: u32) {
    let bytes = photo(megapixels);
    bencher.bench_local(|| decode(&bytes, &Limits::default()).unwrap());
}

#[divan::bench(args = SIZES, sample_count = 10)]
fn measured(bencher: Bencher, megapixels: u32) {
    let photo = decode(&photo(megapixels), &Limits::default()).unwrap();
    let model = face_model().unwrap();
    bencher.bench_local(|| measure_face(&photo.picture, &FaceKnown::default(), &model).unwrap());
}
