//! Ten thousand records.

use super::store::{Store, records};
use crate::support::models;
use snapspark::files::known_set::{Label, record_text};
use snapspark::known::{KnownPhoto, Seen, Session};
use std::time::Instant;

/// Writes records of three photos each; the photos themselves are not needed to list them.
fn fill(store: &Store, number: u32) {
    store.write("set/set.toml", "known-steels = 1\n");
    std::fs::create_dir_all(store.set().join("records")).unwrap();
    for i in 0..number {
        let grade = &models().grades[i as usize % models().grades.len()];
        let label =
            Label::new(&grade.name, None, if i % 3 == 0 { "bench" } else { "belt" }, models()).unwrap();
        let day = format!("20{:02}-{:02}-{:02}", 10 + i % 16, 1 + i % 12, 1 + i % 28);
        let mut steel = label.on(Session::parse(&day).unwrap());
        let photo = |k: u32| KnownPhoto {
            name: format!("IMG_{k:04}.jpg"),
            hash: super::store::sha256(format!("{i} {k}").as_bytes()),
            touch: Some(k + 1),
            link: None,
        };
        steel.seen = Seen::Photos((0..3).map(photo).collect());
        let text = record_text(&steel, None).unwrap();
        std::fs::write(store.set().join(format!("records/steel-{i:05}.toml")), text).unwrap();
    }
}

#[test]
fn a_thousand_records_are_listed() {
    let store = Store::new();
    fill(&store, 1000);
    let said = store.known(&["list"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(said.out.contains("1000 records, 3000 photos, 2 rigs"), "{}", said.out.lines().next().unwrap());
    assert!(said.out.lines().all(|line| line.chars().count() <= 80));
    assert_eq!(records(&store.set()).len(), 1000);
}

/// Target: under 0.3 s. `cargo test --release ten_thousand -- --ignored --nocapture`.
#[test]
#[ignore = "for a release build"]
fn ten_thousand_records_list_at_once() {
    let store = Store::new();
    fill(&store, 10_000);
    let time = || {
        let start = Instant::now();
        assert_eq!(store.known(&["list"]).code, Some(0));
        start.elapsed().as_secs_f64()
    };
    let mut times: Vec<f64> = (0..7).map(|_| time()).collect();
    times.sort_by(f64::total_cmp);
    println!("list of 10,000 records: median {:.3} s of {times:.3?}", times[3]);
    assert!(cfg!(debug_assertions) || times[3] < 0.3, "{times:?}");
}
