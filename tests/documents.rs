//! What the documents say about the files beside them.

use crate::support::project;
use snapspark::files::Models;
use std::collections::BTreeSet;
use std::path::PathBuf;

fn models_folder() -> PathBuf {
    project("models")
}

/// What a command prints; that it did not take is an answer like any other.
fn said(args: &[&str]) -> String {
    let mut snapspark = assert_cmd::Command::cargo_bin("snapspark").expect("the program is built");
    let output = snapspark.current_dir(project("")).args(args).output().expect("it starts");
    let failed = matches!(output.status.code(), None | Some(1 | 2));
    assert!(!failed, "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("it speaks UTF-8")
}

/// The runs that the README shows are what the program prints, to where they stop.
#[test]
fn the_readme_shows_real_runs() {
    let readme = std::fs::read_to_string(project("README.md")).unwrap();
    let shown: Vec<&str> =
        readme.split("```text\n").skip(1).filter_map(|rest| rest.split("\n```").next()).collect();
    // the first plan of the README, its lines joined
    let plan =
        readme.split("snapspark plan").nth(2).and_then(|rest| rest.split("\nsnapspark").next()).unwrap();
    let plan: Vec<&str> = plan.split_whitespace().filter(|word| *word != "\\").collect();
    let runs = [
        vec!["check", "examples/first-run/run.toml"],
        vec!["check", "examples/oil-quench/run.toml"],
        [&["plan"], &plan[..]].concat(),
        vec!["known", "audit", "--set", "examples/known-steels"],
    ];
    assert_eq!(shown.len(), runs.len());
    for (shown, run) in shown.iter().zip(runs) {
        let output = said(&run);
        assert!(output.starts_with(shown), "the README shows:\n{shown}\n\nthe program prints:\n{output}");
    }
}

/// The README's test command is what the checks run.
#[test]
fn the_checks_run_the_readmes_commands() {
    let readme = std::fs::read_to_string(project("README.md")).unwrap();
    let checks = std::fs::read_to_string(project(".ci/run")).unwrap();
    for command in ["cargo run --release -- check examples/first-run/run.toml", "cargo test "] {
        assert!(readme.contains(command), "the README lacks `{command}`");
        let locked = command.replacen("cargo run", "cargo run --locked", 1);
        assert!(checks.contains(locked.trim()), ".ci/run lacks `{locked}`");
    }
}

/// Sheets in the README are read without a problem, and every example runs.
#[test]
fn examples_and_sheets_of_the_readme_run() {
    let readme = std::fs::read_to_string(project("README.md")).unwrap();
    let sheets: Vec<&str> =
        readme.split("```toml\n").skip(1).filter_map(|rest| rest.split("```").next()).collect();
    assert_eq!(sheets.len(), 2);
    let folder = tempfile::tempdir().unwrap();
    for sheet in sheets {
        let path = folder.path().join("run.toml");
        std::fs::write(&path, sheet).unwrap();
        assert!(said(&["soak", path.to_str().unwrap()]).contains("total case depth"));
    }
    for example in std::fs::read_dir(project("examples")).unwrap() {
        let run = example.unwrap().path().join("run.toml");
        if run.exists() {
            assert!(said(&["check", run.to_str().unwrap()]).contains("Cautions"));
        }
    }
}

/// The commands on faces that ship, in the README and beside the picture, give an answer.
#[test]
fn the_commands_on_the_example_face_run() {
    let folder = tempfile::tempdir().unwrap();
    for document in ["README.md", "examples/face/README.md"] {
        let text = std::fs::read_to_string(project(document)).unwrap();
        let command = text.lines().find_map(|l| l.strip_prefix("snapspark face examples/")).unwrap();
        let drawn = folder.path().join("found.png");
        let args =
            command.split_whitespace().map(|a| if a == "found.png" { drawn.to_str().unwrap() } else { a });
        let mut snapspark = assert_cmd::Command::cargo_bin("snapspark").expect("the program is built");
        let mut args = args.map(String::from).collect::<Vec<_>>();
        args[0] = format!("examples/{}", args[0]);
        let output = snapspark.current_dir(project("")).arg("face").args(args).output().expect("it starts");
        assert_eq!(output.status.code(), Some(0), "{document}: {}", String::from_utf8_lossy(&output.stderr));
        assert!(image::open(&drawn).is_ok(), "{document}");
    }
}

/// The README's commands on the set that ships run as they stand, in a set elsewhere.
#[test]
fn the_commands_on_the_shipped_set_run() {
    let readme = std::fs::read_to_string(project("README.md")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let set = folder.path().join("bench");
    let mut ran = 0;
    for line in readme.lines().filter(|l| l.starts_with("snapspark ") && l.ends_with("--set bench")) {
        let args = line.strip_prefix("snapspark ").unwrap().strip_suffix("bench").unwrap();
        let args: Vec<&str> = args.split_whitespace().chain(set.to_str()).collect();
        let output = said(&args);
        assert!(!output.is_empty());
        ran += 1;
    }
    assert_eq!(ran, 4);
    for record in std::fs::read_dir(project("examples/known-steels/records")).unwrap() {
        let text = std::fs::read_to_string(record.unwrap().path()).unwrap();
        assert!(text.contains("notes = \"invented"), "{text}");
    }
}

#[test]
fn the_readme_of_models_lists_every_file() {
    let readme = std::fs::read_to_string(models_folder().join("README.md")).unwrap();
    let listed: BTreeSet<String> = readme
        .lines()
        .filter_map(|line| line.strip_prefix("| [`")?.split_once('`').map(|(file, _)| file.to_owned()))
        .collect();
    let there: BTreeSet<String> = std::fs::read_dir(models_folder())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name != "README.md")
        .collect();
    assert_eq!(listed, there);
}

/// Loading fails on a key that is missing and on one that nothing uses.
#[test]
fn every_source_exists_and_is_used() {
    let models = Models::shipped().unwrap();
    assert!(models.sources.iter().all(|s| !s.author.is_empty() && !s.title.is_empty() && !s.year.is_empty()));
}
