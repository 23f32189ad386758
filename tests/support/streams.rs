//! Streams as a measurer would hand them over, drawn from known rates: no picture, no pixel.

use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};
use snapspark::spark::{Burst, Carrier, CarrierEnd, Exposed, Frame, Series, Stream, StreamPhoto};
use snapspark::units::Interval;

/// Seeded chance.
pub(crate) struct Chance(Pcg64Mcg);

impl Chance {
    pub(crate) fn new(seed: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed))
    }

    /// From 0 to below 1.
    pub(crate) fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Even between two ends.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Of mean 0 and standard deviation 1.
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.unit()).cos()
    }

    /// A factor whose logarithm has this standard deviation.
    pub(crate) fn factor(&mut self, spread: f64) -> f64 {
        (spread * self.normal()).exp()
    }

    fn exponential(&mut self, mean: f64) -> f64 {
        -mean * (1.0 - self.unit()).ln()
    }

    fn poisson(&mut self, mean: f64) -> usize {
        let (mut count, mut left) = (0, (-mean).exp());
        let mut product = self.unit();
        while product > left {
            count += 1;
            product *= self.unit();
            left = left.max(f64::MIN_POSITIVE);
        }
        count
    }
}

/// What a steel throws, on the average.
#[derive(Clone, Copy)]
pub(crate) struct Truth {
    /// Carriers on a photo.
    pub(crate) carriers: f64,
    /// Share of them that burst; each bursts once.
    pub(crate) share: f64,
    /// Mean length of a carrier, px; lengths are exponential.
    pub(crate) length: f64,
    /// Standard deviation from touch to touch of carriers and length, and of the share towards its ends; relative.
    pub(crate) spread: f64,
}

pub(crate) const STREAM_LENGTH: f64 = 1000.0;

/// Touches of so many frames each.
pub(crate) fn series(truth: &Truth, frames: &[usize], chance: &mut Chance) -> Series {
    let touches = frames.iter().map(|n| {
        let mut effect = || chance.factor(truth.spread);
        let (carriers, length, odds) = (effect(), effect(), effect());
        // a spread of the share relative to p (1 - p), as of its odds
        let odds = truth.share / (1.0 - truth.share) * odds;
        let this = Truth {
            carriers: truth.carriers * carriers,
            share: odds / (1.0 + odds),
            length: truth.length * length,
            ..*truth
        };
        (0..*n).map(|i| frame(&format!("photo-{i}.jpg"), photo(&this, chance))).collect()
    });
    Series { touches: touches.collect(), inward: true }
}

pub(crate) fn frame(name: &str, photo: StreamPhoto) -> Frame {
    Frame::new(name, photo, None)
}

/// One photo.
pub(crate) fn photo(truth: &Truth, chance: &mut Chance) -> StreamPhoto {
    let mut photo = empty();
    for _ in 0..chance.poisson(truth.carriers) {
        let length = chance.exponential(truth.length);
        let bursts = usize::from(chance.unit() < truth.share);
        let at = STREAM_LENGTH * chance.unit();
        add(&mut photo, length, &vec![(at, 5); bursts]);
    }
    photo
}

/// A carrier with bursts, each at a distance from the contact and with a number of rays.
pub(crate) fn add(photo: &mut StreamPhoto, length: f64, bursts: &[(f64, usize)]) {
    let y = 500.0 + photo.carriers.len() as f64;
    let first = photo.bursts.len();
    for (at, rays) in bursts {
        let rays: Vec<_> = (0..*rays).map(|i| [at + 8.0, y + i as f64]).collect();
        let ray_count = rays.len() as f64;
        photo.bursts.push(Burst { at: [*at, 500.0], rays, ray_count, tier: 1, parent: None, certainty: 1.0 });
    }
    photo.carriers.push(Carrier {
        path: vec![[0.0, y], [length, y]],
        length,
        start: CarrierEnd::Free,
        end: CarrierEnd::Free,
        bursts: (first..photo.bursts.len()).collect(),
        certainty: 1.0,
    });
}

/// A stream to the right without a spark in it.
pub(crate) fn empty() -> StreamPhoto {
    let about = |best: f64, off: f64| Interval::new(best - off, best, best + off).unwrap();
    StreamPhoto {
        size: [4000, 3000],
        line_width: 4.0,
        carriers: Vec::new(),
        bursts: Vec::new(),
        stream: Stream {
            contact: [0.0, 500.0],
            contact_sd: 5.0,
            direction: about(0.0, 2.0),
            opening: about(20.0, 3.0),
            length: Some(about(STREAM_LENGTH, 30.0)),
            flight: Some(about(400.0, 20.0)),
        },
        resolved: 1.0,
        left_out: Vec::new(),
        light: Vec::new(),
        clipped: 0.0,
        exposed: Exposed { seconds: Some(1.0 / 60.0), ..Exposed::default() },
    }
}
