//! Coupons that were measured another way, from `known add --face` to the rim that `check` and `soak` look for. The coupons
//! are invented.

use super::store::{Store, records};
use crate::commands::{Said, run, snapspark};
use crate::support::models;
use proptest::prelude::*;
use serde_json::Value;
use snapspark::files::known_set::{FaceFile, Kept, face_text, read_face};
use snapspark::files::problem::ProblemList;
use snapspark::known::Session;

const WATER: &str = "# turned off in four layers\nthickness = \"4 mm\"\n[fracture]\nquenched_in = \"water\"\n\
    rim = \"all round\"\ndepth = [\"0.55 mm\", \"0.6 mm\"]\ntempered = \"no\"\nbroken = \"one blow\"\n\
    [[point]]\ndepth = \"0.2 mm\"\ncarbon = \"0.81\"\n[[point]]\ndepth = \"0.5 mm\"\ncarbon = \"0.50 %C\"\n\
    [[point]]\ndepth = \"0.8 mm\"\ncarbon = \"0.27-0.31 %\"\n";
const OIL: &str = "[fracture]\nquenched_in = \"oil\"\ndepth = \"0.45 mm\"\n[[point]]\ndepth = \"0.55 mm\"\nhardness = \"550 HV\"\n\
    [[point]]\ndepth = \"0.75 mm\"\nhardness = \"44 HRC\"\n[[point]]\ndepth = \"0.5 mm\"\nfile = \"58\"\n\
    [[point]]\ndepth = \"1.1 mm\"\netched = true\n";
const SHEET: &str = "run-sheet = 1\n[soak]\ntime_at_heat = \"75 min\"\ntemperature = \"900 C\"\n[fracture]\nrim = \"all round\"\n\
    depth = \"0.6 mm\"\nquenched_in = \"water\"\n";

fn add(store: &Store, face: &str, more: &[&str]) -> Said {
    let day = ["add", "--steel", "1018", "--session", "2026-03-14", "--face", face];
    store.known(&[&day[..], more].concat())
}

fn filled() -> Store {
    let store = Store::new();
    store.write("water.toml", WATER);
    store.write("oil.toml", OIL);
    for face in ["water.toml", "oil.toml"] {
        let said = add(&store, face, &[]);
        assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    }
    store
}

fn in_folder(store: &Store, args: &[&str]) -> Said {
    run(snapspark().current_dir(store.folder()).args(args))
}

fn edge(said: &Said) -> [f64; 3] {
    let data: Value = serde_json::from_str(&said.out).unwrap_or_else(|_| panic!("{}", said.err));
    let carbon = &data["prediction"]["visible_edge"]["carbon_wt_pct"];
    ["low", "best", "high"].map(|end| carbon[end].as_f64().unwrap())
}

#[test]
fn from_a_coupon_to_the_rim_that_is_looked_for() {
    let store = filled();
    let again = add(&store, "water.toml", &["--notes", "the same again"]);
    assert!(again.out.contains("There already"), "{}", again.out);
    let mut said = vec![store.known(&["list"])];
    said.push(store.known(&["show", "coupon-1018-2026-03-14", "--json"]));
    assert_eq!(said.pop().unwrap().code, Some(1), "two begin so");
    let names: Vec<String> = store.open().faces().iter().map(|(name, _)| name.clone()).collect();
    said.extend(names.iter().map(|name| store.known(&["show", name])));
    said.push(in_folder(&store, &["train", "--set", "set"]));
    said.push(store.known(&["audit"]));
    let all: Vec<String> = said
        .iter()
        .map(|s| {
            assert_eq!((s.code, s.err.as_str()), (Some(0), ""), "{}", s.out);
            store.plain(&s.out)
        })
        .collect();
    insta::assert_snapshot!("coupons", all.join("\n---\n"));
    let kept = std::fs::read(store.set().join("edge.toml")).unwrap();

    store.write("run.toml", SHEET);
    store.write("oil-run.toml", &SHEET.replace("water", "oil"));
    let shipped = edge(&in_folder(&store, &["soak", "--quick", "run.toml", "--json"]));
    assert_eq!(shipped, [0.30, 0.40, 0.55], "without a set what is believed stands");
    let learned = |sheet| {
        let both = ["soak", "check"]
            .map(|c| edge(&in_folder(&store, &[c, sheet, "--quick", "--set", "set", "--json"])));
        assert_eq!(both[0], both[1]);
        both[0]
    };
    let (water, oil) = (learned("run.toml"), learned("oil-run.toml"));
    assert!(water[2] - water[0] < shipped[2] - shipped[0] && oil[1] > water[1], "{water:?} {oil:?}");
    let text = in_folder(&store, &["soak", "--quick", "run.toml", "--set", "set"]).out;
    assert!(text.contains("1 coupon of the known steels,\n    quenched in water"), "{text}");

    // nothing of a soak moves it, and estimates do not see it
    for (from, to) in
        [("75 min", "8 h"), ("900 C", "980 C"), ("[soak]\n", "[soak]\nthermometer = \"outside\"\n")]
    {
        store.write("other.toml", &SHEET.replace(from, to));
        assert_eq!(
            edge(&in_folder(&store, &["soak", "--quick", "other.toml", "--set", "set", "--json"])),
            water
        );
        assert_eq!(in_folder(&store, &["train", "--set", "set"]).code, Some(0));
        assert_eq!(std::fs::read(store.set().join("edge.toml")).unwrap(), kept);
    }
    let face = |args: &[&str]| -> Value {
        let data: Value = serde_json::from_str(&in_folder(&store, args).out).unwrap();
        data["estimate"].clone()
    };
    assert_eq!(
        face(&["check", "--quick", "run.toml", "--json"]),
        face(&["check", "--quick", "run.toml", "--set", "set", "--json"])
    );
}

/// A quench that nobody told, and one without a coupon, leave what is believed; the first is said.
#[test]
fn a_quench_without_a_coupon_is_left_alone() {
    let store = Store::new();
    store.write("water.toml", WATER);
    add(&store, "water.toml", &[]);
    assert_eq!(in_folder(&store, &["train", "--set", "set"]).code, Some(0));
    for (to, remark) in [("oil", false), ("?", true)] {
        store.write("run.toml", &SHEET.replace("water", to));
        let said = in_folder(&store, &["soak", "--quick", "run.toml", "--set", "set", "--json"]);
        assert_eq!(edge(&said), [0.30, 0.40, 0.55]);
        assert_eq!(said.err.contains("write quenched_in into [fracture]"), remark, "{}", said.err);
    }
}

#[test]
fn coupons_are_removed_and_carried_like_all_records() {
    let store = filled();
    assert_eq!(in_folder(&store, &["train", "--set", "set"]).code, Some(0));
    for out in ["out.tar", "out"] {
        assert!(store.known(&["export", out]).out.contains("Records: 2; photos: 0."));
        let to = format!("from-{out}");
        let said = store.known_in(&to, &["import", out]);
        assert!(said.out.contains("2 imported"), "{}{}", said.out, said.err);
        assert_eq!(super::store::open(&store.folder().join(&to)).faces(), store.open().faces());
        assert!(store.known_in(&to, &["import", out]).out.contains("2 there already"));
    }
    let name = store.open().faces()[0].0.clone();
    assert_eq!(store.known(&["remove", &name]).code, Some(0));
    assert_eq!(store.open().faces().len(), 1);
    let said = in_folder(&store, &["train", "--set", "set"]);
    assert_eq!(said.out.matches("behind it").count(), 1, "{}", said.out);
    assert_eq!(store.known(&["remove", "--undo", &name]).code, Some(0));
    assert_eq!(store.open().faces().len(), 2);
    assert!(records(&store.set()).is_empty());
    let data: Value = serde_json::from_str(&store.known(&["list", "--json"]).out).unwrap();
    let points = |i: usize| data["known"]["coupons"][i]["points"].as_array().map(Vec::len);
    assert_eq!((points(0), points(1)), (Some(4), Some(3)), "{data}");
    let data: Value = serde_json::from_str(&store.known(&["audit", "--json"]).out).unwrap();
    assert_eq!(data["visible_edge"]["coupons"].as_array().map(Vec::len), Some(2), "{data}");
}

/// What a smith is told about coupons that are wrong, in a description, in a record edited by hand, and on the command
/// line.
#[test]
fn what_is_wrong_is_told() {
    let cases = [
        ("nothing", ""),
        ("a run sheet", "run-sheet = 1\n[soak]\ntime_at_heat = \"1 h\"\n[fracture]\ndepth = \"0.5 mm\"\n"),
        (
            "a soak beside it",
            "[soak]\nsteps = [\"hold 1 h\"]\n[pack]\ncompound = \"charcoal\"\n[fracture]\nquenched_in = \"oil\"\ndepth = \"0.5 mm\"\n[[point]]\ndepth = \"0.5 mm\"\ncarbon = \"0.4\"\n",
        ),
        (
            "no quench, no depth",
            "[fracture]\nrim = \"all round\"\n[[point]]\ndepth = \"0.5 mm\"\ncarbon = \"0.4\"\n",
        ),
        (
            "not quenched",
            "[fracture]\nquenched_in = \"not quenched\"\ndepth = \"0.5 mm\"\n[[point]]\ndepth = \"0.5 mm\"\ncarbon = \"0.4\"\n",
        ),
        (
            "all rim",
            "[fracture]\nquenched_in = \"oil\"\nrim = \"through\"\ndepth = \"50 %\"\n[[point]]\ndepth = \"0.5 mm\"\ncarbon = \"0.4\"\n",
        ),
        (
            "a share of what",
            "[fracture]\nquenched_in = \"oil\"\ndepth = \"20 %\"\n[[point]]\ndepth = \"0.5 mm\"\ncarbon = \"0.4\"\n",
        ),
        (
            "tempered hot, with a photo",
            "[fracture]\nquenched_in = \"oil\"\ndepth = \"0.5 mm\"\ntempered = \"400 C\"\nphotos = [\"a.jpg\"]\n[[point]]\ndepth = \"0.5 mm\"\ncarbon = \"0.4\"\n",
        ),
        (
            "hardness of what was tempered",
            "[fracture]\nquenched_in = \"oil\"\ndepth = \"0.5 mm\"\ntempered = \"180 C\"\n[[point]]\ndepth = \"0.5 mm\"\nhardness = \"50 HRC\"\n[[point]]\ndepth = \"0.5 mm\"\nfile = \"58\"\n",
        ),
        (
            "points",
            "thickness = \"3 mm\"\n[fracture]\nquenched_in = \"water\"\ndepth = \"0.5 mm\"\n[[point]]\ncarbon = \"0.4\"\n[[point]]\ndepth = \"0.5\"\ncarbon = \"3.1\"\n[[point]]\ndepth = \"0.5 mm\"\n[[point]]\ndepth = \"0.5 mm\"\ncarbon = \"0.4\"\nhardness = \"50 HRC\"\n[[point]]\ndepth = \"5 mm\"\nhardness = \"66 HRC\"\n[[point]]\ndepth = \"0.5 mm\"\nhardness = \"120 HV\"\n[[point]]\ndepth = \"0.5 mm\"\nfile = \"rasp\"\n[[point]]\ndepth = \"0.5 mm\"\netched = \"no\"\n[[point]]\ndepth = \"0.5 mm\"\ncarbn = \"0.4\"\n",
        ),
    ];
    let told = |(what, text): &(&str, &str)| match FaceFile::read(text, "coupon.toml", models()) {
        Ok(_) => format!("## {what}\nnothing wrong\n"),
        Err(problems) => format!("## {what}\n{}\n", ProblemList(&problems)),
    };
    let mut said: Vec<String> = cases.iter().map(told).collect();
    for (what, text) in [
        (
            "a record",
            "known-face = 1\nsteel = \"1018\"\nrig = \"bench\"\n[fracture]\nquenched_in = \"oil\"\ndepth = \"0.5 mm\"\n[[point]]\ndepth = \"0.5 mm\"\ncarbon = \"0.4\"\n",
        ),
        ("a record of the future", "known-face = 2\nsteel = \"1018\"\n"),
        ("a record, line after others", "steel = \"1018\"\nknown-face = 1\n"),
    ] {
        let problems = Kept::read(text, "records/coupon.toml", models()).unwrap_err();
        said.push(format!("## {what}\n{}\n", ProblemList(&problems)));
    }
    let store = Store::new();
    store.write("water.toml", WATER);
    for args in [
        &["--face", "none.toml", "--steel", "1018", "--session", "2026-03-14"][..],
        &["--face", "water.toml", "--steel", "1018"],
        &["--face", "water.toml", "--steel", "unobtainium", "--session", "2026-03-14"],
        &["--face", "water.toml", "--steel", "1018", "--session", "2026-03-14", "--rig", "bench"],
        &["--face", "water.toml", "--session", "2026-03-14"],
    ] {
        let out = store.known(&[&["add"], args].concat());
        assert!(matches!(out.code, Some(1 | 2)), "{args:?} {}", out.out);
        said.push(format!("## {}\n{}", args.join(" "), store.plain(&out.err)));
    }
    assert!(!store.set().exists());
    assert_eq!(add(&store, "water.toml", &[]).code, Some(0));
    store.write("run.toml", SHEET);
    for fault in [
        "trained-edge = 9\n",
        "trained-edge = 1\n[[quench]]\nmedium = \"milk\"\n",
        "x",
        "trained-edge = 1\n[[quench]]\nmedium = \"oil\"\ncoupons = 1\nlow-percent = 0.5\nbest-percent = 0.4\nhigh-percent = 0.6\n",
    ] {
        std::fs::write(store.set().join("edge.toml"), fault).unwrap();
        let out = in_folder(&store, &["check", "--quick", "run.toml", "--set", "set"]);
        assert_eq!(out.code, Some(1));
        said.push(format!("## edge.toml: {fault}\n{}", store.plain(&out.err)));
    }
    insta::assert_snapshot!("bad_coupons", said.join("\n"));
}

proptest! {
    /// What was told comes back from its record, whatever stands in it.
    #[test]
    fn a_coupon_comes_back(
        rim in 0..3000_u32,
        quench in prop_oneof![Just("water"), Just("brine"), Just("oil")],
        points in proptest::collection::vec((0..4000_u32, 0..4_usize, 20..120_u32), 1..6),
        notes in "(note [\\PC\\n\"\\\\]{0,40})?",
    ) {
        let mut text = format!("[fracture]\nquenched_in = \"{quench}\"\ndepth = \"{} mm\"\n", f64::from(rim) / 1000.0);
        for (depth, what, wt) in points {
            let shows = match what {
                0 => format!("carbon = \"0.{wt:03}\""),
                1 => "hardness = \"48-52 HRC\"".to_string(),
                2 => "file = \"mill file\"".to_string(),
                _ => "etched = true".to_string(),
            };
            text = format!("{text}[[point]]\ndepth = \"{depth} um\"\n{shows}\n");
        }
        let told = FaceFile::read(&text, "coupon.toml", models()).map_err(|p| TestCaseError::fail(ProblemList(&p).to_string()))?;
        let core = models().grade("1018").unwrap().carbon.value;
        let face = told.face("1018".into(), core, Session::parse("2026-03-14").unwrap(), notes.trim().into());
        let record = face_text(&face, &told).unwrap();
        prop_assert_eq!(read_face(&record, "a.toml", models()), Ok(face), "{}", record);
    }

    #[test]
    fn any_text_is_a_coupon_or_is_refused(text in "(known-face = 1\n|steel = \"1018\"\n|\\[fracture\\]\n|\\[\\[point\\]\\]\n|depth = \"\\PC{0,9}\"\n|quenched_in = oil\n|etched = true\n|\\PC{0,20}\n){0,12}") {
        if let Err(problems) = Kept::read(&text, "a.toml", models()) {
            prop_assert!(!problems.is_empty());
        }
        let _ = FaceFile::read(&text, "a.toml", models());
    }
}
