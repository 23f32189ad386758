//! The converged scenarios of `tests/reference/scenarios.toml`.

use serde::Deserialize;
use snapspark::diffusion::Potential;
use std::collections::BTreeMap;

#[derive(Deserialize)]
struct File {
    scenario: Vec<Scenario>,
}

/// One soak with what it gives; units in the names, `log` in minutes and °C.
#[derive(Deserialize)]
pub(crate) struct Scenario {
    pub(crate) id: String,
    pub(crate) law: String,
    pub(crate) log: Vec<(f64, f64)>,
    pub(crate) core_wt_pct: f64,
    pub(crate) potential: WrittenPotential,
    /// Left out: the surface is held at the potential.
    pub(crate) beta_m_s: Option<f64>,
    pub(crate) section_mm: f64,
    pub(crate) surface_wt_pct: f64,
    pub(crate) far_wt_pct: f64,
    pub(crate) uptake_wt_pct_mm: f64,
    pub(crate) mass_gain_g_m2: f64,
    /// By criterion: a carbon content, or "core+0.05".
    pub(crate) depth_mm: BTreeMap<String, f64>,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum WrittenPotential {
    WtPct(f64),
    ShareOfAcm(f64),
}

impl From<WrittenPotential> for Potential {
    fn from(written: WrittenPotential) -> Self {
        match written {
            WrittenPotential::WtPct(wt) => Self::Fixed(wt),
            WrittenPotential::ShareOfAcm(share) => Self::ShareOfAcm(share),
        }
    }
}

pub(crate) fn scenarios() -> Vec<Scenario> {
    let file: File = toml::from_str(include_str!("../reference/scenarios.toml")).expect("the table parses");
    file.scenario
}
