//! The solver against soaks that SciPy solved to convergence: `scipy_soaks.toml`, made by
//! `scipy_soaks.py` beside it (Radau IIA in time, three meshes extrapolated; status: computed).

use crate::support::{WrittenPotential, models, rows};
use serde::Deserialize;
use snapspark::diffusion::{Case, Direction, Exchange, Fineness, Leg, Profile, Section, march};
use snapspark::steel::PhaseLimits;
use std::collections::BTreeMap;

/// The target of the project: within this of converged.
const TOLERANCE_MM: f64 = 0.0005;
const TOLERANCE_WT: f64 = 0.001;
/// Carbon that passed the surface equals carbon gained, wt% mm.
const TOLERANCE_BALANCE: f64 = 1e-9;

#[derive(Deserialize)]
struct File {
    soak: Vec<Soak>,
}

#[derive(Deserialize)]
struct Soak {
    name: String,
    law: String,
    core_wt_pct: f64,
    shape: String,
    thickness_mm: Option<f64>,
    diameter_mm: Option<f64>,
    beta_m_s: Option<f64>,
    potential: WrittenPotential,
    stage: Vec<Stage>,
    log: Option<Vec<(f64, f64)>>,
    log_file: Option<String>,
    result: Expected,
}

#[derive(Deserialize)]
struct Stage {
    until_min: f64,
    exchange: String,
}

#[derive(Deserialize)]
struct Expected {
    surface_wt_pct: f64,
    far_wt_pct: f64,
    uptake_wt_pct_mm: f64,
    depth_mm: BTreeMap<String, f64>,
    carbon_wt_pct: BTreeMap<String, f64>,
}

impl Soak {
    /// Seconds and kelvin.
    fn log(&self) -> Vec<(f64, f64)> {
        let si = |(min, c): (f64, f64)| (min * 60.0, c + 273.15);
        if let Some(points) = &self.log {
            return points.iter().copied().map(si).collect();
        }
        let name = self.log_file.as_ref().expect("a soak has a log");
        rows(name).into_iter().map(si).collect()
    }

    fn section(&self) -> Section {
        let mm = |v: Option<f64>| v.expect("the shape has its size") * 1e-3;
        match self.shape.as_str() {
            "thick" => Section::Thick,
            "plate-both" => Section::Plate { depth: mm(self.thickness_mm) / 2.0 },
            "plate-one" => Section::Plate { depth: mm(self.thickness_mm) },
            "round" => Section::Round { radius: mm(self.diameter_mm) / 2.0 },
            other => panic!("unknown shape {other}"),
        }
    }

    /// The log cut at the ends of the stages.
    fn legs(&self, log: &[(f64, f64)]) -> Vec<(Vec<(f64, f64)>, Exchange)> {
        let both = Exchange {
            potential: self.potential.into(),
            transfer: self.beta_m_s.unwrap_or(f64::INFINITY),
            direction: Direction::BothWays,
        };
        let mut start = log[0].0;
        self.stage
            .iter()
            .map(|stage| {
                let end = (stage.until_min * 60.0).min(log[log.len() - 1].0);
                let inner = log.iter().copied().filter(|p| p.0 > start && p.0 < end);
                let points = std::iter::once((start, at(log, start)))
                    .chain(inner)
                    .chain(std::iter::once((end, at(log, end))))
                    .collect();
                start = end;
                let direction = match stage.exchange.as_str() {
                    "both-ways" => Direction::BothWays,
                    "one-way" => Direction::Inward,
                    "sealed" => Direction::Closed,
                    other => panic!("unknown exchange {other}"),
                };
                (points, Exchange { direction, ..both })
            })
            .collect()
    }

    fn solve(&self, phase: &PhaseLimits, fineness: Fineness) -> (Profile, f64) {
        let models = models();
        let law = models.law(&self.law).expect("a shipped law");
        let log = self.log();
        let legs = self.legs(&log);
        let legs: Vec<Leg> =
            legs.iter().map(|(points, exchange)| Leg { points, exchange: *exchange }).collect();
        let case = Case {
            form: &law.form.value,
            factor: 1.0,
            phase,
            section: self.section(),
            core: self.core_wt_pct,
            fineness,
        };
        let solution = march(&case, &legs).expect("the solver converges");
        let last = solution.profiles.last().expect("a profile for each leg").clone();
        let leak = (solution.inflow * 1e3 - last.uptake_wt_percent_mm()).abs();
        (last, leak)
    }

    /// Worst differences from SciPy: mm, wt%.
    fn differences(&self, profile: &Profile) -> (f64, f64) {
        let expected = &self.result;
        let mut mm = 0.0_f64;
        for (level, want) in &expected.depth_mm {
            let wt = match level.strip_prefix("core+") {
                Some(above) => self.core_wt_pct + above.parse::<f64>().expect("a number"),
                None => level.parse().expect("a number"),
            };
            let got = profile.depth_to(wt).unwrap_or_else(|| panic!("{}: never {wt}", self.name));
            mm = mm.max((got * 1e3 - want).abs());
        }
        let mut wt = (profile.surface() - expected.surface_wt_pct).abs();
        wt = wt.max((profile.far() - expected.far_wt_pct).abs());
        wt = wt.max((profile.uptake_wt_percent_mm() - expected.uptake_wt_pct_mm).abs());
        for (depth, want) in &expected.carbon_wt_pct {
            let depth: f64 = depth.parse().expect("a number");
            wt = wt.max((profile.at(depth * 1e-3) - want).abs());
        }
        (mm, wt)
    }
}

fn at(log: &[(f64, f64)], t: f64) -> f64 {
    let i = log.partition_point(|p| p.0 <= t).clamp(1, log.len() - 1);
    let ((t0, k0), (t1, k1)) = (log[i - 1], log[i]);
    k0 + (k1 - k0) * ((t - t0) / (t1 - t0)).clamp(0.0, 1.0)
}

fn soaks() -> Vec<Soak> {
    let file: File = toml::from_str(include_str!("scipy_soaks.toml")).expect("the table parses");
    file.soak
}

#[test]
fn within_the_target_of_converged() {
    let phase = &models().phase;
    let mut missed = Vec::new();
    for soak in soaks() {
        let (profile, leak) = soak.solve(phase, Fineness::DEFAULT);
        let (mm, wt) = soak.differences(&profile);
        println!("{:26} {mm:.5} mm {wt:.6} wt% balance {leak:.1e}", soak.name);
        if mm > TOLERANCE_MM || wt > TOLERANCE_WT || leak > TOLERANCE_BALANCE {
            missed.push(format!("{}: {mm:.5} mm, {wt:.5} wt%, balance {leak:.1e}", soak.name));
        }
    }
    assert!(missed.is_empty(), "off by more than allowed:\n{}", missed.join("\n"));
}

/// Halving spacing and steps brings the answer at least 3 times closer, until the rest is noise.
#[test]
fn second_order() {
    let phase = &models().phase;
    let fine = |k: f64| Fineness { nodes_per_unit: 12.0 * k, steps: (24.0 * k) as usize };
    for soak in soaks().iter().filter(|s| s.log.as_ref().is_some_and(|l| l.len() == 2)) {
        let error = |k: f64| {
            let (mm, wt) = soak.differences(&soak.solve(phase, fine(k)).0);
            mm.max(wt)
        };
        let (coarse, halved) = (error(1.0), error(2.0));
        assert!(halved < coarse / 3.0 || halved < 2e-5, "{}: {coarse:.2e} then {halved:.2e}", soak.name);
    }
}
