//! Writes what the models of faces are fitted from: numbers of drawn faces with seeds from 10000 on, of which none is
//! measured anywhere else. `WHAT` is `patches`, which needs the network, or `rims` and
//! `sides`, which need what is fitted to the patches too.
//!
//! `WHAT=patches OUT=training-data/face_patches.csv COUNT=400 cargo test --release face_rows_are_written -- --ignored`

use super::maker::inward;
use super::pictures::{number, picture};
use super::scored::{CASED, known};
use crate::support::draw_faces::{Class, Face, Picture, Sample, Side};
use snapspark::files::{face_model, face_net};
use snapspark::fracture::{FaceModel, ShownCell, ShownRim, shown_patches, shown_rim};
use snapspark::net::UNet;
use snapspark::photo::{Limits, Picture as Photo, decode};
use std::fmt::Write;

/// Cells that are kept of one face.
const CELLS: usize = 12;

/// Every so manieth cell, another one on each face.
fn picked(cells: Vec<(ShownCell, bool)>, seed: u64) -> Vec<(ShownCell, bool)> {
    let every = (cells.len() / CELLS).max(1);
    // a step that divides nothing goes through columns and rows alike
    cells.into_iter().skip((seed as usize * 7919) % every).step_by(every).take(CELLS).collect()
}

/// Cells with whether they are case, where the truth is fair.
fn patches(photo: &Photo, face: &Face, net: &UNet) -> Vec<(ShownCell, bool)> {
    let outline = if face.corners_px.len() == 4 { face.corners_px.clone() } else { face.outline_px.clone() };
    let samples: Vec<(&Side, &Sample)> =
        face.sides.iter().flat_map(|side| side.samples.iter().map(move |s| (side, s))).collect();
    let case = |cell: ShownCell| {
        let p = back(face, cell.at);
        let far = |s: &Sample| (s.at[0] - p[0]).hypot(s.at[1] - p[1]);
        let (side, sample) = samples.iter().min_by(|a, b| far(a.1).total_cmp(&far(b.1)))?;
        let inward = inward(face, side.index, sample.at);
        let deep = (p[0] - sample.at[0]) * inward[0] + (p[1] - sample.at[1]) * inward[1];
        (sample.fair() && !side.nicked).then(|| (cell, sample.depth.is_none_or(|d| deep < d)))
    };
    shown_patches(photo, &outline, net).into_iter().filter_map(case).collect()
}

/// From px to mm: the homography backward, by cofactors.
fn back(face: &Face, [x, y]: [f64; 2]) -> [f64; 2] {
    let h = &face.homography;
    let minor = |i: usize, j: usize| {
        let ([a, b], [c, d]) = ([(i + 1) % 3, (i + 2) % 3], [(j + 1) % 3, (j + 2) % 3]);
        h[a][c] * h[b][d] - h[a][d] * h[b][c]
    };
    let row = |j: usize| minor(0, j) * x + minor(1, j) * y + minor(2, j);
    [row(0) / row(2), row(1) / row(2)]
}

fn line(seed: u64, answer: usize, values: &[f64]) -> String {
    let mut text = format!("{seed},{answer}");
    for v in values {
        let _ = write!(text, ",{}", (v * 1000.0).round() / 1000.0);
    }
    text + "\n"
}

/// The rows of one picture.
fn rows(what: &str, picture: &Picture, net: &UNet, model: Option<&FaceModel>) -> String {
    let Some(face) = &picture.truth.face else { return String::new() };
    let photo = decode(&picture.bytes, &Limits::default()).expect("a drawn picture can be read").picture;
    let seed = picture.truth.seed;
    if what != "patches" {
        let model = model.expect("the model of patches");
        let shown = shown_rim(&photo, &known(Some(face)), model);
        return shown.map(|shown| rims(what, face, seed, &shown)).unwrap_or_default();
    }
    let cells = patches(&photo, face, net);
    picked(cells, seed).iter().map(|(cell, is)| line(seed, usize::from(*is), &cell.values)).collect()
}

/// A row of the face, or one of each side that can be asked for.
fn rims(what: &str, face: &Face, seed: u64, shown: &ShownRim) -> String {
    if what == "rims" {
        let classes = [Class::None, Class::Partial, Class::AllRound, Class::Through];
        let answer = classes.iter().position(|c| *c == face.class).expect("one of four");
        return line(seed, answer, &shown.face);
    }
    let border = matches!(face.class, Class::Partial | Class::AllRound);
    let of = |seen: &ShownCell| {
        let side = drawn_side(face, seen.at);
        (!side.nicked).then(|| line(seed, usize::from(border && side.cased >= CASED), &seen.values))
    };
    shown.sides.iter().filter_map(of).collect()
}

/// The side that was drawn nearest to a place in the picture.
fn drawn_side(face: &Face, at: [f64; 2]) -> &Side {
    let far = |side: &&Side| {
        let (a, b) = match face.corners_px.as_slice() {
            [] => return 0.0,
            corners => (corners[side.index], corners[(side.index + 1) % corners.len()]),
        };
        (f64::midpoint(a[0], b[0]) - at[0]).hypot(f64::midpoint(a[1], b[1]) - at[1])
    };
    face.sides.iter().min_by(|a, b| far(a).total_cmp(&far(b))).expect("a face has sides")
}

/// The whole table.
pub(crate) fn table(what: &str, first: u64, count: u64) -> String {
    let columns = match what {
        "patches" => FaceModel::patch_columns(),
        "rims" => FaceModel::rim_columns(),
        "sides" => FaceModel::side_columns(),
        _ => panic!("WHAT={what}: patches, rims or sides"),
    };
    let model = matches!(what, "rims" | "sides").then(|| face_model().expect("the model of patches"));
    let net = face_net().expect("the network");
    let mut text = format!(
        "# drawn faces {first} to {}: tests/face_photos/rows.rs, WHAT={what}; no face was seen\nseed,answer,{}\n",
        first + count - 1,
        columns.join(",")
    );
    for seed in first..first + count {
        if let Some(picture) = picture(seed, false) {
            text += &rows(what, &picture, &net, model.as_ref());
        }
    }
    text
}

#[test]
#[ignore = "draws for minutes and writes a file; run by name with WHAT, OUT and COUNT"]
fn face_rows_are_written() {
    let what = std::env::var("WHAT").expect("WHAT is patches, rims or sides");
    let out = std::env::var("OUT").expect("OUT names the file");
    let table = table(&what, number("FIRST", 10_000), number("COUNT", 10));
    std::fs::write(&out, table).expect("the table can be written");
}
