//! How long a solve takes. Compare with `peers/solve_scipy.py` (equal error) and with the target:
//! a 30 min soak under 0.2 ms, a noisy 3,000-point log under 1 ms, both within 0.0005 mm and
//! 0.001 wt% of converged (`tests/reference/scipy_soaks.rs` holds that).

// A benchmark that cannot load its input has nothing to measure.
#![allow(clippy::unwrap_used)]

use divan::Bencher;
use snapspark::crosscheck::cross_check;
use snapspark::diffusion::{Case, Direction, Exchange, Fineness, Leg, Potential, Section, march};
use snapspark::files::{Models, Observed, RunSheet};
use snapspark::prediction::predict;
use std::path::Path;

fn main() {
    divan::main();
}

const HELD: Exchange = Exchange {
    potential: Potential::ShareOfAcm(1.0),
    transfer: f64::INFINITY,
    direction: Direction::BothWays,
};

fn project() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn solve(bencher: Bencher, points: &[(f64, f64)], exchange: Exchange) {
    let models = Models::shipped().unwrap();
    let form = &models.law("agren1986").unwrap().form.value;
    let case = Case {
        form,
        factor: 1.0,
        phase: &models.phase,
        section: Section::Thick,
        core: 0.1,
        fineness: Fineness::DEFAULT,
    };
    bencher.bench(|| march(&case, &[Leg { points, exchange }]));
}

/// 30 min at 900 °C, surface held at Acm.
#[divan::bench]
fn soak_of_30_min(bencher: Bencher) {
    solve(bencher, &[(0.0, 1173.15), (1800.0, 1173.15)], HELD);
}

/// Ramp, hold, cool, with a transfer coefficient.
#[divan::bench]
fn ramp_hold_cool(bencher: Bencher) {
    let log = [(0.0, 20.0), (45.0, 850.0), (60.0, 900.0), (90.0, 900.0), (96.0, 850.0), (140.0, 500.0)];
    let log = log.map(|(min, c)| (min * 60.0, c + 273.15));
    let exchange = Exchange { transfer: 1e-7, potential: Potential::ShareOfAcm(0.9), ..HELD };
    solve(bencher, &log, exchange);
}

/// 3,000 points of a bang-bang controller, about 8 h.
#[divan::bench]
fn noisy_log_of_3000_points(bencher: Bencher) {
    let path = project().join("tests/reference/scipy_log_agren_noisy.csv");
    let mut reader = csv::Reader::from_path(path).unwrap();
    let log: Vec<(f64, f64)> = reader
        .deserialize::<(f64, f64)>()
        .map(|row| row.map(|(min, c)| (min * 60.0, c + 273.15)).unwrap())
        .collect();
    solve(bencher, &log, Exchange { potential: Potential::ShareOfAcm(0.9), ..HELD });
}

/// Everything that `snapspark soak` computes: heat-through and carbon for the best story and both
/// ends of every doubt.
#[divan::bench]
fn prediction_with_ranges(bencher: Bencher) {
    let models = Models::shipped().unwrap();
    let sheet = RunSheet::read_file(&project().join("examples/first-run/run.toml"), &models).unwrap();
    let physics = models.physics(None).unwrap();
    let run = sheet.run();
    bencher.bench(|| predict(&run, &physics));
}

/// 4096 runs drawn and solved, each with its own heat-through: target 0.8 s on two cores.
#[divan::bench(sample_count = 5)]
fn runs_drawn(bencher: Bencher) {
    let models = Models::shipped().unwrap();
    let sheet = RunSheet::read_file(&project().join("examples/first-run/run.toml"), &models).unwrap();
    let physics = models.physics(None).unwrap();
    let run = sheet.run();
    let prediction = predict(&run, &physics).unwrap();
    bencher.bench(|| prediction.clone().drawn(&run, &physics, 4096));
}

/// Reading all tables in `models/`.
#[divan::bench]
fn load_models() -> Models {
    Models::shipped().unwrap()
}

/// The cross-check of a whole run: every doubt and every cause told to the solver.
#[divan::bench]
fn cross_check_of_a_whole_run(bencher: Bencher) {
    checked(bencher, None);
}

/// The same with 2048 runs that were drawn before: every change of every cause on 32 of them, weights, powers, the next
/// check. With the draws themselves the whole `check` has a target of 1.2 s on two cores.
#[divan::bench(sample_count = 5)]
fn cross_check_of_drawn_runs(bencher: Bencher) {
    checked(bencher, Some(2048));
}

fn checked(bencher: Bencher, draws: Option<usize>) {
    let models = Models::shipped().unwrap();
    let path = project().join("examples/first-run/run.toml");
    let sheet = RunSheet::read_file(&path, &models).unwrap();
    let physics = models.physics(None).unwrap();
    let run = sheet.run();
    let told = predict(&run, &physics).unwrap();
    let prediction = match draws {
        Some(count) => told.drawn(&run, &physics, count),
        None => told,
    };
    let observed = Observed::of(&sheet, None, &models).unwrap();
    let seen = observed.seen(&sheet, &models);
    let question = models.question((&run, &physics), &prediction, &seen, sheet.aim.as_ref());
    bencher.bench(|| cross_check(&question));
}
