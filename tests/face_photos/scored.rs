//! How well drawn faces are read: `FIRST=5000 COUNT=40 cargo test drawn_faces_are_scored -- --ignored --nocapture`
//! draws them, measures them and prints a line each and the figures of all; `UNUSABLE=1` those that must be refused.
//! The figures are in this folder's README.

use super::pictures::{number, picture};
use crate::support::draw_faces::{Class, Face, Kind, Order, Picture, Side};
use snapspark::files::face_model;
use snapspark::fracture::{FaceKnown, FacePhoto, FaceRefusal, SeenRim, SideSeen, measure_face};
use snapspark::photo::{Limits, decode};
use snapspark::units::{Depth, Interval};

/// A side is asked for if so much of it has a case.
pub(super) const CASED: f64 = 0.25;
/// A depth is near if it is no farther off than the larger of these: mm, and share of the depth (issue's target).
const NEAR: (f64, f64) = (0.10, 0.10);

/// What a smith would tell of the face: its thickness, and the width of one that is no square.
pub(super) fn known(face: Option<&Face>) -> FaceKnown {
    let mm = |v: f64| Depth::from_millimetres(v).expect("a drawn face is no larger than a hand");
    let Some(face) = face else {
        return FaceKnown { thickness: Some(mm(5.0)), ..FaceKnown::default() };
    };
    let [w, h] = face.size_mm;
    let width = (face.shape == "rectangle").then(|| mm(w.max(h)));
    FaceKnown { thickness: Some(mm(face.thickness_mm)), width, ..FaceKnown::default() }
}

fn measured(picture: &Picture) -> Result<FacePhoto, FaceRefusal> {
    let photo = decode(&picture.bytes, &Limits::default()).expect("a drawn picture can be read");
    let model = face_model().expect("the shipped model");
    measure_face(&photo.picture, &known(picture.truth.face.as_ref()), &model)
}

/// Depth as drawn and as read, of each side that is asked for.
fn sides(face: &Face, seen: Option<&FacePhoto>) -> Vec<(f64, Option<Interval<f64>>)> {
    let asked = |s: &&Side| !s.nicked && s.cased >= CASED;
    let read = |index: usize| {
        let seen = seen?;
        let side = match face.corners_px.len() {
            4 => {
                let (a, b) = (face.corners_px[index], face.corners_px[(index + 1) % 4]);
                let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
                let far = |s: &&SideSeen| {
                    s.border
                        .get(s.border.len() / 2)
                        .map_or(f64::INFINITY, |p| (p.from[0] - middle[0]).hypot(p.from[1] - middle[1]))
                };
                seen.sides.iter().min_by(|a, b| far(a).total_cmp(&far(b)))
            }
            _ => seen.sides.first(),
        };
        side?.case.as_ref()?.median_mm
    };
    face.sides.iter().filter(asked).filter_map(|s| Some((s.median_mm?, read(s.index)))).collect()
}

fn class(rim: SeenRim) -> Option<Class> {
    match rim {
        SeenRim::None => Some(Class::None),
        SeenRim::Partial => Some(Class::Partial),
        SeenRim::AllRound => Some(Class::AllRound),
        SeenRim::Through => Some(Class::Through),
        SeenRim::Unclear => None,
    }
}

#[test]
#[ignore = "draws and measures for minutes; run by name with FIRST and COUNT"]
fn drawn_faces_are_scored() {
    let (first, count, unusable) = (number("FIRST", 1000), number("COUNT", 10), number("UNUSABLE", 0) == 1);
    let (mut refused, mut right, mut unclear, mut case_of_none) = (0, 0, 0, 0);
    let mut all: Vec<(f64, Option<Interval<f64>>)> = Vec::new();
    for seed in first..first + count {
        let Some(picture) = picture(seed, unusable) else { continue };
        let seen = measured(&picture);
        let (truth, kind) = (picture.truth.face.as_ref(), &picture.truth.kind);
        let said = seen.as_ref().map_or_else(ToString::to_string, |s| format!("{:?}", s.rim));
        refused += usize::from(seen.is_err());
        if let (Some(face), false) = (truth, unusable) {
            let seen_class = seen.as_ref().ok().and_then(|s| class(s.rim));
            right += usize::from(seen_class == Some(face.class));
            unclear += usize::from(seen_class.is_none());
            let none = face.class == Class::None;
            case_of_none += usize::from(
                none && seen.as_ref().is_ok_and(|s| s.sides.iter().any(|side| side.case.is_some())),
            );
            let of = sides(face, seen.as_ref().ok());
            let depths: Vec<String> = of
                .iter()
                .map(|(drawn, read)| {
                    let read = read.map_or("-".into(), |r| {
                        format!("{:.3} ({:.3} to {:.3})", r.best(), r.low(), r.high())
                    });
                    format!("{drawn:.3}: {read}")
                })
                .collect();
            println!("{seed} {kind} {} {:?} {said} {}", face.shape, face.class, depths.join(", "));
            all.extend(of);
        } else {
            println!("{seed} {kind} {said}");
        }
    }
    println!(
        "{count} pictures: refused {refused}, class right {right}, unclear or refused {unclear}, depth given to no case {case_of_none}"
    );
    let read: Vec<(f64, Interval<f64>)> = all.iter().filter_map(|(d, r)| Some((*d, (*r)?))).collect();
    if read.is_empty() {
        return;
    }
    let mut off: Vec<f64> = read.iter().map(|(d, r)| (r.best() - d).abs()).collect();
    off.sort_by(f64::total_cmp);
    let near = read.iter().filter(|(d, r)| (r.best() - d).abs() <= NEAR.0.max(NEAR.1 * d)).count();
    let held = read.iter().filter(|(d, r)| r.low() <= *d && *d <= r.high()).count();
    let wide = read.iter().map(|(_, r)| r.high() - r.low()).sum::<f64>() / read.len() as f64;
    println!(
        "{} sides asked, {} read: off by {:.3} mm in the middle, {:.3} mm nine in ten; {near} near; \
         ranges hold {held}, {wide:.2} mm wide",
        all.len(),
        read.len(),
        off[off.len() / 2],
        off[off.len() * 9 / 10],
    );
}

/// Plain development faces, end to end: a floor far below what the README has, to see that nothing is broken.
#[test]
fn plain_drawn_faces_are_read() {
    let (mut right, mut asked, mut near, mut held) = (0, 0, 0, 0);
    for (i, kind) in PLAIN.into_iter().enumerate() {
        let seed = 1700 + i as u64;
        let picture = Order { kind, difficulty: 0, megapixels: Some(0.6), ..Order::of(seed) }.draw();
        let face = picture.truth.face.as_ref().expect("it has a face");
        let seen = measured(&picture).ok();
        right += usize::from(seen.as_ref().and_then(|s| class(s.rim)) == Some(face.class));
        for (drawn, read) in sides(face, seen.as_ref()) {
            asked += 1;
            let close = |r: &Interval<f64>| (r.best() - drawn).abs() <= NEAR.0.max(NEAR.1 * drawn);
            near += usize::from(read.as_ref().is_some_and(close));
            held += usize::from(read.is_some_and(|r| r.low() <= drawn && drawn <= r.high()));
        }
    }
    println!("{} faces, {right} right; {asked} sides, {near} near, {held} held", PLAIN.len());
    assert!(right * 2 >= PLAIN.len() && near * 2 >= asked && held * 2 >= asked);
}

const PLAIN: [Kind; 6] =
    [Kind::AllRound, Kind::Lighter, Kind::Darker, Kind::TextureOnly, Kind::ToneOnly, Kind::AllRound];
