//! Full disks, and two programs at once.

use super::store::{Store, records, whole};
use std::thread;

fn left_over(store: &Store) -> usize {
    let inner = ["", "records", "photos", "measured", "removed"];
    let entries =
        inner.iter().flat_map(|i| std::fs::read_dir(store.set().join(i)).into_iter().flatten().flatten());
    entries.filter(|e| e.file_name().to_string_lossy().starts_with(".part-")).count()
}

/// A file may not grow past some blocks, as on a full disk: a limit of the process that its user can set.
#[cfg(unix)]
#[test]
fn a_full_disk_leaves_nothing_half_there() {
    let store = Store::new();
    store.write("seen.toml", "rays = 4\n");
    let noise = |seed: u32| {
        let mut state = seed;
        image::GrayImage::from_fn(900, 700, |_, _| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            image::Luma([(state >> 24) as u8])
        })
    };
    noise(1).save(store.folder().join("noise.png")).unwrap();
    let day = ["--rig", "bench", "--session", "2026-03-14", "--set", "set"];
    let limited = |blocks: u32, args: &[&str]| {
        let program = assert_cmd::cargo::cargo_bin("snapspark");
        let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" known add \"$@\"");
        let mut command = assert_cmd::Command::new("sh");
        crate::commands::run(
            command.current_dir(store.folder()).arg("-c").arg(script).arg(program).args(args).args(day),
        )
    };
    let said = store.known(&[
        "add",
        "--steel",
        "1045",
        "--rig",
        "bench",
        "--session",
        "2026-03-14",
        "--told",
        "seen.toml",
    ]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    let before = records(&store.set());
    let said = limited(16, &["--steel", "1095", "noise.png"]);
    assert_eq!(said.code, Some(1), "{}", said.out);
    assert!(said.err.contains("it cannot be kept") && said.err.contains("make room"), "{}", said.err);
    assert_eq!(std::fs::read_dir(store.set().join("photos")).unwrap().count(), 0);
    let said = limited(0, &["--steel", "1084", "--told", "seen.toml"]);
    assert_eq!(said.code, Some(1), "{}", said.out);
    assert!(said.err.contains("it cannot be kept"), "{}", said.err);
    assert_eq!(records(&store.set()), before);
    assert_eq!(left_over(&store), 0);
    let said = limited(100_000, &["--steel", "1095", "noise.png"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    whole(&store.open());
}

/// Two programs add 50 records each, ten of them the same.
#[test]
fn two_writers_at_once() {
    const EACH: u32 = 50;
    const SHARED: u32 = 10;
    let store = Store::new();
    for shade in 0..SHARED {
        store.photo(&format!("shared-{shade}.png"), shade as u8);
    }
    let write = |writer: u32| {
        for i in 0..EACH {
            let (steel, seen) = if i < SHARED {
                (format!("shared {i}"), format!("shared-{i}.png"))
            } else {
                let file = format!("{writer}-{i}.toml");
                store.write(&file, &format!("rays = 4\ntouches = {}\n", i + 1));
                (format!("steel {writer} {i}"), file)
            };
            let mut args = vec![
                "add",
                "--steel",
                &steel,
                "--carbon",
                "0.5",
                "--rig",
                "bench",
                "--session",
                "2026-03-14",
            ];
            if i >= SHARED {
                args.push("--told");
            }
            args.push(&seen);
            let said = store.known(&args);
            assert_eq!(said.code, Some(0), "{}", said.err);
        }
    };
    thread::scope(|scope| {
        scope.spawn(|| write(0));
        scope.spawn(|| write(1));
    });
    whole(&store.open());
    assert_eq!(records(&store.set()).len() as u32, 2 * EACH - SHARED);
    assert_eq!(left_over(&store), 0);
}

/// What a program that was stopped left behind is cleared by the next one, a day later.
#[test]
fn old_parts_are_cleared() {
    let store = Store::new();
    store.write("seen.toml", "rays = 4\n");
    let told = ["add", "--steel", "1045", "--rig", "bench", "--session", "2026-03-14", "--told", "seen.toml"];
    store.known(&told);
    let [old, new] = ["old", "new"].map(|name| store.set().join(format!("records/.part-{name}")));
    for part in [&old, &new] {
        std::fs::write(part, "half").unwrap();
    }
    let days_ago = std::time::SystemTime::now() - std::time::Duration::from_secs(2 * 24 * 3600);
    std::fs::File::options().write(true).open(&old).unwrap().set_modified(days_ago).unwrap();
    assert_eq!(store.known(&told).code, Some(0));
    assert!(!old.exists() && new.exists());
    assert_eq!(records(&store.set()).len(), 1);
}
