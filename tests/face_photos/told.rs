//! What was told and what photos show of one face.

use super::answers::{answer, told};
use snapspark::estimate::{CaseAnswer, CaseClass, CaseDoubt, CaseEstimate};
use snapspark::features::FaceColumn;
use snapspark::fracture::{FractureDescription, Rim, RimDepth};
use snapspark::units::{Depth, Interval};

fn mm(low: f64, best: f64, high: f64) -> Option<RimDepth> {
    let depth = |mm| Depth::from_millimetres(mm).unwrap();
    Interval::new(depth(low), depth(best), depth(high)).map(RimDepth::Length)
}

fn read(told: FractureDescription) -> CaseEstimate {
    match answer(told, Some(4.0)).1.face.unwrap().1 {
        CaseAnswer::Read(case) => case,
        CaseAnswer::CannotTell { why } => panic!("{why:?}"),
    }
}

fn why(told: FractureDescription) -> Vec<CaseDoubt> {
    match answer(told, Some(4.0)).1.face.unwrap().1 {
        CaseAnswer::CannotTell { why } => why,
        CaseAnswer::Read(case) => panic!("{case:?}"),
    }
}

fn near(range: Option<Interval<f64>>, want: [f64; 3]) {
    let range = range.unwrap();
    let off = [range.low() - want[0], range.best() - want[1], range.high() - want[2]];
    assert!(off.iter().all(|d| d.abs() < 1e-6), "{range:?} against {want:?}");
}

/// A photo says the same as if its sides had been told.
#[test]
fn a_photo_is_the_same_as_its_sides_told() {
    let photo = read(told(&["round.jpg"], &["none.jpg"]));
    let mut words = told(&[], &["none.jpg"]);
    words.coupon.rim = Some(Rim::AllRound);
    words.coupon.depth = [0.50, 0.55, 0.52, 0.60].map(|d| mm(0.9 * d, d, 1.1 * d)).to_vec();
    words.blank.as_mut().unwrap().photos.clear();
    words.blank.as_mut().unwrap().rim = Some(Rim::None);
    words.coupon.photos = Vec::new();
    let mut by_words = words;
    by_words.coupon.photos = vec!["empty.jpg".into()];
    let words = read(by_words);
    assert_eq!((photo.class, &photo.doubts), (words.class, &words.doubts));
    near(photo.depth_mm, [0.45, 0.535, 0.66]);
    near(words.depth_mm, [0.45, 0.535, 0.66]);
    assert_eq!(photo.per_side.len(), 4);
}

/// Where both meet the narrower says more; where they do not the range reaches over both, and that is doubted.
#[test]
fn told_and_photographed_depths_are_settled() {
    let with = |depth| {
        let mut both = told(&["round.jpg"], &[]);
        both.coupon.rim = Some(Rim::AllRound);
        both.coupon.depth = vec![depth];
        read(both)
    };
    near(with(mm(0.3, 0.5, 0.8)).depth_mm, [0.45, 0.535, 0.66]);
    near(with(mm(0.5, 0.55, 0.6)).depth_mm, [0.5, 0.55, 0.6]);
    let apart = with(mm(0.9, 1.0, 1.1));
    near(apart.depth_mm, [0.45, 0.535, 1.1]);
    assert!(apart.doubts.contains(&CaseDoubt::PhotosDisagree(FaceColumn::RimShare)));
}

#[test]
fn a_photo_never_overrides_a_rim_that_was_told() {
    for (rim, photo, class) in [
        (Rim::None, "round.jpg", CaseClass::None),
        (Rim::Through, "round.jpg", CaseClass::Through),
        (Rim::AllRound, "through.jpg", CaseClass::AllRound),
        (Rim::Partial, "round.jpg", CaseClass::Partial),
    ] {
        let mut both = told(&[photo], &[]);
        both.coupon.rim = Some(rim);
        let case = read(both);
        assert_eq!(case.class, class);
        assert!(
            case.doubts.contains(&CaseDoubt::PhotosDisagree(FaceColumn::Rim)),
            "{rim:?}: {:?}",
            case.doubts
        );
    }
    // of sides that were told with one missing, nobody said that the rim is partial
    let mut gap = told(&["round.jpg"], &[]);
    gap.coupon.depth = vec![mm(0.4, 0.5, 0.7), None];
    let gap = read(gap);
    assert_eq!(gap.class, CaseClass::AllRound);
    assert!(!gap.doubts.iter().any(|d| matches!(d, CaseDoubt::PhotosDisagree(_))), "{:?}", gap.doubts);
    // a depth that was told is a rim that was told
    let mut depth = told(&["none.jpg"], &[]);
    depth.coupon.depth = vec![mm(0.4, 0.5, 0.7)];
    let depth = read(depth);
    assert_eq!(depth.class, CaseClass::AllRound);
    assert!(depth.doubts.contains(&CaseDoubt::PhotosDisagree(FaceColumn::Rim)), "{:?}", depth.doubts);
    let mut alike = told(&["round.jpg"], &[]);
    alike.coupon.rim = Some(Rim::AllRound);
    assert!(!read(alike).doubts.iter().any(|d| matches!(d, CaseDoubt::PhotosDisagree(_))));
}

#[test]
fn the_blanks_photos_are_the_blank() {
    assert_eq!(why(told(&["round.jpg"], &["turned.jpg"])), [CaseDoubt::BlankShowsSameRim]);
    let less = read(told(&["deep.jpg"], &["round.jpg"]));
    assert!(less.doubts.contains(&CaseDoubt::BlankShowsRimToo), "{:?}", less.doubts);
    let clean = read(told(&["round.jpg"], &["none.jpg"]));
    assert!(!clean.doubts.contains(&CaseDoubt::NoBlank), "{:?}", clean.doubts);
    // stock that is hard to its middle: a face without border says nothing
    assert_eq!(why(told(&["through.jpg"], &["through.jpg"])), [CaseDoubt::CoreHardenedToo]);
    let mut both = told(&["deep.jpg"], &["round.jpg"]);
    both.blank.as_mut().unwrap().rim = Some(Rim::None);
    assert!(read(both).doubts.contains(&CaseDoubt::BlankPhotosDisagree));
}

#[test]
fn photos_that_do_not_tell_say_so() {
    assert_eq!(why(told(&["unclear.jpg"], &[])), [CaseDoubt::PhotosUnclear]);
    assert_eq!(why(told(&["small.jpg"], &[])), [CaseDoubt::NothingSaid]);
    let mut words = told(&["unclear.jpg"], &[]);
    words.coupon.rim = Some(Rim::AllRound);
    assert_eq!(read(words).class, CaseClass::AllRound);
}
