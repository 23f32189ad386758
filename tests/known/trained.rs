//! `train --set`, `known audit`, and answers by a rig. The steels, the rig and what was told of them are invented.

use super::store::Store;
use crate::commands::{Said, run, snapspark};
use crate::support::models;
use crate::support::streams::Chance;
use serde_json::Value;
use snapspark::files::known_set::{PublishedTrend, read_rig, write_rig};

const LEAN: &str =
    "share_bursting = 0.10\nrays = 4\ntiers = \"single\"\nonset = \"last third\"\ncompared = \"same\"\n";
const MIDDLE: &str =
    "share_bursting = 0.40\nrays = 6\ntiers = \"forked\"\nonset = \"middle\"\ncompared = \"some more\"\n";
const RICH: &str =
    "share_bursting = 0.70\nrays = 8\ntiers = \"bushy\"\nonset = \"first third\"\ncompared = \"many more\"\n";

/// Three steels on so many days, told in words by one who sees fewer bursts than the trend has.
fn store(days: usize) -> Store {
    let store = Store::new();
    for (name, told) in [("lean.toml", LEAN), ("middle.toml", MIDDLE), ("rich.toml", RICH)] {
        store.write(name, told);
    }
    for day in ["2026-03-14", "2026-04-02", "2026-05-20"].iter().take(days) {
        for (steel, told) in [("1018", "lean.toml"), ("1050", "middle.toml"), ("1095", "rich.toml")] {
            let said = store.known(&[
                "add",
                "--steel",
                steel,
                "--rig",
                "bench",
                "--session",
                day,
                "--told",
                told,
                "--state",
                "soft",
                "--notes",
                day,
            ]);
            assert_eq!(said.code, Some(0), "{}", said.err);
        }
    }
    store
}

fn in_folder(store: &Store, args: &[&str]) -> Said {
    run(snapspark().current_dir(store.folder()).args(args))
}

const SHEET: &str = "run-sheet = 1\n[soak]\ntime_at_heat = \"75 min\"\ntemperature = \"900 C\"\n[spark]\nshare_bursting = 0.40\nrays = 6\n\
                     tiers = \"forked\"\nonset = \"middle\"\ncompared = \"some more\"\nstate = \"soft\"\n";

#[test]
fn a_rig_is_trained_audited_and_read_by() {
    let store = store(3);
    let said = in_folder(&store, &["train", "--set", "set"]);
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("trained", store.plain(&said.out));
    let kept = std::fs::read(store.set().join("trees/bench.toml")).unwrap();
    let said = in_folder(&store, &["train", "--set", "set", "--rig", "bench"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert_eq!(
        std::fs::read(store.set().join("trees/bench.toml")).unwrap(),
        kept,
        "the same set, the same bytes"
    );
    let said = store.known(&["audit"]);
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("audited", said.out);
    let said = store.known(&["audit", "--json"]);
    let data: Value = serde_json::from_str(&said.out).unwrap();
    let left = &data["audit"][0]["session_left_out"];
    assert_eq!(
        (&data["audit"][0]["by"], &left["asked"], &left["exact"]),
        (&"words".into(), &9.into(), &true.into())
    );
    let said = store.known(&["advise"]);
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("advised", said.out);
    let said = store.known(&["advise", "--for", "0.7-0.9", "--json"]);
    let data: Value = serde_json::from_str(&said.out).unwrap();
    let advice = &data["advice"][0];
    assert!(
        advice["picks"][0]["doubt_then_wt_pct"].as_f64() < advice["doubt_now_wt_pct"].as_f64(),
        "{advice}"
    );
    assert_eq!(advice["uncovered_from_wt_pct"], serde_json::json!([0.65]));
    for command in ["advise", "audit"] {
        let said = store.known(&[command, "--rig", "belt"]);
        assert_eq!(said.code, Some(1));
        assert!(
            said.err.contains("no record is of rig `belt`") && said.err.contains("bench"),
            "{}",
            said.err
        );
    }
    for wrong in ["0.9-0.7", "much", "0.5", "-1-2"] {
        assert_eq!(store.known(&["advise", &format!("--for={wrong}")]).code, Some(2), "{wrong}");
    }
    store.write("run.toml", SHEET);
    let plain = in_folder(&store, &["check", "--quick", "run.toml", "--json"]);
    let by_rig =
        in_folder(&store, &["check", "--quick", "run.toml", "--rig", "bench", "--set", "set", "--json"]);
    let sparks = |said: &Said| -> Value {
        let data: Value = serde_json::from_str(&said.out).unwrap_or_else(|_| panic!("{}", said.err));
        data["estimate"]["sparks"].clone()
    };
    let (plain, by_rig) = (sparks(&plain), sparks(&by_rig));
    assert_eq!(plain.get("known"), None);
    // the very words that were told of 1050
    assert_eq!(by_rig["band"]["from_wt_pct"], 0.45, "{by_rig}");
    assert_eq!(by_rig["known"]["judged"], 9);
    let stated = &by_rig["known"]["stated"];
    assert!(stated["held"] == 0.9, "{by_rig}");
    // the same words on every day say nothing finer than the label of 1050, 0.48 to 0.55 (ASTM A29)
    let end = |name: &str| stated["carbon_wt_pct"][name].as_f64().unwrap();
    assert!(end("low") <= 0.48 && end("high") >= 0.55, "{by_rig}");
}

#[test]
fn a_rig_on_few_steels_states_nothing() {
    let store = store(1);
    assert_eq!(in_folder(&store, &["train", "--set", "set"]).code, Some(0));
    store.write("run.toml", SHEET);
    let said = in_folder(&store, &["check", "--quick", "run.toml", "--rig", "bench", "--set", "set"]);
    assert!(said.out.contains("Nothing is stated with confidence"), "{}{}", said.out, said.err);
}

#[test]
fn hardened_steels_are_left_out_and_told() {
    let store = store(1);
    let add = ["add", "--steel", "1084", "--rig", "bench", "--session", "2026-06-01", "--told", "rich.toml"];
    assert_eq!(store.known(&[&add[..], &["--state", "hardened"]].concat()).code, Some(0));
    let said = in_folder(&store, &["train", "--set", "set"]);
    assert!(said.out.contains("sparked hardened"), "{}", said.out);
}

/// A label that is far from what was told of it is named.
#[test]
fn a_record_that_looks_mislabelled_is_named() {
    let store = store(3);
    let add = ["add", "--steel", "1095", "--rig", "bench", "--session", "2026-06-01", "--told", "lean.toml"];
    assert_eq!(store.known(&add).code, Some(0));
    let said = store.known(&["audit"]);
    assert!(said.out.contains("1095-2026-06-01") && said.out.contains("looks mislabelled"), "{}", said.out);
    assert_eq!(said.out.matches("looks mislabelled").count(), 1, "{}", said.out);
}

/// A sheet may name rig and set, from its own folder on; the command line wins; what is wrong is told at its line.
#[test]
fn a_sheet_names_its_rig_and_set() {
    let store = store(3);
    assert_eq!(in_folder(&store, &["train", "--set", "set"]).code, Some(0));
    store.write("run.toml", SHEET);
    let sheet = |name: &str| SHEET.replace("[spark]\n", &format!("[spark]\n{name}\n"));
    store.write("runs/named.toml", &sheet("rig = \"bench\"\nset = \"../set\""));
    store.write("rig.toml", &sheet("rig = \"bench\""));
    let sparks = |args: &[&str]| {
        let said = in_folder(&store, &[&["check", "--quick", "--json"], args].concat());
        let data: Value = serde_json::from_str(&said.out).unwrap_or_else(|_| panic!("{}", said.err));
        data["estimate"]["sparks"].clone()
    };
    let by_line = sparks(&["run.toml", "--rig", "bench", "--set", "set"]);
    assert_eq!(by_line["known"]["judged"], 9);
    assert_eq!(sparks(&["runs/named.toml"]), by_line);
    assert_eq!(sparks(&["rig.toml", "--set", "set"]), by_line);
    store.write("wrong.toml", &sheet("rig = \"belt\"\nset = \"nowhere\""));
    assert_eq!(sparks(&["wrong.toml", "--rig", "bench", "--set", "set"]), by_line, "the command line wins");
    let mut said = Vec::new();
    for (text, args) in [
        ("rig = \"belt\"\nset = \"set\"", &[][..]),
        ("rig = \"bench\"\nset = \"nowhere\"", &[]),
        ("rig = \"../bench\"\nset = \"\"", &[]),
        ("rig = \"belt\"\nset = \"nowhere\"", &["--set", "set"]),
        ("set = \"nowhere\"", &[]),
        ("set = \"nowhere\"", &["--rig", "bench"]),
    ] {
        store.write("bad.toml", &sheet(text));
        let out = in_folder(&store, &[&["check", "--quick", "bad.toml"], args].concat());
        assert_eq!(out.code, Some(1), "{}", out.out);
        said.push(format!("## {} {}\n{}", text.replace('\n', "; "), args.join(" "), store.plain(&out.err)));
    }
    insta::assert_snapshot!("rig_and_set_of_a_sheet", said.join("\n"));
}

/// A rig's file comes back to the bit, and one with a byte or a line changed is read or refused.
#[test]
fn a_rigs_file_comes_back_or_is_refused() {
    let store = store(3);
    assert_eq!(in_folder(&store, &["train", "--set", "set"]).code, Some(0));
    let whole = std::fs::read_to_string(store.set().join("trees/bench.toml")).unwrap();
    let published = PublishedTrend::shipped(models()).unwrap();
    let read = |text: &str| read_rig(text, &published.trend, &published.exposures);
    let rig = read(&whole).unwrap();
    assert_eq!(write_rig(&rig).unwrap(), whole);
    let mut chance = Chance::new(11);
    let mut refused = 0;
    for _ in 0..300 {
        let mut bytes = whole.clone().into_bytes();
        let at = (chance.unit() * bytes.len() as f64) as usize;
        bytes[at] = b"0-.e\"[]\n=x"[(chance.unit() * 10.0) as usize];
        match read(&String::from_utf8_lossy(&bytes)) {
            Ok(rig) => assert_eq!(read(&write_rig(&rig).unwrap()).ok(), Some(rig)),
            Err(e) => {
                refused += 1;
                assert!(!e.to_string().is_empty());
            }
        }
    }
    assert!(refused > 50, "{refused}");
}

/// Whatever is wrong is said, with what to do, and nothing is overwritten.
#[test]
fn what_is_wrong_with_a_rig_is_told() {
    let store = store(1);
    store.write("run.toml", SHEET);
    let check =
        |rig: &str| in_folder(&store, &["check", "--quick", "run.toml", "--set", "set", "--rig", rig]);
    let mut said = vec![check("bench"), check("../x"), in_folder(&store, &["train", "--set", "nowhere"])];
    said.push(in_folder(&store, &["train", "--set", "set", "--rig", "belt"]));
    said.push(in_folder(&store, &["spark", "a.png", "--set", "set"]));
    assert_eq!(in_folder(&store, &["train", "--set", "set"]).code, Some(0));
    let path = store.set().join("trees/bench.toml");
    let whole = std::fs::read_to_string(&path).unwrap();
    let faults = [
        whole.replace("trained-rig = 2", "trained-rig = 9"),
        whole.replace("scatter = ", "scatter = -"),
        whole.replacen("slope", "x", 1).replacen("measure = \"rays\"", "measure = \"ray\"", 1),
        whole.replacen("[[words.line]]", "[[words.lines]]", 1),
        whole.replacen("trend_wt_pct", "trend", 1),
        whole.replacen("votes-needed = [", "votes-needed = [nan, ", 1),
        whole[..whole.len() / 2].to_string(),
        String::new(),
    ];
    for fault in faults {
        assert_ne!(fault, whole);
        std::fs::write(&path, fault).unwrap();
        said.push(check("bench"));
    }
    let all: Vec<String> = said
        .iter()
        .map(|s| {
            assert!(matches!(s.code, Some(1 | 2)), "{}{}", s.out, s.err);
            let first: Vec<&str> = s.err.lines().take(8).collect();
            store.plain(&first.join("\n"))
        })
        .collect();
    insta::assert_snapshot!("bad_rigs", all.join("\n---\n"));
}
