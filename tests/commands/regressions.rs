//! Runs that once came out wrong: one test a fault, named for what was wrong.

use super::{run, sheet, snapspark};
use serde_json::Value;
use std::fmt::Write;

/// Minutes and °C.
type Log = Vec<(f64, f64)>;

/// Soaks a sheet, with `log.csv` beside it, and answers in JSON.
fn soak(text: &str, log: &Log) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let mut csv = "time_min,temp_C\n".to_string();
    for (min, celsius) in log {
        writeln!(csv, "{min},{celsius:.2}").unwrap();
    }
    std::fs::write(folder.path().join("log.csv"), csv).unwrap();
    let path = sheet(folder.path(), &format!("run-sheet = 1\n{text}"));
    let said = run(snapspark().args(["soak", "--quick", "--json", path.to_str().unwrap()]));
    assert_eq!(said.code, Some(0), "{}", said.err);
    serde_json::from_str(&said.out).unwrap()
}

fn last<'a>(answer: &'a Value, reading: &str) -> &'a Value {
    let stages = answer["prediction"]["stages"].as_array().unwrap();
    &stages[stages.len() - 1]["readings"][reading]
}

fn best(answer: &Value, reading: &str) -> f64 {
    last(answer, reading)["best"].as_f64().unwrap_or_else(|| panic!("no {reading}"))
}

fn has_note(answer: &Value, code: &str) -> bool {
    answer["prediction"]["notes"].as_array().unwrap().iter().any(|n| n["code"] == code)
}

fn stages(answer: &Value) -> Vec<&str> {
    let stages = answer["prediction"]["stages"].as_array().unwrap();
    stages.iter().map(|s| s["stage"].as_str().unwrap()).collect()
}

/// 45 min up, 90 min at 920 °C swinging by `swing` K, then Newton's cooling for so many minutes.
fn kiln(cooling: i32, swing: f64) -> Log {
    (0..=135 + cooling)
        .map(|m| {
            let m = f64::from(m);
            let celsius = if m < 45.0 {
                20.0 + 20.0 * m
            } else if m <= 135.0 {
                920.0 + swing * (0.7 * m).sin()
            } else {
                20.0 + 900.0 * (-(m - 135.0) / 60.0).exp()
            };
            (m, celsius)
        })
        .collect()
}

const BESIDE: &str = "[soak]\nlog = \"log.csv\"\nthermometer = \"beside the steel\"\n";

#[test]
fn a_log_that_runs_until_the_box_is_cold_still_cools() {
    let short = soak(BESIDE, &kiln(120, 0.0));
    let long = soak(BESIDE, &kiln(600, 0.0));
    assert_eq!(stages(&long), ["soak", "cooling in the pack"]);
    assert!((best(&short, "surface_carbon") - best(&long, "surface_carbon")).abs() < 0.005);
}

#[test]
fn swings_at_the_end_are_no_cooling() {
    let swinging = soak(BESIDE, &kiln(0, 8.0));
    let flat = soak(BESIDE, &kiln(0, 0.0));
    assert!(has_note(&swinging, "cooling_assumed") && !has_note(&swinging, "cooling_guessed"));
    assert!((best(&swinging, "surface_carbon") - best(&flat, "surface_carbon")).abs() < 0.02);
}

#[test]
fn a_log_that_stops_in_its_fall_is_followed_down() {
    let answer = soak(BESIDE, &kiln(8, 0.0));
    assert!(has_note(&answer, "cooling_assumed"));
    let steps = "[soak]\nsteps = [\"20 min to 925C\", \"hold 1 h\", \"cool in pack 1 h to 880C\"]\n";
    assert!(has_note(&soak(steps, &kiln(0, 0.0)), "cooling_assumed"));
}

#[test]
fn a_quench_keeps_all_of_a_drifting_soak() {
    let drift: Log = vec![(0.0, 20.0), (45.0, 920.0), (135.0, 812.0)];
    let quenched = soak(&format!("{BESIDE}cooled = \"quenched from the heat\"\n"), &drift);
    let packed = soak(&format!("{BESIDE}cooled = \"in the closed pack\"\n"), &drift);
    assert!(best(&quenched, "total_case_depth") > 0.9 * best(&packed, "total_case_depth"));
    // falling from its first reading
    let falling: Log = vec![(0.0, 900.0), (30.0, 850.0), (60.0, 700.0)];
    assert_eq!(stages(&soak(&format!("{BESIDE}cooled = \"quenched from the heat\"\n"), &falling)), ["soak"]);
}

#[test]
fn no_time_at_all_is_no_panic() {
    let steps =
        "[soak]\nsteps = [\"0 min to 925C\", \"hold 0 min\", \"quench\"]\nthermometer = \"outside\"\n";
    let folder = tempfile::tempdir().unwrap();
    let path = sheet(folder.path(), &format!("run-sheet = 1\n{steps}"));
    let said = run(snapspark().args(["soak", "--quick", path.to_str().unwrap()]));
    assert!(matches!(said.code, Some(0 | 1)), "{:?} {}", said.code, said.err);
    assert!(!said.err.contains("panicked"), "{}", said.err);
}

#[test]
fn two_hundred_thousand_readings_do_not_hang() {
    let log: Log = (0..200_000)
        .map(|i| {
            let min = f64::from(i) / 600.0;
            (min, if min < 45.0 { 20.0 + 20.0 * min } else { 920.0 - 0.3 * (min - 45.0) })
        })
        .collect();
    let start = std::time::Instant::now();
    soak(BESIDE, &log);
    // generous: a slow machine, a debug build; it once took most of a minute
    assert!(start.elapsed().as_secs() < 20);
}

#[test]
fn a_witness_beside_the_steel_binds_the_steel() {
    let silver = "[[soak.witness]]\nmetal = \"silver\"\nmelted = true\nsat = \"beside the steel\"\n";
    let pack = "[pack]\ncontainer = \"box\"\ninside = \"80 mm\"\ncompound = \"powder\"\n";
    let answer = soak(&format!("[soak]\ntime_at_heat = \"60 min\"\n{silver}{pack}"), &kiln(0, 0.0));
    assert!(best(&answer, "top_temperature") > 950.0, "{}", best(&answer, "top_temperature"));
    // a wall hotter than the steel is no contradiction of a thermometer beside it
    let wall = silver.replace("beside the steel", "at the wall");
    assert!(!has_note(&soak(&format!("{BESIDE}{wall}"), &kiln(120, 0.0)), "witness_against_log"));
    let beside = soak(&format!("{BESIDE}{silver}"), &kiln(120, 0.0));
    assert!(has_note(&beside, "witness_against_log"));
    assert!(last(&beside, "top_temperature")["high"].as_f64().unwrap() > 970.0);
    // a later heat is not what a witness in the pack saw
    let steps = "[soak]\nsteps = [\"30 min to 920C\", \"hold 1 h\", \"cool in pack\", \"foil 10 min at 1000C\"]\n\
                 thermometer = \"beside the steel\"\n";
    let kept = silver.replace("melted = true", "melted = false");
    assert!(!has_note(&soak(&format!("{steps}{kept}"), &kiln(0, 0.0)), "witness_against_log"));
}

#[test]
fn steel_that_never_warmed_is_not_hot_when_the_pack_is_opened() {
    let cold = "[pack]\ncontainer = \"box\"\ninside = \"600 mm\"\ncompound = \"powder\"\n[soak]\n\
                steps = [\"30 min to 925C\", \"hold 30 min\", \"open hot\"]\nthermometer = \"outside\"\n";
    let answer = soak(cold, &kiln(0, 0.0));
    assert!(best(&answer, "surface_carbon") > 0.1, "no carbon burns off cold steel");
    assert!(best(&answer, "top_temperature") < 300.0);
}

#[test]
fn a_range_of_time_and_a_thermometer_widen_the_answer() {
    let with = |time: &str| {
        format!(
            "[soak]\ntime_at_heat = \"{time}\"\ntemperature = \"900C\"\nthermometer = \"beside the steel\"\n"
        )
    };
    let wide = soak(&with("40-200 min"), &kiln(0, 0.0));
    let longest = soak(&with("200 min"), &kiln(0, 0.0));
    assert!(last(&wide, "total_case_depth")["high"].as_f64().unwrap() > best(&longest, "total_case_depth"));
    let top = last(&longest, "top_temperature");
    assert!(top["low"].as_f64().unwrap() < 895.0 && top["high"].as_f64().unwrap() > 905.0, "{top}");
}

#[test]
fn stock_above_the_criterion_is_through_not_a_depth() {
    let rich = format!("[stock]\ncarbon = \"0.45 %C\"\ncoupon = \"flat\"\nthickness = \"60 mm\"\n{BESIDE}");
    let answer = soak(&rich, &kiln(120, 0.0));
    assert_eq!(last(&answer, "visible_case_depth")["through"], true);
    assert!(has_note(&answer, "stock_over_criterion"));
}

#[test]
fn a_lean_pack_takes_carbon_out() {
    let lean = format!("[stock]\ncarbon = \"0.5 %C\"\n{BESIDE}[model]\npotential = \"0.2 %C\"\n");
    let answer = soak(&lean, &kiln(120, 0.0));
    for reading in ["surface_carbon", "mass_gain"] {
        let range = last(&answer, reading);
        assert!(range["low"].as_f64().unwrap() < range["best"].as_f64().unwrap(), "{reading}: {range}");
    }
}

#[test]
fn one_bevel_past_the_middle_meets_the_other_surface() {
    let face = |off: &str| {
        let piece =
            format!("[piece]\nedge_thickness = \"1.5 mm\"\nmetal_off = \"{off}\"\nbevels = \"one\"\n");
        best(&soak(&format!("{piece}{BESIDE}"), &kiln(120, 0.0)), "ground_face_carbon")
    };
    assert!(face("1.5 mm") > 0.8 && face("0.75 mm") < 0.5);
    assert!((face("1.2 mm") - face("0.3 mm")).abs() < 1e-9);
}

#[test]
fn a_layer_ground_deeper_than_the_case_is_mostly_core() {
    let mean = |depth: &str| {
        let sheet = format!("{BESIDE}[spark]\nground_depth = \"{depth}\"\nrays = \"many\"\n");
        best(&soak(&sheet, &kiln(120, 0.0)), "ground_layer_carbon")
    };
    assert!(mean("10 mm") < mean("3 mm") && mean("3 mm") < mean("1 mm"));
    assert!(mean("10 mm") < 0.25);
}

#[test]
fn carbon_that_cannot_be_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    for wrong in ["[stock]\ncarbon = \"6 %C\"\n", "[model]\npotential = \"6 %C\"\n"] {
        let path =
            sheet(folder.path(), &format!("run-sheet = 1\n{wrong}[soak]\nsteps = [\"hold 1 h at 900C\"]\n"));
        let said = run(snapspark().args(["soak", "--quick", path.to_str().unwrap()]));
        assert!(said.code == Some(1) && said.err.contains("allowed: 0 to 2.1 %C"), "{}", said.err);
    }
}

#[test]
fn a_profile_never_overwrites_what_it_is_made_from() {
    let folder = tempfile::tempdir().unwrap();
    let path = sheet(folder.path(), "run-sheet = 1\n[soak]\nlog = \"log.csv\"\n");
    let log = folder.path().join("log.csv");
    std::fs::write(&log, "time_min,temp_C\n0,20\n60,900\n120,900\n").unwrap();
    for target in [&path, &log] {
        let before = std::fs::read(target).unwrap();
        let said = run(snapspark().args([
            "soak",
            "--quick",
            path.to_str().unwrap(),
            "--profile",
            target.to_str().unwrap(),
        ]));
        assert!(said.code == Some(1) && said.err.contains("overwrite what it is made from"), "{}", said.err);
        assert_eq!(std::fs::read(target).unwrap(), before);
    }
}

#[test]
fn words_of_the_sheet_send_nothing_to_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let piece = "[piece]\nwhat = \"a\\u001b[31mb\"\nedge_thickness = \"2 mm\"\n";
    let path =
        sheet(folder.path(), &format!("run-sheet = 1\n{piece}[soak]\nsteps = [\"hold 1 h at 900C\"]\n"));
    let said = run(snapspark().args(["soak", "--quick", path.to_str().unwrap()]));
    assert!(said.code == Some(0) && !said.out.contains('\u{1b}'));
}
