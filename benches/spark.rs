//! How long a photo takes: decoding, measuring, and both. The target: measuring 12 MP takes at most 5 times as long as
//! decoding them. Compare with `peers/skeleton.py`.
//!
//! Medians of ten on one core of a two-core x86-64 machine with AVX2, built without link-time optimisation: 2 MP decode in
//! 8.6 ms and are measured in 0.95 s, 12 MP in 54 ms and 1.8 s: 110 and 33 times the decode. The target is not reached: the
//! network that sees bursts looks twice at every place near a line, and its sums are a third of the time; what is done without
//! it takes 10 times the decode at 12 MP. In a bare loop the sums run at 36 thousand million products a second (17 without
//! AVX2). The time grows with what there is to see; 48 MP have not been measured since.

// A benchmark that cannot make its input has nothing to measure.
#![allow(clippy::unwrap_used)]

use divan::Bencher;
use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder};
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};
use snapspark::files::burst_net;
use snapspark::photo::{Limits, decode};
use snapspark::spark::{Exposed, measure};

/// Width and height of 2 and 12 MP, px.
const SIZES: [(usize, usize); 2] = [(1632, 1224), (4000, 3000)];
/// Carriers of the stream, every second with a burst of so many rays.
const CARRIERS: usize = 60;
const RAYS: usize = 6;

fn main() {
    divan::main();
}

/// A picture in grey, as encoded, on which bright lines are drawn.
struct Drawing {
    width: usize,
    height: usize,
    grey: Vec<u8>,
}

impl Drawing {
    /// A dark wall; noise of 2 steps of the file, one standard deviation, near a Gaussian.
    fn new((width, height): (usize, usize)) -> Self {
        let mut chance = Pcg64Mcg::seed_from_u64(1);
        // the bits of a byte that are set: mean 4, variance 2; two bytes are 4
        let mut noise = || (chance.next_u64() & 0xFFFF).count_ones() as u8;
        Self { width, height, grey: (0..width * height).map(|_| 8 + noise()).collect() }
    }

    /// A straight line, Gaussian across with this standard deviation, px. Gives its end.
    fn line(&mut self, from: [f64; 2], degrees: f64, length: f64, sigma: f64) -> [f64; 2] {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let reach = (3.0 * sigma).ceil();
        for step in 0..(2.0 * length) as usize {
            let at = [from[0] + 0.5 * step as f64 * cos, from[1] + 0.5 * step as f64 * sin];
            for y in (at[1] - reach) as usize..((at[1] + reach) as usize).min(self.height) {
                for x in (at[0] - reach) as usize..((at[0] + reach) as usize).min(self.width) {
                    let away = (x as f64 + 0.5 - at[0]).powi(2) + (y as f64 + 0.5 - at[1]).powi(2);
                    let grey = (200.0 * (-away / (2.0 * sigma * sigma)).exp()) as u8;
                    let pixel = &mut self.grey[y * self.width + x];
                    *pixel = grey.max(*pixel);
                }
            }
        }
        [from[0] + length * cos, from[1] + length * sin]
    }

    fn jpeg(&self) -> Vec<u8> {
        let rgb: Vec<u8> =
            self.grey.iter().flat_map(|g| [*g, (u16::from(*g) * 4 / 5) as u8, *g / 2]).collect();
        let mut bytes = Vec::new();
        let encoder = JpegEncoder::new_with_quality(&mut bytes, 90);
        encoder.write_image(&rgb, self.width as u32, self.height as u32, ExtendedColorType::Rgb8).unwrap();
        bytes
    }
}

/// A stream to the right.
fn photo(size: (usize, usize)) -> Vec<u8> {
    let mut drawing = Drawing::new(size);
    let (wide, middle) = (size.0 as f64, size.1 as f64 / 2.0);
    let sigma = wide / 2000.0;
    for i in 0..CARRIERS {
        // steps through all remainders mix starts and lengths
        let (start, length) = ((i * 7 % CARRIERS) as f64, (i * 23 % CARRIERS) as f64);
        let (start, length) = (wide * (0.1 + 0.004 * start), wide * (0.1 + 0.008 * length));
        let degrees = (i as f64 / CARRIERS as f64 - 0.5) * 40.0;
        let (sin, cos) = degrees.to_radians().sin_cos();
        let end = drawing.line([0.05 * wide + start * cos, middle + start * sin], degrees, length, sigma);
        for ray in 0..if i % 2 == 0 { RAYS } else { 0 } {
            drawing.line(end, degrees - 75.0 + 30.0 * ray as f64, wide / 100.0, 0.7 * sigma);
        }
    }
    drawing.jpeg()
}

#[divan::bench(args = SIZES, sample_count = 10)]
fn decode_alone(bencher: Bencher, size: (usize, usize)) {
    let bytes = photo(size);
    bencher.bench_local(|| decode(&bytes, &Limits::default()).unwrap());
}

#[divan::bench(args = SIZES, sample_count = 10)]
fn measure_alone(bencher: Bencher, size: (usize, usize)) {
    let picture = decode(&photo(size), &Limits::default()).unwrap().picture;
    let net = burst_net().unwrap();
    bencher.bench_local(|| measure(&picture, Exposed::default(), &net).unwrap());
}

#[divan::bench(args = SIZES, sample_count = 10)]
fn decode_and_measure(bencher: Bencher, size: (usize, usize)) {
    let bytes = photo(size);
    let net = burst_net().unwrap();
    bencher.bench_local(|| {
        let photo = decode(&bytes, &Limits::default()).unwrap();
        measure(&photo.picture, Exposed::default(), &net).unwrap()
    });
}
