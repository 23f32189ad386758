//! Published and converged cases through the program itself: the `[model]` table sets the law, the
//! surface and the cooling by hand. Source and tolerance: `tests/reference/scenarios.toml`.

use super::{run, sheet, snapspark};
use crate::support::{Scenario, WrittenPotential, scenarios};
use std::fmt::Write;

const TOLERANCE_MM: f64 = 0.0005;
const TOLERANCE_WT: f64 = 0.002;

fn written(s: &Scenario) -> String {
    let potential = match s.potential {
        WrittenPotential::WtPct(wt) => format!("{wt} %C"),
        WrittenPotential::ShareOfAcm(share) => format!("{share} Acm"),
    };
    let surface = s.beta_m_s.map_or("surface = \"held\"".into(), |beta| {
        format!("surface = \"transfer\"\ntransfer_coefficient = \"{beta:e} m/s\"")
    });
    format!(
        "run-sheet = 1\n\
             [stock]\ncarbon = \"{core} %C\"\ncoupon = \"flat\"\nthickness = \"{thickness} mm\"\npacked = \"both faces\"\n\
             [soak]\nlog = \"log.csv\"\nthermometer = \"beside the steel\"\ncooled = \"{cooled}\"\n\
             [model]\nlaw = \"{law}\"\n{surface}\npotential = \"{potential}\"\ncooling_law = \"follows Acm\"\n",
        core = s.core_wt_pct,
        thickness = 2.0 * s.section_mm,
        cooled = if s.log.len() == 2 { "quenched from the heat" } else { "in the closed pack" },
        law = s.law,
    )
}

#[test]
fn converged_scenarios_come_out_of_the_program() {
    for s in &scenarios() {
        let folder = tempfile::tempdir().unwrap();
        let mut log = "time_min,temp_C\n".to_string();
        for (min, celsius) in &s.log {
            writeln!(log, "{min},{celsius}").unwrap();
        }
        std::fs::write(folder.path().join("log.csv"), log).unwrap();
        let path = sheet(folder.path(), &written(s));
        let said = run(snapspark().args(["soak", "--quick", "--json", path.to_str().unwrap()]));
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
