//! The drawn faces themselves: their truth hangs together, and the light changes where it says.

use crate::support::draw_faces::{Class, Face, Kind, Order, Take, Truth, Unusable, draw_unusable, grain_mm};
use crate::support::rows;
use serde::Deserialize;

/// A small picture: it is drawn quickly, and everything of its truth is there.
fn order(seed: u64, kind: Kind, difficulty: usize) -> Order {
    Order { kind, difficulty, megapixels: Some(0.2), ..Order::of(seed) }
}

fn px(face: &Face, p: [f64; 2]) -> [f64; 2] {
    let [x, y, w] = face.homography.map(|h| h[0] * p[0] + h[1] * p[1] + h[2]);
    [x / w, y / w]
}

/// What a closed outline holds (the trapezoid formula).
fn area(outline: &[[f64; 2]]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    0.5 * outline.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>().abs()
}

fn check(truth: &Truth, face: &Face) {
    let name = format!("{} {}", truth.file, truth.kind);
    for (mm, at) in [(&face.outline_mm, &face.outline_px), (&face.corners_mm, &face.corners_px)] {
        for (p, q) in mm.iter().zip(at) {
            let [x, y] = px(face, *p);
            // both were rounded: to 0.1 um and to 0.01 px
            assert!((x - q[0]).hypot(y - q[1]) < 0.05, "{name}: {p:?} {q:?}");
        }
    }
    let half = face.size_mm.map(|s| s / 2.0 + 1e-3);
    let inside = |p: &[f64; 2]| p[0].abs() <= half[0] && p[1].abs() <= half[1];
    assert!(face.outline_mm.iter().all(inside) && face.border_mm.iter().flatten().all(inside), "{name}");
    assert_eq!(face.sides.len(), face.corners_mm.len().max(1));
    let mut fair = 0;
    let mut cased = 0;
    for side in &face.sides {
        for sample in &side.samples {
            assert!((0.0..=side.length_mm).contains(&sample.along) && inside(&sample.at), "{name}");
            assert!(sample.depth.is_none_or(|d| (0.0..=2.0 * face.thickness_mm).contains(&d)), "{name}");
            if sample.fair() {
                fair += 1;
                cased += usize::from(sample.depth != Some(0.0));
            }
        }
        assert!(side.p10_mm <= side.median_mm && side.median_mm <= side.p90_mm, "{name}");
        assert!((0.0..=1.0).contains(&side.cased), "{name}");
    }
    let nicked = usize::from(face.nick.is_some());
    let lipped = face.sides.iter().filter(|s| !s.nicked && s.samples.iter().all(|p| p.spoiled)).count();
    assert!(truth.kind != "Lip" || lipped > 0, "{name}");
    // a lip may lie beneath a nick too
    let bands = face.bands_mm.len();
    assert!(
        (nicked + lipped..=2 * nicked + lipped).contains(&bands),
        "{name}: {bands}, {nicked} and {lipped}"
    );
    if let (Some((side, depth)), Some(band)) = (face.nick, face.bands_mm.last()) {
        // its end is uneven: its mean width is the depth that was ordered, nearly
        let wide = area(band) / face.sides[side].length_mm;
        assert!((wide / depth - 1.0).abs() < 0.35, "{name}: {wide} mm wide, {depth} mm deep");
    }
    match face.class {
        Class::None => assert!(cased == 0 && face.border_mm.is_empty() && face.depth_mm.is_none(), "{name}"),
        Class::Partial => assert!(0 < cased && cased < fair, "{name}: {cased} of {fair}"),
        Class::AllRound => assert!(cased == fair && face.depth_mm.is_some(), "{name}: {cased} of {fair}"),
        Class::Through => assert!(cased == fair && face.border_mm.is_empty(), "{name}: {cased} of {fair}"),
    }
}

#[test]
fn a_truth_hangs_together_and_comes_back_from_json() {
    for (i, kind) in Kind::ALL.into_iter().enumerate() {
        let picture = order(1000 + i as u64, kind, i % 3).draw();
        check(&picture.truth, picture.truth.face.as_ref().unwrap());
        let text = serde_json::to_string(&picture.truth).unwrap();
        let back: Truth = serde_json::from_str(&text).unwrap();
        assert!(serde_json::to_string(&back).unwrap() == text, "{kind:?}");
        let image = image::load_from_memory(&picture.bytes).unwrap();
        let size = (image.width() as usize, image.height() as usize);
        assert_eq!(size, (picture.truth.width, picture.truth.height));
    }
}

#[test]
fn the_same_seed_draws_the_same_bytes() {
    let one = order(1020, Kind::AllRound, 2);
    assert!(one.draw().bytes == one.draw().bytes);
    assert!(one.draw().bytes != order(1021, Kind::AllRound, 2).draw().bytes);
}

/// Where only the brightness differs, the case is brighter than the core on both sides of the border: seen half a
/// depth outside and half a depth inside of it. Nine samples in ten, written before the first run.
#[test]
fn the_light_changes_where_the_border_is() {
    let (mut brighter, mut all) = (0, 0);
    for seed in 1030..1036 {
        let picture = order(seed, Kind::ToneOnly, 0).draw();
        let face = picture.truth.face.as_ref().unwrap();
        let image = image::load_from_memory(&picture.bytes).unwrap().to_luma8();
        // the mean of a few pixels round a point of the face, as noise and grain go
        let light = |p: [f64; 2]| {
            let [x, y] = px(face, p).map(|v| v as i64);
            let mut values = Vec::new();
            for (dx, dy) in (-2..=2).flat_map(|dy| (-2..=2).map(move |dx| (dx, dy))) {
                values.push(f64::from(image.get_pixel_checked((x + dx) as u32, (y + dy) as u32)?.0[0]));
            }
            Some(values.iter().sum::<f64>() / values.len() as f64)
        };
        for side in face.sides.iter().filter(|s| !s.nicked) {
            for sample in side.samples.iter().filter(|s| s.fair()) {
                let Some(depth) = sample.depth.filter(|d| *d > 0.0) else { continue };
                let inward = inward(face, side.index, sample.at);
                let at = |t: f64| [sample.at[0] + t * inward[0], sample.at[1] + t * inward[1]];
                let Some((case, core)) = light(at(0.5 * depth)).zip(light(at(1.5 * depth))) else { continue };
                all += 1;
                brighter += usize::from(case > core);
            }
        }
    }
    assert!(all > 300 && brighter * 10 > all * 9, "{brighter} of {all}");
}

/// Direction from a side, or from the rim of a round face, inward.
pub(super) fn inward(face: &Face, side: usize, at: [f64; 2]) -> [f64; 2] {
    let Some(a) = face.corners_mm.get(side) else {
        let far = at[0].hypot(at[1]);
        return at.map(|v| -v / far);
    };
    let b = face.corners_mm[(side + 1) % face.corners_mm.len()];
    let long = (b[0] - a[0]).hypot(b[1] - a[1]);
    [(a[1] - b[1]) / long, (b[0] - a[0]) / long]
}

#[test]
fn takes_of_one_coupon_belong_together() {
    let first = order(1040, Kind::Lighter, 1);
    let depth = |take| Order { take, ..first }.draw().truth.face.unwrap().depth_mm;
    let all = Take::ALL.map(depth);
    assert_eq!(all[0], all[1], "the light changes no depth");
    let (one, other) = (all[0].unwrap(), all[2].unwrap());
    // the other half tore and chipped elsewhere: samples differ, the case does not
    assert!((one - other).abs() < 0.05 * one, "{one} {other}");
    assert_eq!(all[3], None, "a blank has no case");
}

#[test]
fn every_kind_of_unusable_picture_is_drawn() {
    for (i, kind) in Unusable::ALL.into_iter().enumerate() {
        let picture = draw_unusable(kind, 1100 + i as u64, Some(0.2));
        assert!(!picture.truth.usable);
        assert_eq!(picture.truth.kind, format!("{kind:?}"));
        assert!(image::load_from_memory(&picture.bytes).is_ok());
    }
}

#[derive(Deserialize)]
struct Grain {
    number: f64,
    diameter_um: f64,
}

/// ASTM E112, Table 4 (`grain_numbers.csv`). Within 1 %, written before the first run: the table rounds to three
/// figures, and its first diameter is where the maker's rule begins.
#[test]
fn grain_sizes_are_those_of_the_standard() {
    let table: Vec<Grain> = rows("grain_numbers.csv");
    assert_eq!(table.len(), 10);
    for row in table {
        let drawn = 1000.0 * grain_mm(row.number);
        assert!((drawn / row.diameter_um - 1.0).abs() < 0.01, "{}: {drawn} um", row.number);
    }
}
