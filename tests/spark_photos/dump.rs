//! Writes drawn pictures and their truth to a folder:
//! `SPARK_FOLDER=pics SPARK_FIRST=1 SPARK_COUNT=40 cargo test dump_spark_pictures -- --ignored`.
//! `SPARK_SIZE=8000x6000` draws them in that size, and `dump_unusable_pictures` draws what must be refused.
//! Seeds 1 to 999 are for development; those from 100000 on are the final ones and are looked at once.

use crate::support::draw_sparks::{Kind, Picture, draw, draw_unusable};
use std::path::{Path, PathBuf};

fn number(name: &str, or: u64) -> u64 {
    std::env::var(name).map_or(or, |v| v.parse().unwrap_or_else(|_| panic!("{name}={v}: a whole number")))
}

fn folder() -> PathBuf {
    let folder =
        std::env::var("SPARK_FOLDER").map_or_else(|_| std::env::temp_dir().join("sparks"), Into::into);
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    folder
}

fn pixels() -> Option<(usize, usize)> {
    let text = std::env::var("SPARK_SIZE").ok()?;
    let (w, h) = text.split_once('x').expect("SPARK_SIZE: such as 8000x6000");
    Some((w.parse().expect("a width"), h.parse().expect("a height")))
}

fn write(folder: &Path, picture: &Picture) {
    let path = folder.join(&picture.truth.file);
    std::fs::write(&path, &picture.bytes).expect("the picture is written");
    let truth = serde_json::to_string(&picture.truth).expect("a truth is plain data");
    std::fs::write(path.with_extension("json"), truth).expect("the truth is written");
}

#[test]
#[ignore = "writes files; run by name with SPARK_FOLDER, SPARK_FIRST, SPARK_COUNT"]
fn dump_spark_pictures() {
    let folder = folder();
    let (first, count) = (number("SPARK_FIRST", 1), number("SPARK_COUNT", 40));
    for seed in first..first + count {
        let start = std::time::Instant::now();
        let picture = draw(seed, pixels());
        write(&folder, &picture);
        let t = &picture.truth;
        println!(
            "{} {}x{} carriers {} resolvable {} bursts {} resolvable {} C {:?} {} {:.1} s",
            t.file,
            t.width,
            t.height,
            t.carriers.len(),
            t.resolvable().count(),
            t.bursts.len(),
            t.bursts.iter().filter(|b| b.resolvable).count(),
            t.carbon_wt_pct,
            t.rig,
            start.elapsed().as_secs_f64()
        );
    }
}

#[test]
#[ignore = "writes files; run by name with SPARK_FOLDER, SPARK_FIRST, SPARK_COUNT"]
fn dump_unusable_pictures() {
    let folder = folder();
    let (first, count) = (number("SPARK_FIRST", 1), number("SPARK_COUNT", 5));
    for kind in Kind::ALL {
        for seed in first..first + count {
            let picture = draw_unusable(kind, seed, pixels());
            write(&folder, &picture);
            let (file, apart) = (&picture.truth.file, picture.truth.resolvable().count());
            println!("{file} resolvable {apart} of {}", picture.truth.carriers.len());
        }
    }
}
