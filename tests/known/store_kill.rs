//! `kill -9` at random moments of `known add`.

use super::store::{Store, records, whole};
use crate::support::streams::Chance;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// What was said before the end, and whether it ended by itself.
fn add(store: &Store, steel: &str, seen: &str, kill_after: Option<Duration>) -> (String, bool) {
    let out = store.folder().join("out.txt");
    let mut command = Command::new(assert_cmd::cargo::cargo_bin("snapspark"));
    command
        .current_dir(store.folder())
        .args(["known", "add", "--set", "set", "--steel", steel, "--carbon", "0.5"]);
    command.args(["--rig", "bench", "--session", "2026-03-14"]);
    if seen.starts_with("seen") || seen.starts_with("first") {
        command.arg("--told");
    }
    let file = std::fs::File::create(&out).unwrap();
    let mut child = command.arg(seen).stdout(file).stderr(Stdio::null()).spawn().unwrap();
    if let Some(delay) = kill_after {
        std::thread::sleep(delay);
        // SIGKILL; it may be done already
        let _ = child.kill();
    }
    let done = child.wait().unwrap().success();
    (std::fs::read_to_string(out).unwrap(), done)
}

/// How much longer, or shorter, the next one waits.
const STEP: f64 = 1.05;

fn kill(times: u32, seed: u64) {
    let store = Store::new();
    let mut chance = Chance::new(seed);
    let start = Instant::now();
    store.write("first.toml", "rays = 4\n");
    assert!(add(&store, "first", "first.toml", None).1);
    // follows how long it takes, so that about half are killed, most of them where it writes
    let mut usual = start.elapsed().max(Duration::from_millis(5));
    let (mut reported, mut killed) = (Vec::new(), 0);
    for i in 0..times {
        let seen = if i % 2 == 0 {
            let name = format!("photo-{i}.png");
            let picture = image::GrayImage::from_fn(64, 48, |x, y| image::Luma([(x * y + i) as u8]));
            let mut picture = image::DynamicImage::ImageLuma8(picture).into_rgb8();
            picture.put_pixel(0, 0, image::Rgb([i as u8, (i >> 8) as u8, 1]));
            picture.save(store.folder().join(&name)).unwrap();
            name
        } else {
            let name = format!("seen-{i}.toml");
            store.write(&name, &format!("rays = 4\ntouches = {}\n", i % 200 + 1));
            name
        };
        let steel = format!("steel {i}");
        let (said, done) = add(&store, &steel, &seen, Some(usual.mul_f64(0.5 + chance.unit())));
        killed += u32::from(!done);
        usual = usual.mul_f64(if done { 1.0 / STEP } else { STEP });
        if let Some(name) = said.strip_prefix("Added: ").and_then(|rest| rest.lines().next()) {
            reported.push((name.to_string(), steel));
        }
    }
    let set = store.open();
    whole(&set);
    for (name, steel) in &reported {
        let there = set.record(name);
        assert_eq!(there.map(|s| &s.name), Some(steel), "{name} was reported as added and is not there");
    }
    // what was not reported is there as a whole or not at all, and adding again completes it
    for i in 0..times.min(20) {
        let seen = if i % 2 == 0 { format!("photo-{i}.png") } else { format!("seen-{i}.toml") };
        assert!(add(&store, &format!("steel {i}"), &seen, None).1);
    }
    let kept = records(&store.set()).len();
    println!(
        "{times} times: {killed} killed, {} reported, {} records before, {kept} at the end",
        reported.len(),
        set.records().len()
    );
    assert!(killed > times / 10, "hardly any was killed in time: {killed} of {times}");
}

#[test]
fn forty_kills_lose_nothing() {
    kill(40, 1);
}

/// About two minutes: `cargo test a_thousand_kills -- --ignored --nocapture`.
#[test]
#[ignore = "long"]
fn a_thousand_kills_lose_nothing() {
    kill(1000, 2);
}
