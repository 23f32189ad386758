//! The eight converged scenarios: `scenarios.toml`, `scenario_profiles.csv`.

use crate::support::{self, Scenario, models, scenarios};
use serde::Deserialize;
use snapspark::diffusion::{Direction, Exchange, Fineness, Profile, Section};

const TOLERANCE_WT: f64 = 0.002;
const TOLERANCE_MM: f64 = 0.0005;
const TOLERANCE_UPTAKE: f64 = 0.001;

#[derive(Deserialize)]
struct ProfileRow {
    scenario: String,
    depth_mm: f64,
    #[serde(rename = "wtC")]
    wt: f64,
}

fn solve(s: &Scenario) -> Profile {
    let points: Vec<(f64, f64)> = s.log.iter().map(|(min, c)| (min * 60.0, c + 273.15)).collect();
    let exchange = Exchange {
        potential: s.potential.into(),
        transfer: s.beta_m_s.unwrap_or(f64::INFINITY),
        direction: Direction::BothWays,
    };
    let form = &models().law(&s.law).expect("a shipped law").form.value;
    let section = Section::Plate { depth: s.section_mm * 1e-3 };
    support::solve(form, exchange, section, s.core_wt_pct, &points, Fineness::DEFAULT)
}

#[test]
fn converged_scenarios() {
    let rows = crate::support::rows::<ProfileRow>("scenario_profiles.csv");
    let mut compared = 0;
    for s in &scenarios() {
        let profile = solve(s);
        for row in rows.iter().filter(|r| r.scenario == s.id) {
            let got = profile.at(row.depth_mm * 1e-3);
            assert!(
                (got - row.wt).abs() < TOLERANCE_WT,
                "{} at {} mm: {got}, want {}",
                s.id,
                row.depth_mm,
                row.wt
            );
            compared += 1;
        }
        for (level, want) in &s.depth_mm {
            let wt = match level.strip_prefix("core+") {
                Some(above) => s.core_wt_pct + above.parse::<f64>().expect("a number"),
                None => level.parse().expect("a number"),
            };
            let got = profile.depth_to(wt).expect("the case ends") * 1e3;
            assert!((got - want).abs() < TOLERANCE_MM, "{} to {level}: {got} mm, want {want}", s.id);
            compared += 1;
        }
        let near = |got: f64, want: f64, what: &str| {
            assert!((got / want - 1.0).abs() < TOLERANCE_UPTAKE, "{} {what}: {got}, want {want}", s.id);
        };
        near(profile.surface(), s.surface_wt_pct, "surface");
        near(profile.far(), s.far_wt_pct, "far face");
        near(profile.uptake_wt_percent_mm(), s.uptake_wt_pct_mm, "uptake");
        near(profile.mass_gain_g_per_m2(), s.mass_gain_g_m2, "mass gain");
        compared += 4;
    }
    println!("{compared} values compared");
    assert!(compared > 800);
}
