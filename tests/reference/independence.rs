//! The estimate and the prediction know nothing of each other: whatever changes in soak, pack, stock, model or
//! aim leaves the estimate as it was to the last byte, and whatever changes in sparks, fracture or witnesses
//! leaves the prediction so. Each line of a full sheet is dropped, and most are replaced by other valid ones.
//!
//! Two lines are read by both sides, and are named here: the size of the coupon (a rim told as a share of it is
//! a depth only with it), and the depth ground while sparking, over which the prediction takes the mean carbon
//! of the ground layer; nothing else of it may move.

use crate::support::models;
use serde_json::Value;
use snapspark::files::{Answer, Observed, RunSheet};
use snapspark::fracture::{PhotographedFace, SeenRim, ShownFace};
use snapspark::prediction::predict;
use snapspark::spark::{OverTime, Photographed, StreamFigures, StreamObservation};
use snapspark::units::Interval;
use std::io;

const FULL: &str = include_str!("../run_sheet/full.toml");
/// Changes that each side must at least stand.
const AT_LEAST: usize = 60;
/// Read by both sides: the size of the coupon, and the stock that its sparks are compared with. Neither is soak, pack or
/// aim.
const SHARED: [&str; 4] = ["stock.coupon", "stock.thickness", "stock.grade", "stock.carbon"];
const GROUND: &str = "spark.ground_depth";

/// Other valid lines of the soak's side.
const SOAK: [(&str, &[&str]); 38] = [
    ("stock.grade", &["\"1010\"", "\"1045\"", "\"mild steel\""]),
    ("stock.carbon", &["\"0.10 %C\"", "\"0.30-0.35 %C\""]),
    ("stock.packed", &["\"both faces\""]),
    ("stock.length", &["\"50 mm\""]),
    ("stock.width", &["\"10 mm\""]),
    ("stock.mass_before", &["\"20 g\"", "\"31.5 g\""]),
    ("stock.mass_after", &["\"23.40 g\""]),
    ("piece.what", &["\"a chisel\""]),
    ("piece.thickness", &["\"6 mm\""]),
    ("piece.width", &["\"40 mm\""]),
    ("piece.edge_thickness", &["\"1 mm\"", "\"3 mm\""]),
    ("piece.edge_angle", &["\"30 degrees\""]),
    ("piece.height", &["\"40 mm\""]),
    ("piece.metal_off", &["\"0.1 mm\""]),
    ("piece.bevels", &["\"one\""]),
    ("piece.coupon_sat", &["\"colder\"", "\"same\""]),
    ("pack.container", &["\"box\""]),
    ("pack.inside", &["\"3 in\"", "\"80 mm\""]),
    ("pack.wall", &["\"5 mm\""]),
    ("pack.compound", &["\"granules\"", "\"powder\"", "\"spent\"", "\"charcoal\""]),
    ("pack.vent", &["\"hole\"", "\"gaping lid\"", "\"none\""]),
    ("pack.distance_from_wall", &["\"5 mm\""]),
    ("pack.wholly_in_heat", &["false"]),
    (
        "soak.steps",
        &[
            "[\"40 min to 880C\", \"hold 30 min\", \"cool in pack\"]",
            "[\"1 h to 950C\", \"hold 4 h\", \"cool in pack 5 h to 400C\"]",
            "[\"20 min to 925C\", \"hold 1:15\", \"cool in pack 2 h to 500C\", \"air 5 min at 900C\"]",
        ],
    ),
    ("soak.thermometer", &["\"beside the steel\"", "\"outside\""]),
    ("soak.witness.metal", &["\"copper\""]),
    ("soak.witness.melted", &["true", "false"]),
    ("soak.witness.sat", &["\"beside the steel\"", "\"at the wall\""]),
    ("model.law", &["\"agren1986\""]),
    ("model.transfer_coefficient", &["\"5e-8 m/s\""]),
    ("model.potential", &["\"0.7 Acm\"", "\"1.0 %C\""]),
    ("model.cooling_law", &["\"gives nothing back\""]),
    ("model.heat_through", &["\"computed\""]),
    ("aim.depth", &["\"0.8 mm\"", "\"0.1 mm\""]),
    ("aim.criterion", &["\"visible\"", "\"total\"", "\"550 HV\"", "\"50 HRC\""]),
    ("aim.edge_carbon", &["\"0.4 %C\"", "\"0.9 %C\""]),
    ("aim.hardness", &["\"55 HRC\""]),
    ("aim.use", &["\"wearing face\"", "\"other\""]),
];

/// Other valid lines of the observations' side.
const SEEN: [(&str, &[&str]); 36] = [
    ("spark.state", &["\"hardened\""]),
    ("spark.bursts", &["\"few\"", "5"]),
    ("spark.bursts_per_carrier", &["\"none\"", "0.1"]),
    ("spark.carrier_length", &["\"short\""]),
    ("spark.stream_length", &["\"600 mm\"", "\"short\""]),
    ("spark.carriers", &["\"few\""]),
    ("spark.share_bursting", &["\"10 %\"", "\"few\""]),
    ("spark.rays", &["\"few\"", "2"]),
    ("spark.tiers", &["1", "\"none\""]),
    ("spark.onset", &["\"last third\"", "\"90 %\""]),
    ("spark.fine_sparking", &["\"none\""]),
    ("spark.compared", &["\"same\"", "\"some more\""]),
    ("spark.looks_like", &["\"1018\"", "[\"1010\", \"1018\"]"]),
    ("spark.over_time", &["\"plain throughout\"", "\"rich throughout\""]),
    ("spark.touches", &["9"]),
    ("spark.wheel", &["{ kind = \"belt\" }"]),
    ("spark.rig", &["\"belt\""]),
    ("spark.set", &["\"elsewhere\""]),
    ("spark.untreated.state", &["\"hardened\""]),
    ("spark.untreated.bursts", &["3"]),
    ("spark.untreated.carrier_length", &["\"short\""]),
    ("spark.untreated.share_bursting", &["\"half\""]),
    ("spark.untreated.tiers", &["\"forked\""]),
    ("spark.untreated.onset", &["\"middle\""]),
    ("fracture.rim", &["\"partial\"", "\"through\""]),
    ("fracture.depth", &["\"0.2 mm\"", "\"5 %\"", "[\"1 mm\", \"1.2 mm\"]"]),
    ("fracture.texture_rim", &["\"coarse\"", "\"faceted\""]),
    ("fracture.texture_core", &["\"silky\""]),
    ("fracture.shear_lip", &["true"]),
    ("fracture.quenched_in", &["\"water\"", "\"not quenched\""]),
    ("fracture.quench_heat", &["\"just past magnet\"", "\"straight from the soak\"", "\"900 C\""]),
    ("fracture.tempered", &["\"400 C\"", "\"no\""]),
    ("fracture.broken", &["\"bent first\""]),
    ("fracture.blank.rim", &["\"all round\"", "\"through\""]),
    ("witness.skin", &["\"dark scale\""]),
    ("witness.magnet", &["\"does not stick\""]),
];

/// A sheet with one line changed, and which.
struct Changed {
    field: String,
    text: String,
}

/// Every line of `sheet` dropped, and replaced by each other value there is for it.
fn changes(sheet: &str, others: &[(&str, &[&str])], sections: &[&str]) -> Vec<Changed> {
    let lines: Vec<&str> = sheet.lines().collect();
    let mut section = "";
    let mut changed = Vec::new();
    for (i, line) in lines.iter().enumerate() {
        if line.starts_with('[') {
            section = line.trim_matches(['[', ']']);
            continue;
        }
        let Some((key, _)) = line.split_once(" = ") else { continue };
        let root = section.split('.').next().unwrap();
        if !sections.contains(&root) {
            continue;
        }
        let field = format!("{section}.{key}");
        let with = |new: Option<String>| {
            let kept = lines
                .iter()
                .enumerate()
                .filter_map(|(j, l)| if j == i { new.clone() } else { Some((*l).to_string()) });
            kept.collect::<Vec<_>>().join("\n")
        };
        changed.push(Changed { field: field.clone(), text: with(None) });
        let values = others.iter().find(|o| o.0 == field).map_or(&[][..], |o| o.1);
        for value in values {
            changed.push(Changed { field: field.clone(), text: with(Some(format!("{key} = {value}"))) });
        }
    }
    changed
}

fn read(text: &str) -> Option<RunSheet> {
    RunSheet::read(text, "run.toml", &|_| Err(io::Error::other("no log")), models()).ok()
}

fn estimate(sheet: &RunSheet) -> String {
    format!("{:?}", Observed::of(sheet, None, models()).unwrap())
}

fn prediction(sheet: &RunSheet) -> String {
    let physics = models().physics(sheet.model.law.as_deref()).unwrap();
    let prediction = predict(&sheet.run(), &physics).unwrap();
    Answer::soak("run.toml", &prediction, &models().criteria).json().unwrap()
}

/// The full sheet, and the same without a model set by hand, which would hide what the pack does.
fn bases() -> [String; 2] {
    let (before, rest) = FULL.split_once("[model]").unwrap();
    let (_, after) = rest.split_once("[spark]").unwrap();
    [FULL.to_string(), format!("{before}[spark]{after}")]
}

/// What a change of one side does to the other, and to its own.
struct Stood {
    changes: usize,
    moved_own: usize,
    could_move_own: usize,
}

#[test]
fn the_estimate_knows_nothing_of_the_soak() {
    let mut stood = Stood { changes: 0, moved_own: 0, could_move_own: 0 };
    let sections: [&[&str]; 2] = [&["model"], &["stock", "piece", "pack", "soak", "aim"]];
    for (base, sections) in bases().iter().zip(sections) {
        let sheet = read(base).unwrap();
        let (seen, predicted) = (estimate(&sheet), prediction(&sheet));
        for change in changes(base, &SOAK, sections) {
            let Some(sheet) = read(&change.text) else { continue };
            if SHARED.contains(&change.field.as_str()) {
                continue;
            }
            stood.changes += 1;
            assert_eq!(estimate(&sheet), seen, "{} reaches the estimate", change.field);
            if !change.field.starts_with("aim") {
                stood.could_move_own += 1;
                stood.moved_own += usize::from(prediction(&sheet) != predicted);
            }
        }
    }
    println!(
        "{} changes, {} of {} moved the prediction",
        stood.changes, stood.moved_own, stood.could_move_own
    );
    assert!(stood.changes >= AT_LEAST && 2 * stood.moved_own > stood.could_move_own);
}

#[test]
fn the_prediction_knows_nothing_of_what_was_seen() {
    let mut stood = Stood { changes: 0, moved_own: 0, could_move_own: 0 };
    let [base, _] = bases();
    let sheet = read(&base).unwrap();
    let (seen, predicted) = (estimate(&sheet), prediction(&sheet));
    for change in changes(&base, &SEEN, &["spark", "fracture", "witness"]) {
        let Some(sheet) = read(&change.text) else { continue };
        if change.field == GROUND {
            continue;
        }
        stood.changes += 1;
        assert_eq!(prediction(&sheet), predicted, "{} reaches the prediction", change.field);
        if !change.field.starts_with("witness") {
            stood.could_move_own += 1;
            stood.moved_own += usize::from(estimate(&sheet) != seen);
        }
    }
    println!("{} changes, {} of {} moved the estimate", stood.changes, stood.moved_own, stood.could_move_own);
    assert!(stood.changes >= AT_LEAST && 2 * stood.moved_own > stood.could_move_own);
}

/// Depth ground while sparking is an answer to "over what depth": it moves the mean of the ground layer alone.
#[test]
fn ground_depth_moves_the_ground_layer_alone() {
    let [base, _] = bases();
    let line = "ground_depth = \"0.05-0.1 mm\"";
    assert!(base.contains(line));
    let of = |text: &str| serde_json::from_str::<Value>(&prediction(&read(text).unwrap())).unwrap();
    let before = of(&base);
    for other in ["", "ground_depth = \"0.4 mm\"", "ground_depth = \"a few seconds\""] {
        let mut paths = Vec::new();
        differences(&before, &of(&base.replace(line, other)), "", &mut paths);
        assert!(!paths.is_empty(), "`{other}` changes nothing");
        for path in paths {
            assert!(path.contains("ground"), "`{other}` changes {path}");
        }
    }
}

/// Paths at which two values differ.
fn differences(a: &Value, b: &Value, path: &str, found: &mut Vec<String>) {
    match (a, b) {
        (Value::Object(x), Value::Object(y)) => {
            for key in x.keys().chain(y.keys().filter(|k| !x.contains_key(*k))) {
                let (x, y) = (x.get(key).unwrap_or(&Value::Null), y.get(key).unwrap_or(&Value::Null));
                differences(x, y, &format!("{path}.{key}"), found);
            }
        }
        (Value::Array(x), Value::Array(y)) if x.len() == y.len() => {
            for (i, (x, y)) in x.iter().zip(y).enumerate() {
                differences(x, y, &format!("{path}[{i}]"), found);
            }
        }
        _ if a == b => {}
        _ => found.push(format!("{path}: {a} / {b}")),
    }
}

/// What photos show belongs to the estimate: it moves that, and nothing of the prediction.
#[test]
fn photos_move_the_estimate_alone() {
    let [base, _] = bases();
    let mut sheet = read(&base).unwrap();
    // what was told narrowly stands where photos leave it open
    let spark = sheet.spark.as_mut().unwrap();
    spark.coupon = StreamObservation { tiers: spark.coupon.tiers, ..StreamObservation::default() };
    let (seen, predicted) = (estimate(&sheet), prediction(&sheet));
    let range = |low, best, high| Interval::new(low, best, high);
    let shows = |figures| Photographed { figures: Some(Box::new(figures)), ..Photographed::default() };
    let bursts = |bursts| StreamFigures { bursts, ..StreamFigures::default() };
    let shows = [
        shows(StreamFigures { share_bursting: range(0.1, 0.15, 0.2), ..StreamFigures::default() }),
        shows(StreamFigures { rays: range(3.0, 4.0, 5.0), ..StreamFigures::default() }),
        Photographed {
            stock_figures: Some(Box::new(bursts(range(80.0, 100.0, 120.0)))),
            ..shows(bursts(range(80.0, 100.0, 120.0)))
        },
        Photographed { over_time: Some(OverTime::PlainThroughout), ..Photographed::default() },
    ];
    for photographed in shows {
        sheet.spark.as_mut().unwrap().photographed = Some(photographed.clone());
        assert_eq!(prediction(&sheet), predicted, "{photographed:?} reaches the prediction");
        assert_ne!(estimate(&sheet), seen, "{photographed:?} does not reach the estimate");
    }
}

/// A face on photos, made up: as the measurer could give it.
fn photographed(rim: SeenRim, depth: Option<Interval<f64>>) -> PhotographedFace {
    let sides = || depth.into_iter().collect();
    let shown = ShownFace { rim, depth, depth_mm: depth, sides: sides(), sides_mm: sides() };
    PhotographedFace { photos: Vec::new(), shown, transition: None, texture: None, notes: Vec::new() }
}

/// The same of the face: its photos move the estimate alone, and no soak moves what they say.
#[test]
fn photos_of_the_face_move_the_estimate_alone() {
    let [base, _] = bases();
    let with = |text: &str, face: &PhotographedFace| {
        let mut sheet = read(text)?;
        sheet.fracture.as_mut()?.coupon.photographed = Some(face.clone());
        Some(sheet)
    };
    let (seen, predicted) = (estimate(&read(&base).unwrap()), prediction(&read(&base).unwrap()));
    let deep = photographed(SeenRim::AllRound, Interval::new(0.9, 0.95, 1.0));
    for face in [photographed(SeenRim::None, None), photographed(SeenRim::Through, None), deep.clone()] {
        let sheet = with(&base, &face).unwrap();
        assert_eq!(prediction(&sheet), predicted, "{face:?} reaches the prediction");
        assert_ne!(estimate(&sheet), seen, "{face:?} does not reach the estimate");
    }
    let by_photos = estimate(&with(&base, &deep).unwrap());
    let mut changed = 0;
    for change in changes(&base, &SOAK, &["model", "piece", "pack", "soak", "aim"]) {
        let Some(sheet) = with(&change.text, &deep) else { continue };
        changed += 1;
        assert_eq!(estimate(&sheet), by_photos, "{} reaches the estimate", change.field);
    }
    assert!(changed >= AT_LEAST / 2, "{changed}");
}
