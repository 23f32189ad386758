//! k in depth = k √hours of four laws: `case_depth_constants.csv`.

use crate::support::{models, rows, steady};
use serde::Deserialize;
use snapspark::diffusion::{Exchange, Potential, Section};

/// As the head of the table says.
const TOLERANCE: f64 = 0.005;
const TOLERANCE_EXCESS_WT: f64 = 0.0005;
const CORE_WT: f64 = 0.15;

#[derive(Deserialize)]
struct Row {
    law: String,
    celsius: f64,
    surface_percent: f64,
    k_total: f64,
    k_070: f64,
    k_030: f64,
    k_040: f64,
    k_050: f64,
    uptake_g_m2: f64,
    harris_k: f64,
    excess_percent: f64,
}

#[test]
fn depth_over_root_of_time() {
    let mut misses = Vec::new();
    let (mut worst, mut worst_excess, mut compared) = (0.0_f64, 0.0_f64, 0);
    for row in rows::<Row>("case_depth_constants.csv") {
        let name = format!("{} {} °C {} %C", row.law, row.celsius, row.surface_percent);
        let form = &models().law(&row.law).expect("a shipped law").form.value;
        let held = Exchange { potential: Potential::Fixed(row.surface_percent), ..Exchange::BARE };
        let profile = steady(form, held, Section::Thick, CORE_WT, row.celsius, 60.0);
        let mm = |wt: f64| profile.depth_to(wt).expect("the case ends") * 1e3;
        for (what, got, want) in [
            ("total", mm(CORE_WT + 0.04), row.k_total),
            ("core + 0.07", mm(CORE_WT + 0.07), row.k_070),
            ("0.30", mm(0.30), row.k_030),
            ("0.40", mm(0.40), row.k_040),
            ("0.50", mm(0.50), row.k_050),
            ("uptake", profile.mass_gain_g_per_m2(), row.uptake_g_m2),
        ] {
            worst = worst.max((got / want - 1.0).abs());
            compared += 1;
            if (got / want - 1.0).abs() > TOLERANCE {
                misses.push(format!("{name}, {what}: {got:.4}, want {want}"));
            }
        }
        let excess = profile.at(row.harris_k * 1e-3) - CORE_WT;
        worst_excess = worst_excess.max((excess - row.excess_percent).abs());
        compared += 1;
        if (excess - row.excess_percent).abs() > TOLERANCE_EXCESS_WT {
            misses.push(format!("{name}, excess: {excess:.4}, want {}", row.excess_percent));
        }
    }
    println!("{compared} values, worst {:.3} %, excess {worst_excess:.5} wt%", worst * 100.0);
    assert!(compared > 400);
    assert!(misses.is_empty(), "{}", misses.join("\n"));
}
