//! Ranges from photos hold the truth about as often as they say, nine times in ten. Streams are drawn by this
//! project from Poisson numbers, exponential lengths and touches that differ: this says nothing about real sparks.
//! How well sparks are found is no part of the first check, and is drawn as `models/sparks.toml` has it in the second.

use crate::support::models;
use crate::support::streams::{Chance, Truth, frame, photo, series};
use snapspark::spark::{PhotoConditions, PhotoReading, Series, StreamFigures, pool_photos};
use snapspark::units::Interval;

/// Draws of each case; the standard error of a coverage of 0.9 is then 0.015.
const DRAWS: u64 = 400;
/// What a range of nine in ten may hold, written before the first run: less is too narrow, more too wide.
const COVERS: (f64, f64) = (0.75, 0.97);

fn held(truth: &Truth, frames: &[usize]) -> Vec<(&'static str, f64)> {
    type Get = fn(&StreamFigures) -> Option<Interval<f64>>;
    let median = truth.length * 2.0_f64.ln();
    let longest = truth.length * 20.0_f64.ln();
    let asked: [(&str, f64, Get); 6] = [
        ("carriers", truth.carriers, |f| f.carriers),
        ("share_bursting", truth.share, |f| f.share_bursting),
        ("bursts_per_carrier", truth.share, |f| f.bursts_per_carrier),
        ("bursts_per_px", truth.share / truth.length, |f| f.bursts_per_px),
        ("length", median, |f| f.length),
        ("longest", longest, |f| f.longest),
    ];
    let mut counts = [0.0; 6];
    for seed in 0..DRAWS {
        let mut chance = Chance::new(seed + 1000);
        // as stock, all touches are of one depth
        let (coupon, stock) = (series(truth, &[1], &mut chance), series(truth, frames, &mut chance));
        let read = pool_photos(coupon, stock, &PhotoConditions::default(), &all_found()).unwrap();
        let figures = read.untreated.unwrap().pooled;
        for (count, (_, true_value, get)) in counts.iter_mut().zip(&asked) {
            let range = get(&figures).expect("a figure");
            *count += f64::from(u8::from(range.low() <= *true_value && *true_value <= range.high()));
        }
    }
    asked.iter().zip(counts).map(|((name, ..), count)| (*name, count / DRAWS as f64)).collect()
}

/// A measurer that finds every spark and nothing else.
fn all_found() -> PhotoReading {
    let mut reading = models().photo_reading.clone();
    for found in [&mut reading.carriers_found, &mut reading.bursts_found, &mut reading.burst_rate_found] {
        found.value = 1.0;
    }
    for off in
        [&mut reading.carriers_miscounted, &mut reading.bursts_miscounted, &mut reading.burst_rate_miscounted]
    {
        off.value = 0.0;
    }
    reading
}

/// Carriers that are found at the shipped share, which differs from photo to photo as the shipped spread says.
#[test]
fn a_count_reaches_to_what_was_missed() {
    let reading = &models().photo_reading;
    let (found, spread) = (reading.carriers_found.value, reading.carriers_miscounted.value);
    for frames in [1_usize, 2, 4] {
        let mut held = 0.0;
        for seed in 0..DRAWS {
            let mut chance = Chance::new(seed + 5000);
            let touches = (0..frames).map(|i| {
                let seen = Truth { carriers: 60.0 * found * chance.factor(spread), ..LEAN };
                vec![frame(&format!("{i}.jpg"), photo(&seen, &mut chance))]
            });
            let stock = Series { touches: touches.collect(), inward: false };
            let coupon = series(&LEAN, &[1], &mut chance);
            let told = pool_photos(coupon, stock, &PhotoConditions::default(), reading).unwrap();
            let range = told.untreated.unwrap().pooled.carriers.unwrap();
            held += f64::from(u8::from((range.low()..=range.high()).contains(&60.0)));
        }
        let share = held / DRAWS as f64;
        println!("{frames} photos: {share:.3}");
        assert!((COVERS.0..=COVERS.1).contains(&share), "{frames} photos: {share:.3}");
    }
}

const LEAN: Truth = Truth { carriers: 30.0, share: 0.4, length: 200.0, spread: 0.0 };

#[test]
fn ranges_hold_what_they_say() {
    let truth = Truth { carriers: 30.0, share: 0.4, length: 200.0, spread: 0.1 };
    let mut wrong = Vec::new();
    let cases: [(&str, Truth, &[usize]); 7] = [
        ("one photo", truth, &[1]),
        ("three frames of one touch", truth, &[3]),
        ("three touches", truth, &[2, 2, 2]),
        ("six touches", truth, &[1, 1, 1, 1, 1, 1]),
        ("three touches that differ more than judged", Truth { spread: 0.25, ..truth }, &[2, 2, 2]),
        ("few carriers, few bursts", Truth { carriers: 12.0, share: 0.15, ..truth }, &[2]),
        ("many bursts", Truth { share: 0.85, ..truth }, &[2, 2]),
    ];
    for (case, truth, frames) in cases {
        for (name, share) in held(&truth, frames) {
            println!("{case}: {name} {share:.3}");
            if !(COVERS.0..=COVERS.1).contains(&share) {
                wrong.push(format!("{case}: {name} {share:.3}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
