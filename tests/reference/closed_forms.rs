//! Closed solutions of the diffusion equation. Source: J. Crank, The Mathematics of Diffusion,
//! 2nd ed. 1975 (equation numbers from memory); each is also easy to check by substitution.

use crate::support::solve;
use snapspark::diffusion::{Direction, Exchange, Fineness, Form, Potential, Profile, Section};
use std::f64::consts::PI;

/// m²/s, of the order of carbon at 900 °C.
const D: f64 = 1e-11;
const FORM: Form = Form::Arrhenius { d0: D, q: 0.0 };
const CORE: f64 = 0.2;
const OUTSIDE: f64 = 1.0;
const HOURS: f64 = 2.0;
/// 900 °C: s, K.
const STEADY: [(f64, f64); 2] = [(0.0, 1173.15), (HOURS * 3600.0, 1173.15)];
/// With the default mesh, wt%.
const TOLERANCE_WT: f64 = 1e-3;

fn held() -> Exchange {
    Exchange { potential: Potential::Fixed(OUTSIDE), transfer: f64::INFINITY, direction: Direction::BothWays }
}

fn worst(section: Section, exchange: Exchange, fineness: Fineness, exact: impl Fn(f64) -> f64) -> f64 {
    off(&solve(&FORM, exchange, section, CORE, &STEADY, fineness), exact)
}

fn off(profile: &Profile, exact: impl Fn(f64) -> f64) -> f64 {
    profile.points().map(|(x, c)| (c - exact(x)).abs()).fold(0.0, f64::max)
}

/// Checks the default and that halving mesh and steps divides the error by 3 at least.
fn check(name: &str, section: Section, exchange: Exchange, exact: impl Fn(f64) -> f64 + Copy) {
    let error = worst(section, exchange, Fineness::DEFAULT, exact);
    let fine = |k: f64| Fineness { nodes_per_unit: 10.0 * k, steps: (20.0 * k) as usize };
    let (coarse, halved) =
        (worst(section, exchange, fine(1.0), exact), worst(section, exchange, fine(2.0), exact));
    println!("{name}: {error:.1e} wt%, {coarse:.1e} then {halved:.1e}");
    assert!(error < TOLERANCE_WT, "{name}: {error}");
    assert!(halved < coarse / 3.0, "{name} is not second order: {coarse:.2e} then {halved:.2e}");
}

fn root() -> f64 {
    (D * HOURS * 3600.0).sqrt()
}

/// C = C0 + (Cs - C0) erfc(x / 2√(Dt)); uptake 2 (Cs - C0) √(Dt/π). Crank eqs. 3.13, 3.15.
#[test]
fn surface_held_on_a_thick_body() {
    let exact = |x: f64| CORE + (OUTSIDE - CORE) * libm::erfc(x / (2.0 * root()));
    check("held", Section::Thick, held(), exact);
    let profile = solve(&FORM, held(), Section::Thick, CORE, &STEADY, Fineness::DEFAULT);
    let want = 2.0 * (OUTSIDE - CORE) * root() / PI.sqrt() * 1e3;
    assert!((profile.uptake_wt_percent_mm() / want - 1.0).abs() < 1e-3);
}

/// C = C0 + (Cp - C0) [erfc(a) - exp(-a²) erfcx(a + b)], a = x/2√(Dt), b = β√(t/D). Crank eq. 3.35.
#[test]
fn transfer_into_a_thick_body() {
    let beta = 1e-7;
    let b = beta * (HOURS * 3600.0 / D).sqrt();
    // exp(-a²) erfcx(a + b) = exp(2ab + b²) erfc(a + b)
    let exact = |x: f64| {
        let a = x / (2.0 * root());
        CORE + (OUTSIDE - CORE) * (libm::erfc(a) - libm::exp(2.0 * a * b + b * b) * libm::erfc(a + b))
    };
    check("transfer", Section::Thick, Exchange { transfer: beta, ..held() }, exact);
}

/// Plate of half-thickness L: Σ (-1)^m 4/((2m+1)π) exp(-D(2m+1)²π²t/4L²) cos((2m+1)πz/2L), z from
/// the middle. Crank eq. 4.17.
#[test]
fn plate_from_both_faces() {
    let half = 0.4e-3;
    let exact = |x: f64| {
        let z = half - x;
        let sum: f64 = (0..60)
            .map(|m| {
                let k = f64::from(2 * m + 1) * PI / (2.0 * half);
                let sign = if m % 2 == 0 { 1.0 } else { -1.0 };
                sign * 4.0 / (f64::from(2 * m + 1) * PI)
                    * libm::exp(-k * k * root() * root())
                    * libm::cos(k * z)
            })
            .sum();
        OUTSIDE + (CORE - OUTSIDE) * sum
    };
    check("plate", Section::Plate { depth: half }, held(), exact);
}

/// Round bar of radius a: 2/a Σ exp(-Dα²t) J0(αr) / (α J1(αa)), J0(αa) = 0. Crank eq. 5.22.
#[test]
fn round_bar() {
    let radius = 1e-3;
    // zeros of J0: Abramowitz and Stegun 1964, table 9.5 (first three confirmed by computation),
    // the rest by McMahon's expansion with one Newton step
    let zeros: Vec<f64> = (1..40)
        .map(|n| {
            let b = (f64::from(n) - 0.25) * PI;
            (0..3).fold(b + 1.0 / (8.0 * b), |z, _| z + libm::j0(z) / libm::j1(z))
        })
        .collect();
    assert!((zeros[0] - 2.404_825_557_7).abs() < 1e-9);
    let exact = |x: f64| {
        let r = radius - x;
        let sum: f64 = zeros
            .iter()
            .map(|z| {
                let k = z / radius;
                2.0 / z * libm::exp(-k * k * root() * root()) * libm::j0(k * r) / libm::j1(*z)
            })
            .sum();
        OUTSIDE + (CORE - OUTSIDE) * sum
    };
    check("bar", Section::Round { radius }, held(), exact);
}

/// Where D depends on temperature alone, only ∫ D dt counts (common practice, no source).
#[test]
fn ramp_hold_cool_is_one_integral() {
    let q = 148_000.0;
    let form = Form::Arrhenius { d0: 2.3e-5, q };
    let log = [(0.0, 1000.15), (1800.0, 1173.15), (5400.0, 1173.15), (7200.0, 1000.15)];
    // ∫ D dt by Simpson on one-second slices
    let integral: f64 = log
        .windows(2)
        .map(|w| {
            let n = (w[1].0 - w[0].0) as usize;
            let d = |s: f64| {
                2.3e-5 * libm::exp(-q / (8.314_462_618 * (w[0].1 + (w[1].1 - w[0].1) * s / n as f64)))
            };
            (0..n).map(|i| (d(i as f64) + 4.0 * d(i as f64 + 0.5) + d(i as f64 + 1.0)) / 6.0).sum::<f64>()
        })
        .sum();
    let profile = solve(&form, held(), Section::Thick, CORE, &log, Fineness::DEFAULT);
    let exact = |x: f64| CORE + (OUTSIDE - CORE) * libm::erfc(x / (2.0 * integral.sqrt()));
    assert!(off(&profile, exact) < TOLERANCE_WT);
}
