//! Ranges from photos hold the truth about as often as they say, nine times in ten. Streams are drawn by this
//! project from Poisson numbers, exponential lengths and touches that differ: this says nothing about real sparks.

use crate::support::models;
use crate::support::streams::{Chance, Truth, series};
use snapspark::spark::{PhotoConditions, StreamFigures, pool_photos};
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
        let read = pool_photos(coupon, stock, &PhotoConditions::default(), &models().photo_reading).unwrap();
        let figures = read.untreated.unwrap().pooled;
        for (count, (_, true_value, get)) in counts.iter_mut().zip(&asked) {
            let range = get(&figures).expect("a figure");
            *count += f64::from(u8::from(range.low() <= *true_value && *true_value <= range.high()));
        }
    }
    asked.iter().zip(counts).map(|((name, ..), count)| (*name, count / DRAWS as f64)).collect()
}

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
