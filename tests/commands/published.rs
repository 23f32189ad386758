//! Published and converged cases through the program itself: the `[model]` table sets the law, the
//! surface and the cooling by hand. Source and tolerance: `tests/reference/scenarios.toml`.

use super::{run, sheet, snapspark};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fmt::Write;

const TOLERANCE_MM: f64 = 0.0005;
const TOLERANCE_WT: f64 = 0.002;

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
    potential: BTreeMap<String, f64>,
    beta_m_s: Option<f64>,
    section_mm: f64,
    surface_wt_pct: f64,
    far_wt_pct: f64,
    mass_gain_g_m2: f64,
    depth_mm: BTreeMap<String, f64>,
}

impl Scenario {
    fn sheet(&self) -> String {
        let potential = match (self.potential.get("wt_pct"), self.potential.get("share_of_acm")) {
            (Some(wt), _) => format!("{wt} %C"),
            (_, Some(share)) => format!("{share} Acm"),
            _ => panic!("{} has no potential", self.id),
        };
        let surface = self.beta_m_s.map_or("surface = \"held\"".into(), |beta| {
            format!("surface = \"transfer\"\ntransfer_coefficient = \"{beta:e} m/s\"")
        });
        format!(
            "run-sheet = 1\n\
             [stock]\ncarbon = \"{core} %C\"\ncoupon = \"flat\"\nthickness = \"{thickness} mm\"\npacked = \"both faces\"\n\
             [soak]\nlog = \"log.csv\"\nthermometer = \"beside the steel\"\ncooled = \"{cooled}\"\n\
             [model]\nlaw = \"{law}\"\n{surface}\npotential = \"{potential}\"\ncooling_law = \"follows Acm\"\n",
            core = self.core_wt_pct,
            thickness = 2.0 * self.section_mm,
            cooled = if self.log.len() == 2 { "quenched from the heat" } else { "in the closed pack" },
            law = self.law,
        )
    }
}

#[test]
fn converged_scenarios_come_out_of_the_program() {
    let file: File = toml::from_str(include_str!("../reference/scenarios.toml")).unwrap();
    for s in &file.scenario {
        let folder = tempfile::tempdir().unwrap();
        let mut log = "time_min,temp_C\n".to_string();
        for (min, celsius) in &s.log {
            writeln!(log, "{min},{celsius}").unwrap();
        }
        std::fs::write(folder.path().join("log.csv"), log).unwrap();
        let path = sheet(folder.path(), &s.sheet());
        let said = run(snapspark().args(["soak", "--json", path.to_str().unwrap()]));
        assert_eq!(said.code, Some(0), "{}: {}", s.id, said.err);
        let answer: serde_json::Value = serde_json::from_str(&said.out).unwrap();
        let readings = &answer["prediction"]["stages"].as_array().unwrap().last().unwrap()["readings"];
        let best =
            |name: &str| readings[name]["best"].as_f64().unwrap_or_else(|| panic!("{}: no {name}", s.id));
        let near = |name: &str, want: f64, tolerance: f64| {
            let got = best(name);
            assert!((got - want).abs() < tolerance, "{} {name}: {got}, want {want}", s.id);
        };
        near("surface_carbon", s.surface_wt_pct, TOLERANCE_WT);
        near("far_carbon", s.far_wt_pct, TOLERANCE_WT);
        near("mass_gain", s.mass_gain_g_m2, 0.002 * s.mass_gain_g_m2);
        if let Some(want) = s.depth_mm.get("0.35") {
            near("carburization_depth", *want, TOLERANCE_MM);
        }
        if let Some(want) = s.depth_mm.get("0.40") {
            near("visible_case_depth", *want, TOLERANCE_MM);
        }
    }
}
