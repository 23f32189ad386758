//! How long a plan takes: the hold in every story at five heats, and what comes of it. Target: under 300 ms.

// A benchmark that cannot load its input has nothing to measure.
#![allow(clippy::unwrap_used)]

use divan::Bencher;
use snapspark::files::{Models, RunSheet};
use snapspark::plan::{Intent, Start, Target, plan};
use snapspark::prediction::{DepthCriterion, predict};
use snapspark::units::{CarbonPercent, Depth, Temperature};
use std::path::Path;

fn main() {
    divan::main();
}

/// A plan for the piece, pack and steel of the first example.
fn with_intent(bencher: Bencher, target: Target, second: bool) {
    let models = Models::shipped().unwrap();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/first-run/run.toml");
    let sheet = RunSheet::read_file(&path, &models).unwrap();
    let physics = models.physics(None).unwrap();
    let tables = models.tables(&physics);
    let intent = Intent {
        stock: sheet.stock.clone(),
        pack: sheet.pack.clone(),
        coupon: *sheet.run().coupon,
        piece: sheet.piece.clone(),
        wedge: None,
        thermometer: sheet.soak.thermometer.clone(),
        temperature: Temperature::from_celsius(925.0).unwrap(),
        heat_up: None,
        choice: sheet.model.clone(),
        target,
        hardness: None,
        weighed: None,
        first_seen: false,
        history: None,
    };
    let before = predict(&sheet.run(), &physics).unwrap();
    let start = if second { Start::After(&before) } else { Start::Untreated };
    bencher.bench(|| plan(&intent, start, &tables).unwrap());
}

fn depth(criterion: DepthCriterion, mm: f64) -> Target {
    Target::Depth { criterion, depth: Depth::from_millimetres(mm).unwrap() }
}

#[divan::bench]
fn total_case_depth(bencher: Bencher) {
    with_intent(bencher, depth(DepthCriterion::Total, 0.8), false);
}

#[divan::bench]
fn depth_to_50_hrc(bencher: Bencher) {
    with_intent(bencher, depth(DepthCriterion::Effective50Hrc, 0.5), false);
}

#[divan::bench]
fn carbon_of_an_edge(bencher: Bencher) {
    with_intent(bencher, Target::Edge { carbon: CarbonPercent::new(0.6).unwrap() }, false);
}

#[divan::bench]
fn second_soak(bencher: Bencher) {
    with_intent(bencher, depth(DepthCriterion::Total, 1.2), true);
}
