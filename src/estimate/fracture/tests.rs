// A test fails by panicking.
#![allow(clippy::unwrap_used, clippy::panic)]

use super::*;
use crate::tree::Node;
use crate::units::Interval;

/// Asks nothing but the rim: none, then through, then the bands alike.
fn tree() -> Tree {
    let leaf = |votes: [f64; 6]| Box::new(Node::Leaf { votes: votes.to_vec() });
    let cased = leaf([0.0, 2.0, 2.0, 3.0, 2.0, 1.0]);
    let through = leaf([0.0, 0.0, 0.0, 0.0, 0.0, 10.0]);
    let votes = vec![0.0, 2.0, 2.0, 3.0, 2.0, 11.0];
    let some = Box::new(Node::Split { feature: 0, threshold: 2.5, below: cased, above: through, votes });
    let votes = vec![10.0, 2.0, 2.0, 3.0, 2.0, 11.0];
    let root = Node::Split {
        feature: 0,
        threshold: 0.5,
        below: leaf([10.0, 0.0, 0.0, 0.0, 0.0, 0.0]),
        above: some,
        votes,
    };
    Tree::new(FaceColumn::TREE.map(|c| c.column().to_owned()).to_vec(), 6, root).unwrap()
}

/// A face that raises no doubt.
fn clean(rim: RimClass) -> FractureFeatures {
    FractureFeatures {
        rim: Some(rim),
        quenched: Some(true),
        medium: Some(QuenchMedium::Water),
        bent_first: Some(false),
        tempered: Some(Tempered::Not),
        blank: Some(BlankFeatures {
            rim: Some(BlankRim::None),
            core_hardened: Some(false),
            same_quench: Some(true),
            photos_disagree: false,
        }),
        ..FractureFeatures::default()
    }
}

fn read(features: &FractureFeatures) -> CaseEstimate {
    match read_fracture(features, &tree()).unwrap() {
        CaseAnswer::Read(estimate) => estimate,
        CaseAnswer::CannotTell { why } => panic!("{why:?}"),
    }
}

fn why(features: &FractureFeatures) -> Vec<CaseDoubt> {
    match read_fracture(features, &tree()).unwrap() {
        CaseAnswer::Read(estimate) => panic!("{estimate:?}"),
        CaseAnswer::CannotTell { why } => why,
    }
}

fn doubts_after(change: impl Fn(&mut FractureFeatures)) -> Vec<CaseDoubt> {
    let mut features = clean(RimClass::AllRound);
    change(&mut features);
    read(&features).doubts
}

#[test]
fn a_measured_depth_is_used_as_measured() {
    let side = |best: f64| Interval::new(best - 0.1, best, best + 0.1).unwrap();
    let features = FractureFeatures { sides_mm: vec![side(0.5), side(0.8)], ..clean(RimClass::AllRound) };
    let got = read(&features);
    assert_eq!((got.class, got.measured, got.votes), (CaseClass::AllRound, true, None));
    assert_eq!(got.per_side, features.sides_mm);
    let depth = got.depth_mm.unwrap();
    assert!((depth.low() - 0.4).abs() < 1e-12 && (depth.best() - 0.65).abs() < 1e-12);
    assert!((depth.high() - 0.9).abs() < 1e-12);
    assert!(got.doubts.is_empty() && got.path.is_empty(), "{:?}", got.doubts);
    assert_eq!(got.band(), None);
}

#[test]
fn words_alone_get_votes_and_a_path_but_no_depth() {
    let got = read(&clean(RimClass::AllRound));
    assert_eq!((got.depth_mm, got.measured, got.band()), (None, false, Some(DepthBand::To10)));
    let votes = got.votes.unwrap();
    assert!((votes.iter().sum::<f64>() - 1.0).abs() < 1e-12);
    // an edge was seen: votes for a face that is all rim are dropped
    assert_eq!(votes[DepthBand::Through as usize], 0.0);
    let asked: Vec<_> = got.path.iter().map(|r| (r.column, r.answer)).collect();
    assert_eq!(asked, [(FaceColumn::Rim, Some((2.0, true))), (FaceColumn::Rim, Some((2.0, false)))]);
}

#[test]
fn nothing_said_cannot_be_read() {
    assert_eq!(why(&FractureFeatures::default()), [CaseDoubt::NothingSaid]);
}

#[test]
fn a_soft_face_cannot_be_read_but_for_facets() {
    let soft = FractureFeatures { quenched: Some(false), medium: None, ..clean(RimClass::AllRound) };
    assert_eq!(why(&soft), [CaseDoubt::NotQuenched]);
    let side = Interval::exact(0.5);
    let facets =
        FractureFeatures { texture_rim: Some(FaceTexture::Faceted), sides_mm: vec![side], ..soft.clone() };
    let got = read(&facets);
    assert_eq!((got.class, got.depth_mm, got.votes), (CaseClass::AllRound, None, None));
    assert_eq!(got.doubts, [CaseDoubt::NotQuenched, CaseDoubt::VeryRich]);
    for rim in [RimClass::None, RimClass::Through] {
        let bare = FractureFeatures { rim: Some(rim), ..facets.clone() };
        assert_eq!(why(&bare), [CaseDoubt::NotQuenched]);
    }
}

#[test]
fn a_rim_that_the_blank_shows_too_is_no_case() {
    let mut features = clean(RimClass::AllRound);
    features.blank = Some(BlankFeatures { rim: Some(BlankRim::Same), ..BlankFeatures::default() });
    assert_eq!(why(&features), [CaseDoubt::BlankShowsSameRim]);
    features.shear_lip = Some(true);
    assert_eq!(why(&features), [CaseDoubt::BlankShowsSameRim, CaseDoubt::ShearLip]);
}

#[test]
fn never_through_when_the_core_hardened_too() {
    let hardened = Some(BlankFeatures { core_hardened: Some(true), ..BlankFeatures::default() });
    for (rim, core) in [(RimClass::Through, None), (RimClass::None, None), (RimClass::None, Some(3))] {
        let texture_core = core.map(|i: usize| FaceTexture::ALL[i]);
        let features = FractureFeatures { blank: hardened, texture_core, ..clean(rim) };
        assert_eq!(why(&features), [CaseDoubt::CoreHardenedToo]);
    }
    let faint = read(&FractureFeatures { blank: hardened, ..clean(RimClass::AllRound) });
    assert_eq!(faint.votes.unwrap()[DepthBand::Through as usize], 0.0);
    assert!(faint.doubts.contains(&CaseDoubt::CoreHardenedToo));
}

#[test]
fn a_face_without_rim_has_no_depth_and_no_certain_cause() {
    let sides_mm = vec![Interval::exact(0.5)];
    let got = read(&FractureFeatures { sides_mm, ..clean(RimClass::None) });
    assert_eq!((got.class, got.depth_mm, got.measured), (CaseClass::None, None, false));
    assert!(got.per_side.is_empty());
    assert_eq!(got.doubts, [CaseDoubt::NoRimHasOtherCauses, CaseDoubt::DepthWithoutRim]);
    let brittle = FractureFeatures { texture_core: Some(FaceTexture::Fine), ..clean(RimClass::None) };
    assert_eq!(why(&brittle), [CaseDoubt::CoreNotFibrous]);
}

#[test]
fn a_torn_skin_over_a_brittle_inside_is_no_case() {
    let skin = FractureFeatures {
        texture_rim: Some(FaceTexture::Fibrous),
        texture_core: Some(FaceTexture::Fine),
        ..clean(RimClass::AllRound)
    };
    assert_eq!(why(&skin), [CaseDoubt::SoftSkin]);
}

#[test]
fn each_doubt_has_its_cause() {
    type Cause = fn(&mut FractureFeatures);
    let causes: [(CaseDoubt, Cause); 18] = [
        (CaseDoubt::QuenchUnknown, |f| f.quenched = None),
        (CaseDoubt::PhotosDisagree(FaceColumn::Rim), |f| f.photos_disagree = vec![FaceColumn::Rim]),
        (CaseDoubt::BlankPhotosDisagree, |f| f.blank.as_mut().unwrap().photos_disagree = true),
        (CaseDoubt::NoBlank, |f| f.blank = None),
        (CaseDoubt::NoBlank, |f| f.blank = Some(BlankFeatures::default())),
        (CaseDoubt::BlankShowsRimToo, |f| f.blank.as_mut().unwrap().rim = Some(BlankRim::Less)),
        (CaseDoubt::BlankQuenchedOtherwise, |f| f.blank.as_mut().unwrap().same_quench = Some(false)),
        (CaseDoubt::CoreHardenedToo, |f| f.blank.as_mut().unwrap().core_hardened = Some(true)),
        (CaseDoubt::ShearLip, |f| f.shear_lip = Some(true)),
        (CaseDoubt::CoreNotFibrous, |f| f.texture_core = Some(FaceTexture::Grainy)),
        (CaseDoubt::BentFirst, |f| f.bent_first = Some(true)),
        (CaseDoubt::BreakUnknown, |f| f.bent_first = None),
        (CaseDoubt::Tempered, |f| f.tempered = Some(Tempered::Softened)),
        (CaseDoubt::OilShortensRim, |f| f.medium = Some(QuenchMedium::Oil)),
        (CaseDoubt::ThicknessUnknown, |f| f.side_shares = vec![Interval::exact(0.2)]),
        (CaseDoubt::CoarseGrain, |f| f.texture_rim = Some(FaceTexture::Grainy)),
        (CaseDoubt::VeryRich, |f| f.texture_rim = Some(FaceTexture::Faceted)),
        (CaseDoubt::PastTheMiddle, |f| {
            (f.side_shares, f.sides_mm) = (vec![Interval::exact(0.6)], vec![Interval::exact(6.0)]);
        }),
    ];
    for (doubt, cause) in causes {
        assert_eq!(doubts_after(cause), [doubt]);
    }
    assert!(doubts_after(|_| ()).is_empty());
}
