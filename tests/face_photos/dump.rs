//! Writes drawn faces and their truth to a folder:
//! `OUT=pics FIRST=1000 COUNT=40 cargo test draw_faces -- --ignored`.
//! `draw_face_sets` draws each coupon four times (first, light turned, other half, blank), `draw_unusable_faces` what
//! must be refused. Seeds 1000 to 1999 are for development, 10000 to 19999 for what is fitted; 5000 to 9999 are the final
//! ones and are never written.

use crate::support::draw_faces::{Order, Picture, Take, Unusable, draw_unusable};
use std::path::PathBuf;

fn number(name: &str, or: u64) -> u64 {
    std::env::var(name).map_or(or, |v| v.parse().unwrap_or_else(|_| panic!("{name}={v}: a whole number")))
}

/// Draws and writes the pictures of the seeds asked for.
fn write(draw: impl Fn(u64) -> Vec<Picture>) {
    let folder: PathBuf =
        std::env::var("OUT").map_or_else(|_| std::env::temp_dir().join("faces"), Into::into);
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    let (first, count) = (number("FIRST", 1000), number("COUNT", 40));
    assert!(first + count <= 5000 || first >= 10_000, "the final seeds, 5000 to 9999, are not written");
    for seed in first..first + count {
        let start = std::time::Instant::now();
        for picture in draw(seed) {
            let t = &picture.truth;
            let path = folder.join(&t.file);
            std::fs::write(&path, &picture.bytes).expect("the picture is written");
            let truth = serde_json::to_string(t).expect("a truth is plain data");
            std::fs::write(path.with_extension("json"), truth).expect("the truth is written");
            println!("{} {}x{} {} {}", t.file, t.width, t.height, t.kind, t.difficulty);
        }
        println!("{:.1} s", start.elapsed().as_secs_f64());
    }
}

#[test]
#[ignore = "writes files; run by name with OUT, FIRST, COUNT"]
fn draw_faces() {
    write(|seed| vec![Order::of(seed).draw()]);
}

#[test]
#[ignore = "writes files; run by name with OUT, FIRST, COUNT"]
fn draw_face_sets() {
    write(|seed| Take::ALL.map(|take| Order { take, ..Order::of(seed) }.draw()).into());
}

#[test]
#[ignore = "writes files; run by name with OUT, FIRST, COUNT"]
fn draw_unusable_faces() {
    write(|seed| vec![draw_unusable(Unusable::of(seed), seed, None)]);
}
