//! Writes drawn faces and their truth to a folder:
//! `OUT=pics FIRST=1000 COUNT=40 cargo test draw_faces -- --ignored`.
//! Seeds 1000 to 1999 are for development; those from 5000 on are the final ones and are never written.

use crate::support::draw_faces::{Picture, draw, lot};
use std::path::{Path, PathBuf};

fn number(name: &str, or: u64) -> u64 {
    std::env::var(name).map_or(or, |v| v.parse().unwrap_or_else(|_| panic!("{name}={v}: a whole number")))
}

fn write(folder: &Path, picture: &Picture) {
    let path = folder.join(&picture.truth.file);
    std::fs::write(&path, &picture.bytes).expect("the picture is written");
    let truth = serde_json::to_string(&picture.truth).expect("a truth is plain data");
    std::fs::write(path.with_extension("json"), truth).expect("the truth is written");
}

#[test]
#[ignore = "writes files; run by name with OUT, FIRST, COUNT"]
fn draw_faces() {
    let folder: PathBuf =
        std::env::var("OUT").map_or_else(|_| std::env::temp_dir().join("faces"), Into::into);
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    let (first, count) = (number("FIRST", 1000), number("COUNT", 40));
    assert!(first + count <= 5000, "the final seeds, from 5000 on, are not written");
    for seed in first..first + count {
        let start = std::time::Instant::now();
        let (kind, difficulty) = lot(seed);
        let picture = draw(seed, kind, difficulty);
        write(&folder, &picture);
        let t = &picture.truth;
        let seconds = start.elapsed().as_secs_f64();
        println!("{} {}x{} {} {} {seconds:.1} s", t.file, t.width, t.height, t.kind, t.difficulty);
    }
}
