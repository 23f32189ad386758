//! `--history`: what earlier runs of a furnace do to a prediction, and folders that are none.

use super::{Said, run, snapspark};
use serde_json::Value;
use std::fs;
use std::path::Path;

const NOW: &str = "examples/history/run.toml";
const EARLIER: &str = "examples/history/earlier";

fn said(args: &[&str]) -> Said {
    run(snapspark().args(args))
}

/// The furnace's runs beside `sheets`, asked about with this sheet; the folder's name taken out of what is said.
fn asked(now: &str, sheets: &[(&str, &str)]) -> Said {
    let folder = tempfile::tempdir().unwrap();
    let runs = folder.path().join("runs");
    for (name, text) in sheets {
        let path = runs.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    fs::write(folder.path().join("run.toml"), now).unwrap();
    let path = |name: &str| folder.path().join(name).display().to_string();
    let mut said = said(&["soak", &path("run.toml"), "--quick", "--history", &path("runs")]);
    let bare = |text: &str| text.replace(&format!("{}/", folder.path().display()), "");
    (said.out, said.err) = (bare(&said.out), bare(&said.err));
    said
}

/// The part of a page about earlier runs.
fn part(page: &str) -> String {
    let from = page.lines().skip_while(|line| !(line.starts_with("From ") && line.contains(" earlier run")));
    from.take_while(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
}

fn text(path: &str) -> String {
    fs::read_to_string(crate::support::project(path)).unwrap()
}

#[test]
fn earlier_runs_in_words() {
    let said = said(&["soak", NOW, "--history", EARLIER]);
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    assert!(said.out.lines().all(|l| l.chars().count() <= 80), "wider than 80 columns");
    insta::assert_snapshot!(said.out);
}

#[test]
fn earlier_runs_as_data() {
    let json = |args: &[&str]| -> Value {
        let said = said(&[&["soak", NOW, "--json"], args].concat());
        serde_json::from_str(&said.out).unwrap()
    };
    let (alone, with) = (json(&[]), json(&["--history", EARLIER]));
    assert!(alone.get("history").is_none());
    insta::assert_snapshot!(serde_json::to_string_pretty(&with["history"]).unwrap());
    let width = |answer: &Value| {
        let stages = answer["prediction"]["stages"].as_array().unwrap();
        let depth = &stages[stages.len() - 1]["readings"]["visible_case_depth"];
        depth["high"].as_f64().unwrap() - depth["low"].as_f64().unwrap()
    };
    assert!(width(&with) < width(&alone), "{} {}", width(&with), width(&alone));
}

/// What was seen of a coupon is read alike, whatever earlier runs say.
#[test]
fn the_estimate_never_sees_it() {
    let estimate = |args: &[&str]| {
        let said = said(&[&["check", "examples/history/earlier/awl.toml", "--json"], args].concat());
        let answer: Value = serde_json::from_str(&said.out).unwrap();
        (answer["estimate"].clone(), answer["prediction"].clone())
    };
    let (alone, with) = (estimate(&[]), estimate(&["--history", EARLIER]));
    assert_eq!(alone.0, with.0);
    assert_ne!(alone.1, with.1);
}

#[test]
fn a_check_and_a_plan_take_it() {
    let awl = "examples/history/earlier/awl.toml";
    let check = said(&["check", awl, "--history", EARLIER]);
    assert_eq!(check.err, "");
    let plan = said(&["plan", "--from", awl, "--reach", "0.8mm", "--history", EARLIER]);
    assert_eq!(plan.err, "");
    insta::assert_snapshot!(format!("{}\n\n{}", part(&check.out), part(&plan.out)));
}

#[test]
fn sheets_that_tell_nothing_are_named() {
    let (now, awl) = (text(NOW), text("examples/history/earlier/awl.toml"));
    let unseen = awl.split("[spark]").next().unwrap();
    let in_pack = |celsius: &str| {
        let told = format!("temperature = \"{celsius} C\"\nthermometer = \"in the pack\" #");
        awl.replace("colour = \"bright cherry\"", &told)
    };
    let by_hand = "[model]\npotential = \"0.9 Acm\"\nheat_through = \"none\"\n[spark]";
    let said = asked(
        &now,
        &[
            ("a copy.toml", &now),
            ("broken.toml", "run-sheet = 1\n[soak]\nsteps = 3\n"),
            ("by-hand.toml", &in_pack("900").replace("[spark]", by_hand)),
            ("elsewhere.toml", &awl.replace("small kiln", "big kiln")),
            ("molten.toml", &in_pack("1290")),
            ("nameless.toml", &awl.replace("furnace =", "# furnace =")),
            ("other-pack.toml", &in_pack("900").replace("50 mm", "60 mm")),
            ("other-place.toml", &in_pack("900")),
            ("twice-1.toml", &awl),
            ("inner/twice-2.toml", &awl),
            ("inner/deeper/not-read.toml", &awl),
            ("unseen.toml", unseen),
            (".hidden.toml", &awl),
            ("notes.txt", "no sheet"),
        ],
    );
    assert_eq!(said.code, Some(0), "{}", said.err);
    insta::assert_snapshot!(part(&said.out));
}

#[test]
fn folders_that_are_none() {
    let now = text(NOW);
    let many: Vec<(String, String)> = (0..1000).map(|i| (format!("{i}.toml"), format!("# {i}"))).collect();
    let many: Vec<(&str, &str)> = many.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let none = |said: Said| {
        assert_eq!((said.code, said.out.as_str()), (Some(1), ""));
        said.err
    };
    let nameless = now.replace("furnace =", "# furnace =");
    insta::assert_snapshot!(
        [
            none(asked(&now, &[])),
            none(asked(&now, &[("notes.txt", "no sheet")])),
            none(asked(&now, &[("inner/deeper/run.toml", &now)])),
            none(asked(&now, &many)),
            none(asked(&nameless, &[("run.toml", &now)])),
            none(said(&["soak", NOW, "--history", NOW])),
            none(said(&["check", "examples/first-run/run.toml", "--history", EARLIER])),
            none(said(&["plan", "--steel", "1018", "--depth", "0.8mm", "--history", EARLIER])),
        ]
        .join("\n")
    );
}

/// Links that lead back and folders that may not be read end where they are.
#[cfg(unix)]
#[test]
fn links_go_round_no_circle() {
    let folder = tempfile::tempdir().unwrap();
    let awl = text("examples/history/earlier/awl.toml");
    fs::write(folder.path().join("awl.toml"), &awl).unwrap();
    std::os::unix::fs::symlink(folder.path(), folder.path().join("round")).unwrap();
    std::os::unix::fs::symlink("loop.toml", folder.path().join("loop.toml")).unwrap();
    std::os::unix::fs::symlink(Path::new("awl.toml"), folder.path().join("linked.toml")).unwrap();
    let said = said(&["soak", NOW, "--quick", "--history", folder.path().to_str().unwrap()]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    // what a system calls a link to itself differs
    let part = part(&said.out);
    let (others, own) = part.split_once("  - loop.toml: left out, its sheet cannot be read").unwrap();
    assert!(!own.contains("  - "), "{own}");
    insta::assert_snapshot!(others);
}
