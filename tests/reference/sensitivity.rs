//! What moving one input does to half an hour at 900 °C. Source: SciPy, apart from this crate.
//! Status: computed. Agren's law, surface held at 1.05 %C, core 0.15 %C, thick body.

use crate::support::{models, steady};
use snapspark::diffusion::{Exchange, Form, Potential, Profile, Section};

const CORE_WT: f64 = 0.15;
const SURFACE_WT: f64 = 1.05;
const TOTAL_WT: f64 = CORE_WT + 0.04;
const VISIBLE_WT: f64 = 0.40;
/// Printed to whole percent, of depths that are themselves rounded to 0.001 mm: percentage points,
/// written down before the first run.
const TOLERANCE_POINTS: f64 = 1.5;
/// mm and wt%, written down before the first run: printed to 0.001, and a mesh on either side.
const TOLERANCE_TABLE: f64 = 0.002;

/// Transfer coefficient m/s; surface wt%, total mm, visible mm.
const TRANSFER: [(f64, f64, f64, f64); 4] = [
    (f64::INFINITY, 1.050, 0.386, 0.242),
    (2e-7, 0.855, 0.328, 0.177),
    (1e-7, 0.723, 0.297, 0.137),
    (5e-8, 0.568, 0.259, 0.084),
];

/// One input away from half an hour at 900 °C.
#[derive(Clone, Copy)]
struct Soak {
    law: &'static str,
    celsius: f64,
    minutes: f64,
    surface: f64,
    transfer: f64,
}

const BASE: Soak =
    Soak { law: "agren1986", celsius: 900.0, minutes: 30.0, surface: SURFACE_WT, transfer: f64::INFINITY };

/// Name, soak, change of total and visible depth in percent.
const CHANGES: [(&str, Soak, f64, f64); 10] = [
    ("10 °C colder", Soak { celsius: 890.0, ..BASE }, -6.0, -6.0),
    ("20 °C colder", Soak { celsius: 880.0, ..BASE }, -12.0, -12.0),
    ("20 °C hotter", Soak { celsius: 920.0, ..BASE }, 13.0, 13.0),
    ("20 min", Soak { minutes: 20.0, ..BASE }, -18.0, -18.0),
    ("surface 0.85 %C", Soak { surface: 0.85, ..BASE }, -8.0, -19.0),
    ("surface 1.22 %C", Soak { surface: 1.22, ..BASE }, 6.0, 13.0),
    ("transfer 1e-7 m/s", Soak { transfer: 1e-7, ..BASE }, -23.0, -43.0),
    ("Tibbetts", Soak { law: "tibbetts1980", ..BASE }, 2.0, 5.0),
    ("Callister, constant", Soak { law: "callister", ..BASE }, -24.0, -35.0),
    ("Askeland, constant", Soak { law: "askeland", ..BASE }, 29.0, 11.0),
];

impl Soak {
    fn profile(&self) -> Profile {
        let form: &Form = &models().law(self.law).expect("a shipped law").form.value;
        let potential = Potential::Fixed(self.surface);
        let exchange = Exchange { potential, transfer: self.transfer, ..Exchange::BARE };
        steady(form, exchange, Section::Thick, CORE_WT, self.celsius, self.minutes)
    }
}

fn mm(profile: &Profile, wt: f64) -> f64 {
    profile.depth_to(wt).expect("the case ends") * 1e3
}

#[test]
fn slow_surfaces_lose_surface_and_visible_case_first() {
    for (transfer, surface, total, visible) in TRANSFER {
        let profile = Soak { transfer, ..BASE }.profile();
        for (what, got, want) in [
            ("surface", profile.surface(), surface),
            ("total", mm(&profile, TOTAL_WT), total),
            ("visible", mm(&profile, VISIBLE_WT), visible),
        ] {
            println!("{transfer:e} m/s {what}: {got:.4}, printed {want:.3}");
            assert!((got - want).abs() < TOLERANCE_TABLE, "{transfer:e} m/s {what}: {got}, printed {want}");
        }
    }
}

#[test]
fn one_input_moved() {
    let base = BASE.profile();
    let mut misses = Vec::new();
    for (name, soak, total, visible) in CHANGES {
        let profile = soak.profile();
        for (what, wt, want) in [("total", TOTAL_WT, total), ("visible", VISIBLE_WT, visible)] {
            let got = (mm(&profile, wt) / mm(&base, wt) - 1.0) * 100.0;
            println!("{name}, {what}: {got:+.1} %, printed {want:+.0} %");
            if (got - want).abs() > TOLERANCE_POINTS {
                misses.push(format!("{name}, {what}: {got:+.2} %, printed {want:+.0} %"));
            }
        }
    }
    assert!(misses.is_empty(), "{}", misses.join("\n"));
}
