//! The eight converged scenarios: `scenarios.toml`, `scenario_profiles.csv`.

use crate::support::models;
use serde::Deserialize;
use snapspark::diffusion::{Case, Direction, Exchange, Fineness, Leg, Potential, Profile, Section, march};
use std::collections::BTreeMap;

const TOLERANCE_WT: f64 = 0.002;
const TOLERANCE_MM: f64 = 0.0005;
const TOLERANCE_UPTAKE: f64 = 0.001;

#[derive(Deserialize)]
struct File {
    scenario: Vec<Scenario>,
}

#[derive(Deserialize)]
struct Scenario {
    id: String,
    law: String,
    log: Vec<(f64, f64)>,
    core_wt_pct: f64,
    potential: WrittenPotential,
    beta_m_s: Option<f64>,
    section_mm: f64,
    surface_wt_pct: f64,
    far_wt_pct: f64,
    uptake_wt_pct_mm: f64,
    mass_gain_g_m2: f64,
    depth_mm: BTreeMap<String, f64>,
}

#[derive(Deserialize)]
#[serde(rename_all = "snake_case")]
enum WrittenPotential {
    WtPct(f64),
    ShareOfAcm(f64),
}

#[derive(Deserialize)]
struct ProfileRow {
    scenario: String,
    depth_mm: f64,
    #[serde(rename = "wtC")]
    wt: f64,
}

impl Scenario {
    fn solve(&self) -> Profile {
        let models = models();
        let points: Vec<(f64, f64)> = self.log.iter().map(|(min, c)| (min * 60.0, c + 273.15)).collect();
        let exchange = Exchange {
            potential: match self.potential {
                WrittenPotential::WtPct(wt) => Potential::Fixed(wt),
                WrittenPotential::ShareOfAcm(share) => Potential::ShareOfAcm(share),
            },
            transfer: self.beta_m_s.unwrap_or(f64::INFINITY),
            direction: Direction::BothWays,
        };
        let case = Case {
            form: &models.law(&self.law).expect("a shipped law").form.value,
            factor: 1.0,
            phase: &models.phase,
            section: Section::Plate { depth: self.section_mm * 1e-3 },
            core: self.core_wt_pct,
            fineness: Fineness::DEFAULT,
        };
        march(&case, &[Leg { points: &points, exchange }]).expect("converges").profiles.remove(0)
    }
}

#[test]
fn converged_scenarios() {
    let file: File = toml::from_str(include_str!("scenarios.toml")).expect("the table parses");
    let rows = crate::support::rows::<ProfileRow>("scenario_profiles.csv");
    let mut compared = 0;
    for s in &file.scenario {
        let profile = s.solve();
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
