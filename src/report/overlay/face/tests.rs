//! What a drawing of a face shows, told from its pixels.

use super::border::{BORDER, CORNER, OUTLINE};
use super::*;
use crate::fracture::{BorderPoint, FaceForm, SeenRim, SideDepth, SideName, SideSeen, SideUnread};
use crate::photo::{Channels, Samples};
use crate::report::overlay::palette::Colour;
use crate::units::Interval;

const SIZE: [usize; 2] = [1200, 1000];
/// Corners of the face, clockwise from the top left.
const CORNERS: [[f64; 2]; 4] = [[400.0, 300.0], [800.0, 300.0], [800.0, 700.0], [400.0, 700.0]];
const DEEP: f64 = 60.0;

fn photo() -> Picture {
    let [width, height] = SIZE;
    Picture::new(width, height, Channels::Grey, Samples::Eight(vec![90; width * height])).unwrap()
}

fn between(a: [f64; 2], b: [f64; 2], share: f64) -> [f64; 2] {
    [0, 1].map(|k| a[k] + (b[k] - a[k]) * share)
}

/// A square of 400 px, 4 mm, with a rim of 60 px all round.
fn face() -> FacePhoto {
    let names = [SideName::Top, SideName::Right, SideName::Bottom, SideName::Left];
    let inward = [[0.0, 1.0], [-1.0, 0.0], [0.0, -1.0], [1.0, 0.0]];
    let side = |i: usize| {
        let [a, b] = [CORNERS[i], CORNERS[(i + 1) % 4]];
        let point = |k: usize| {
            let from = between(a, b, (k as f64 + 0.5) / 40.0);
            let deep = |by: f64| [0, 1].map(|axis| from[axis] + inward[i][axis] * by);
            let [low, best, high] = [DEEP - 8.0, DEEP, DEEP + 8.0].map(deep);
            BorderPoint { from, low, best, high, depth: DEEP / 400.0, read: true }
        };
        let median = Interval::new(0.14, 0.15, 0.16).unwrap();
        let mm = Interval::new(0.56, 0.6, 0.64);
        let case = SideDepth { median, spread: [0.14, 0.16], median_mm: mm, spread_mm: Some([0.56, 0.64]) };
        let border = (0..40).map(point).collect();
        SideSeen { name: names[i], case: Some(case), unread: None, readable: 1.0, border }
    };
    FacePhoto {
        outline: CORNERS.to_vec(),
        form: FaceForm::Four,
        px_per_mm: Some(Interval::exact(100.0)),
        thickness_px: 400.0,
        rim: SeenRim::AllRound,
        sides: (0..4).map(side).collect(),
        transition: None,
        texture: None,
        grain: None,
        notes: Vec::new(),
    }
}

fn count(drawing: &Drawing, colour: Colour) -> usize {
    drawing.rgb().chunks_exact(3).filter(|p| like([p[0], p[1], p[2]], colour)).count()
}

/// Pixels of just that colour.
fn exactly(drawing: &Drawing, colour: Colour) -> usize {
    drawing.rgb().chunks_exact(3).filter(|p| **p == colour.0).count()
}

/// The part of the photo that is drawn: the face with three tenths of it round.
fn at(drawing: &Drawing, x: f64, y: f64) -> [u8; 3] {
    let (x, y) = (x as usize - 280, y as usize - 180);
    let pixel = (y * drawing.width() + x) * 3;
    drawing.rgb()[pixel..pixel + 3].try_into().unwrap()
}

/// Of that shade, however bright: a thin line covers no pixel whole.
fn like(pixel: [u8; 3], colour: Colour) -> bool {
    let full = |c: [u8; 3]| {
        let most = c.into_iter().max().unwrap_or(0).max(1);
        c.map(|v| 255.0 * f64::from(v) / f64::from(most))
    };
    let (a, b) = (full(pixel), full(colour.0));
    pixel.into_iter().max() > Some(100) && (0..3).all(|k| (a[k] - b[k]).abs() < 25.0)
}

#[test]
fn outline_border_and_corners_lie_where_they_were_found() {
    let drawing = face_overlay(&photo(), Ok(&face()), 1600);
    assert_eq!(drawing.width(), 640);
    assert!(like(at(&drawing, 500.0, 300.0), OUTLINE));
    for (x, y) in [(600.0, 360.0), (740.0, 450.0), (600.0, 640.0), (460.0, 550.0)] {
        assert!(like(at(&drawing, x, y), BORDER), "{x} {y}");
    }
    // a corner reaches one and a half depths along each side
    assert!(count(&drawing, CORNER) > 50);
    let row = |from: usize, to: usize, colour: Colour| {
        (from..to).any(|x| like(at(&drawing, x as f64, 360.0), colour))
    };
    assert!(
        row(462, 488, CORNER)
            && !row(500, 700, CORNER)
            && !row(410, 455, CORNER)
            && row(500, 700, BORDER)
            && !row(410, 480, BORDER)
    );
    // core stays to be seen
    assert_eq!(at(&drawing, 600.0, 500.0), at(&drawing, 860.0, 230.0));
}

#[test]
fn the_band_is_seen_through_and_lies_about_the_border() {
    let drawing = face_overlay(&photo(), Ok(&face()), 1600);
    let (in_band, outside) = (at(&drawing, 600.0, 366.0), at(&drawing, 600.0, 372.0));
    assert!(in_band != outside && in_band != BORDER.0, "{in_band:?}");
    assert!(in_band[0] > in_band[2], "yellow shines through: {in_band:?}");
}

#[test]
fn a_side_that_was_not_read_is_hatched_and_has_no_border() {
    let mut found = face();
    found.sides[0].unread = Some(SideUnread::Band);
    found.sides[0].case = None;
    let drawing = face_overlay(&photo(), Ok(&found), 1600);
    let rim: Vec<[u8; 3]> = (480..720)
        .flat_map(|x| (310..355).map(move |y| (x, y)))
        .map(|(x, y)| at(&drawing, f64::from(x), f64::from(y)))
        .collect();
    let ground = at(&drawing, 600.0, 500.0);
    // darker all over, with lines on it
    let lit = rim.iter().filter(|p| **p != ground).count() as f64 / rim.len() as f64;
    assert!((0.9..=1.0).contains(&lit), "{lit}");
    assert!((480..720).all(|x| at(&drawing, f64::from(x), 360.0) != BORDER.0));
}

#[test]
fn a_face_without_a_border_has_its_outline_alone() {
    for rim in [SeenRim::None, SeenRim::Through, SeenRim::Unclear] {
        let drawing = face_overlay(&photo(), Ok(&FacePhoto { rim, ..face() }), 1600);
        assert_eq!((count(&drawing, BORDER), count(&drawing, CORNER)), (0, 0), "{rim:?}");
        assert!(count(&drawing, OUTLINE) > 500, "{rim:?}");
    }
}

#[test]
fn a_refused_photo_stays_whole_with_the_reason_below() {
    let drawing = face_overlay(&photo(), Err(&FaceRefusal::TooDark { light: 0.4, needed: 2.0 }), 1600);
    let [width, height] = SIZE;
    assert!(drawing.width() == width && drawing.height() > height);
    assert!(drawing.rgb()[..width * height * 3].iter().all(|v| v.abs_diff(90) <= 1));
}

#[test]
fn the_mask_has_the_areas_of_case_and_core() {
    let [width, height] = SIZE;
    let share = |found: &FacePhoto, level: u8| exactly(&face_mask(SIZE, found), Colour([level; 3]));
    let (whole, core) = (400 * 400, 280 * 280);
    let off = |got: usize, want: usize| got.abs_diff(want) as f64 / want as f64;
    assert!(off(share(&face(), 96), core) < 0.03, "core {}", share(&face(), 96));
    assert!(off(share(&face(), 255), whole - core) < 0.05, "case {}", share(&face(), 255));
    assert_eq!(share(&face(), 0), width * height - whole);
    for (rim, level) in [(SeenRim::None, 96), (SeenRim::Through, 255), (SeenRim::Unclear, 176)] {
        assert_eq!(share(&FacePhoto { rim, ..face() }, level), whole, "{rim:?}");
    }
    let mut unread = face();
    unread.sides[0].unread = Some(SideUnread::Faint);
    // the corners are still white by the sides that meet there
    assert!(off(share(&unread, 176), 280 * 60) < 0.1, "{}", share(&unread, 176));
}

/// Nothing reaches out of the photo's part, wherever a wrong measurement puts it, and none of it hangs.
#[test]
fn no_measurement_breaks_the_drawing() {
    for wild in [f64::NAN, f64::INFINITY, -1e300, 1e12] {
        let mut found = face();
        found.outline.push([wild, 500.0]);
        found.sides[1].border[3].high = [wild, wild];
        found.sides[2].border[5].from = [500.0, wild];
        let drawing = face_overlay(&photo(), Ok(&found), 1600);
        assert_eq!(drawing.rgb().len(), drawing.width() * drawing.height() * 3);
        face_mask([300, 200], &found);
    }
    for [width, height] in [[1, 1], [1, 4000], [4000, 1]] {
        let small =
            Picture::new(width, height, Channels::Grey, Samples::Eight(vec![9; width * height])).unwrap();
        face_overlay(&small, Ok(&face()), 1600);
        face_overlay(&small, Ok(&FacePhoto { outline: Vec::new(), sides: Vec::new(), ..face() }), 1600);
    }
}
