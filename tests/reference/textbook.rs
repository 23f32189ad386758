//! Worked examples with printed answers: `textbook.toml`.

use crate::support::steady;
use serde::Deserialize;
use snapspark::diffusion::{Exchange, Form, Potential, Section};

const TOLERANCE: f64 = 0.015;

#[derive(Deserialize)]
struct File {
    example: Vec<Example>,
}

#[derive(Deserialize)]
struct Example {
    source: String,
    status: String,
    core: f64,
    surface: f64,
    carbon: Option<f64>,
    depth_mm: Option<f64>,
    hours: Option<f64>,
    d_m2_s: Option<f64>,
    d: Option<Pair>,
    answer: Answer,
}

#[derive(Deserialize)]
struct Pair {
    d0: f64,
    q: f64,
    r: f64,
    kelvin: f64,
}

#[derive(Deserialize)]
#[serde(rename_all = "snake_case")]
enum Answer {
    Hours(f64),
    Carbon(f64),
    DepthMm(f64),
    DtM2(f64),
}

#[test]
fn printed_answers_come_out() {
    let file: File = toml::from_str(include_str!("textbook.toml")).expect("the table parses");
    for e in &file.example {
        let d = match (e.d_m2_s, &e.d) {
            (Some(d), _) => d,
            (_, Some(p)) => p.d0 * libm::exp(-p.q / (p.r * p.kelvin)),
            _ => panic!("{}: no diffusivity", e.source),
        };
        let form = Form::Arrhenius { d0: d, q: 0.0 };
        let held = Exchange { potential: Potential::Fixed(e.surface), ..Exchange::BARE };
        let solve = |hours: f64| steady(&form, held, Section::Thick, e.core, 927.0, hours * 60.0);
        // with a constant diffusivity depth goes as the root of time
        let hours_to = |wt: f64, mm: f64| (mm / (solve(1.0).depth_to(wt).expect("reached") * 1e3)).powi(2);
        let asked = |v: Option<f64>| v.unwrap_or_else(|| panic!("{}: input missing", e.source));
        let (got, want) = match e.answer {
            Answer::Hours(h) => (hours_to(asked(e.carbon), asked(e.depth_mm)), h),
            Answer::DtM2(dt) => {
                let hours = hours_to(asked(e.carbon), asked(e.depth_mm));
                (hours * 3600.0 * d, dt)
            }
            Answer::Carbon(wt) => (solve(asked(e.hours)).at(asked(e.depth_mm) * 1e-3), wt),
            Answer::DepthMm(mm) => {
                (solve(asked(e.hours)).depth_to(asked(e.carbon)).expect("reached") * 1e3, mm)
            }
        };
        println!("{got:9.3e} printed {want:9.3e}  {} ({})", e.source, e.status);
        assert!((got / want - 1.0).abs() < TOLERANCE, "{}: {got}, printed {want}", e.source);
    }
}

/// Depth ratio 930 / 870 °C for equal times is 1.45 with Q = 140 kJ/mol: same Chinese exercise,
/// inputs and printed answer confirmed.
#[test]
fn depth_ratio_of_two_temperatures() {
    let form = Form::Arrhenius { d0: 2.0e-5, q: 140_000.0 };
    let held = Exchange { potential: Potential::Fixed(1.0), ..Exchange::BARE };
    let depth = |c| steady(&form, held, Section::Thick, 0.1, c, 600.0).depth_to(0.45).expect("reached");
    let ratio = depth(930.0) / depth(870.0);
    assert!((ratio / 1.45 - 1.0).abs() < TOLERANCE, "{ratio}");
}
