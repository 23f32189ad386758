//! From measured faces to words and JSON. The measurements are made up here; nothing speaks of real faces.

use crate::support::models;
use snapspark::estimate::read_fracture;
use snapspark::features::FractureFeatures;
use snapspark::files::{Answer, LookedFace, Observed, face_profile_csv, look_at_faces};
use snapspark::fracture::{
    BorderPoint, FaceDescription, FaceForm, FaceKnown, FaceNote, FacePhoto, FaceRefusal, FractureDescription,
    LookedAtFaces, Quenching, SeenGrain, SeenRim, SeenTexture, SideDepth, SideName, SideSeen, SideUnread,
    UnusableFace,
};
use snapspark::report;
use snapspark::steel::QuenchMedium;
use snapspark::units::{Depth, Interval};
use std::path::Path;

/// Thickness of every coupon here, mm and px.
const MM: f64 = 4.0;
const PX: f64 = 400.0;
/// Sides, each with its first corner, and which way along it and inward, px.
const SIDES: [(SideName, [[f64; 2]; 3]); 4] = [
    (SideName::Top, [[100.0, 100.0], [1.0, 0.0], [0.0, 1.0]]),
    (SideName::Right, [[500.0, 100.0], [0.0, 1.0], [-1.0, 0.0]]),
    (SideName::Bottom, [[500.0, 500.0], [-1.0, 0.0], [0.0, -1.0]]),
    (SideName::Left, [[100.0, 500.0], [0.0, -1.0], [1.0, 0.0]]),
];

/// A square face whose sides have these depths, mm, each sure to a tenth; `None`: a side that was not read.
pub(super) fn face(rim: SeenRim, depths: [Option<f64>; 4], scaled: bool) -> FacePhoto {
    let side = |i: usize| {
        let (name, [corner, along, inward]) = SIDES[i];
        let deep = depths[i].unwrap_or(0.5);
        let point = |k: usize| {
            let from = [0, 1].map(|a| corner[a] + along[a] * 100.0 * (k as f64 + 0.5));
            let at = |mm: f64| [0, 1].map(|a| from[a] + inward[a] * mm / MM * PX);
            let [low, best, high] = [0.9, 1.0, 1.1].map(|f| at(f * deep));
            BorderPoint { from, low, best, high, depth: deep / MM, read: depths[i].is_some() }
        };
        let range = |unit: f64| Interval::new(0.9 * deep / unit, deep / unit, 1.1 * deep / unit).unwrap();
        let spread = |unit: f64| [0.95 * deep / unit, 1.08 * deep / unit];
        let case = SideDepth {
            median: range(MM),
            spread: spread(MM),
            median_mm: scaled.then(|| range(1.0)),
            spread_mm: scaled.then(|| spread(1.0)),
        };
        SideSeen {
            name,
            case: Some(case).filter(|_| depths[i].is_some() && rim.has_edge()),
            unread: depths[i].is_none().then_some(SideUnread::Band),
            readable: if depths[i].is_some() { 0.93 } else { 0.0 },
            border: (0..4).map(point).collect(),
        }
    };
    FacePhoto {
        outline: SIDES.iter().map(|s| s.1[0]).collect(),
        form: FaceForm::Four,
        px_per_mm: scaled.then(|| Interval::new(99.0, 100.0, 101.0).unwrap()),
        thickness_px: PX,
        rim,
        sides: (0..4).map(side).collect(),
        transition: rim.has_edge().then_some(0.02),
        texture: rim.has_edge().then_some(SeenTexture { brightness: 1.4, roughness: [0.6, 0.7, 0.8, 0.5] }),
        grain: (scaled && rim.has_edge()).then_some(SeenGrain::NotSeen { finest: 6.3, nearest: 8.7 }),
        notes: if scaled { vec![FaceNote::TakenForSquare] } else { vec![FaceNote::NoScale] },
    }
}

/// What a name stands for.
fn look(path: &Path, known: &FaceKnown) -> Result<LookedFace, UnusableFace> {
    let name = path.file_name().unwrap().to_str().unwrap();
    let scaled = known.thickness.is_some();
    let shows = |rim, depths| Ok(LookedFace { photo: face(rim, depths, scaled), remarks: Vec::new() });
    match name.split_once('.').map_or(name, |(kind, _)| kind) {
        "round" => shows(SeenRim::AllRound, [Some(0.50), Some(0.55), Some(0.52), Some(0.60)]),
        "turned" => shows(SeenRim::AllRound, [Some(0.54), Some(0.58), None, Some(0.62)]),
        "deep" => shows(SeenRim::AllRound, [Some(0.9); 4]),
        "through" => shows(SeenRim::Through, [Some(1.0); 4]),
        "none" => shows(SeenRim::None, [Some(0.1); 4]),
        "unclear" => shows(SeenRim::Unclear, [None; 4]),
        "odd" => {
            let photo = face(SeenRim::Partial, [Some(0.5), None, None, None], scaled);
            Ok(LookedFace { photo, remarks: vec!["a remark".into()] })
        }
        "small" => Err(UnusableFace::Refused(FaceRefusal::PixelTooLarge { deep: 3.4, needed: 6.0 })),
        _ => Err(UnusableFace::NotRead {
            message: "the file is empty (0 bytes)".into(),
            help: "copy it again".into(),
        }),
    }
}

pub(super) fn told(coupon: &[&str], blank: &[&str]) -> FractureDescription {
    let quenched = Some(Quenching::In(QuenchMedium::Water));
    let face = |photos: &[&str]| {
        let photos = photos.iter().map(ToString::to_string).collect();
        FaceDescription { photos, quenched, ..FaceDescription::default() }
    };
    FractureDescription { coupon: face(coupon), blank: (!blank.is_empty()).then(|| face(blank)) }
}

pub(super) fn answer(mut told: FractureDescription, thickness: Option<f64>) -> (LookedAtFaces, Observed) {
    let thickness = thickness.map(|mm| Depth::from_millimetres(mm).unwrap());
    let known = FaceKnown { thickness, ..FaceKnown::default() };
    let looked = look_at_faces(&told, Path::new("x"), &known, &mut look).unwrap();
    told.take(&looked);
    let features = FractureFeatures::described(&told, thickness, &models().face_reading);
    let case = read_fracture(&features, &models().face_tree).unwrap();
    (looked, Observed { sparks: None, face: Some((features, case)) })
}

fn page(told: FractureDescription, thickness: Option<f64>) -> String {
    let (looked, observed) = answer(told, thickness);
    let (features, case) = observed.face.unwrap();
    let text = report::face_page(&report::faces(&looked, &features, &case)).text();
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
    text
}

#[test]
fn words() {
    insta::assert_snapshot!("one_photo", page(told(&["round.jpg"], &["none.jpg"]), Some(MM)));
    let several = told(&["round.jpg", "turned.jpg", "deep.jpg", "odd.jpg", "small.jpg", "empty.jpg"], &[]);
    insta::assert_snapshot!("several", page(several, Some(MM)));
    insta::assert_snapshot!("no_scale", page(told(&["round.jpg"], &[]), None));
    insta::assert_snapshot!("same_on_blank", page(told(&["round.jpg"], &["turned.jpg"]), Some(MM)));
    insta::assert_snapshot!("unclear", page(told(&["unclear.jpg"], &[]), Some(MM)));
    insta::assert_snapshot!("through", page(told(&["through.jpg"], &["none.jpg"]), Some(MM)));
    insta::assert_snapshot!("refused", page(told(&["small.jpg", "empty.jpg"], &[]), Some(MM)));
}

#[test]
fn data() {
    let (looked, observed) = answer(told(&["turned.jpg", "deep.jpg", "small.jpg"], &["none.jpg"]), Some(MM));
    insta::assert_snapshot!("json", Answer::face(&observed, &looked).json().unwrap());
    let (looked, _) = answer(told(&["odd.jpg"], &[]), Some(MM));
    insta::assert_snapshot!("profile", String::from_utf8(face_profile_csv(&looked).unwrap()).unwrap());
}
