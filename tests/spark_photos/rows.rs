//! Places of drawn pictures to learn bursts from:
//! `OUT=places FIRST=3000 COUNT=332 cargo test --release burst_places_are_written -- --ignored`, read by
//! `training-data/burst_net.py`. Seeds 3000 to 3999 are for learning: no figure is told of them.

use super::score::{distance, one_to_one};
use crate::support::burst_net;
use crate::support::draw_sparks::{Truth, draw};
use snapspark::photo::{Limits, decode};
use snapspark::spark::{ShownPlace, shown_places};
use std::io::Write;
use std::path::{Path, PathBuf};

/// A place is a burst from within this of its middle, px and widths of a line, if that is within what counts as a find
/// of it. Judgements: nearer than half the least find allows.
const NEAR_PX: f64 = 6.0;
const NEAR_LINES: f64 = 2.2;
/// What counts as a find, px, or half the mean ray. The rule of the score.
const FIND_PX: f64 = 8.0;
/// About so many looks at no burst are written of each picture (judgement: five times as many as usual pictures have
/// bursts).
const OTHERS: usize = 150;

/// For each look the burst that it is, by number: one that is visible, was not found before, and lies near, or as near as
/// any place looked at.
fn answers(truth: &Truth, looks: &[ShownPlace]) -> Vec<Option<usize>> {
    let near = NEAR_PX.max(NEAR_LINES * truth.line_width_px.unwrap_or(0.0));
    let off = |at: [f64; 2], b: usize| distance(at, truth.bursts[b].at);
    let find = |b: usize| FIND_PX.max(0.5 * truth.bursts[b].mean_ray_px);
    let visible: Vec<usize> = (0..truth.bursts.len()).filter(|b| truth.bursts[*b].visible).collect();
    let nearest = |b: &usize| looks.iter().map(|l| off(l.at, *b)).fold(f64::INFINITY, f64::min);
    let within: Vec<f64> = visible.iter().map(|b| find(*b).min(near.max(nearest(b)))).collect();
    let answer = |look: &ShownPlace| {
        let mut pairs = Vec::new();
        for (f, at) in look.before.iter().enumerate() {
            let close = visible.iter().map(|b| (-off(*at, *b), f, *b));
            pairs.extend(close.filter(|(d, _, b)| -d <= find(*b)));
        }
        let taken = one_to_one(pairs);
        let free = visible.iter().zip(&within).filter(|(b, _)| taken.iter().all(|(_, t)| t != *b));
        let close =
            free.map(|(b, within)| (off(look.at, *b), *b, *within)).filter(|(d, _, within)| d <= within);
        close.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, b, _)| b)
    };
    looks.iter().map(answer).collect()
}

/// Per place, 32-bit little-endian: seed, rays (0: no burst), noise, ten measured numbers, 96 by 96 places of light.
#[test]
#[ignore = "writes files; run by name with OUT, FIRST, COUNT"]
fn burst_places_are_written() {
    let variable = |name: &str| std::env::var(name).unwrap_or_else(|_| panic!("{name} is not set"));
    let number = |name: &str| variable(name).parse::<u64>().unwrap_or_else(|e| panic!("{name}: {e}"));
    let folder = PathBuf::from(variable("OUT"));
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    for seed in number("FIRST")..number("FIRST") + number("COUNT") {
        let picture = draw(seed, None);
        write(&folder, seed, &picture.truth, &picture.bytes);
    }
}

fn write(folder: &Path, seed: u64, truth: &Truth, bytes: &[u8]) {
    let photo = decode(bytes, &Limits::default()).expect("a drawn picture can be read");
    let Ok(looks) = shown_places(&photo.picture, burst_net()) else { return };
    let answers = answers(truth, &looks);
    let file = std::fs::File::create(folder.join(format!("{seed}.f32"))).expect("a file");
    let mut file = std::io::BufWriter::new(file);
    // all finds, and of the others those that keep the files small
    let others = answers.iter().filter(|a| a.is_none()).count();
    let every = others.div_ceil(OTHERS).max(1);
    let kept = |(i, answer): &(usize, Option<usize>)| answer.is_some() || i % every == 0;
    for (i, answer) in answers.into_iter().enumerate().filter(kept) {
        let place = &looks[i];
        let rays = answer.map_or(0, |b| truth.bursts[b].rays_visible);
        let head = [seed as f32, rays as f32, place.noise as f32];
        let features = place.features.map(|f| f as f32);
        for v in head.iter().chain(&features).chain(&place.light) {
            file.write_all(&v.to_le_bytes()).expect("written");
        }
    }
    file.flush().expect("written");
}
