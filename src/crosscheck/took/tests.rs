// A test fails by panicking.
#![allow(clippy::unwrap_used)]

use super::*;
use crate::crosscheck::Doubtful;
use crate::files::Models;

const EDGE: Part = Part::FinishedEdge;

/// A verdict on an edge of this carbon.
fn basis(carbon: &Mixture, evidence: Evidence) -> Basis<'_> {
    Basis {
        part: EDGE,
        aim: None,
        carbon,
        faces: carbon,
        depth: None,
        leanest: 0.15,
        evidence,
        edge_untold: false,
    }
}

fn about(best: f64, sd: f64) -> Mixture {
    Mixture::of(std::iter::once((1.0, Doubtful { best, down: sd, up: sd }))).unwrap()
}

/// The answer for carbon of `best` give or take `sd` at the part, wt%.
fn judged(best: f64, sd: f64, seen: bool) -> Took {
    let evidence = if seen { Evidence::Case } else { Evidence::Nothing };
    Took::judge(basis(&about(best, sd), evidence), &Models::shipped().unwrap().need)
}

/// A face that took says nothing of the middle of an edge.
#[test]
fn an_edge_of_unknown_thickness_is_not_answered_for() {
    let models = Models::shipped().unwrap();
    let (rich, lean) = (about(0.9, 0.05), about(0.2, 0.05));
    let judge = |carbon| {
        let basis = Basis { edge_untold: true, ..basis(carbon, Evidence::Case) };
        Took::judge(basis, &models.need).answer
    };
    assert_eq!((judge(&rich), judge(&lean)), (Answer::CannotTell, Answer::No));
}

#[test]
fn enough_carbon_took_and_mild_steel_did_not() {
    assert_eq!(judged(0.85, 0.10, true).answer, Answer::Yes);
    assert_eq!(judged(0.50, 0.04, true).answer, Answer::Partly);
    assert_eq!(judged(0.20, 0.10, true).answer, Answer::No);
}

#[test]
fn what_is_left_open_is_said_to_be() {
    assert_eq!(judged(0.85, 0.10, false).answer, Answer::CannotTell);
    // as likely mild steel as not, and as likely enough
    assert_eq!(judged(0.42, 0.30, true).answer, Answer::CannotTell);
    // surely not what is wanted: only by how much is open
    assert_eq!(judged(0.42, 0.10, true).answer, Answer::Partly);
    assert_eq!(judged(0.39, 0.10, true).answer, Answer::No);
}

/// However rich the soak should have made it: without rich sparks, a rim or a file that skates nobody has
/// seen a case.
#[test]
fn no_case_is_promised_that_nobody_saw() {
    let models = Models::shipped().unwrap();
    let rich = about(0.9, 0.1);
    let judge =
        |seen: &[Observation]| Took::judge(basis(&rich, Evidence::of(seen, false)), &models.need).answer;
    let turns = Doubtful { best: 61.0, down: 2.0, up: 2.0 };
    let bites = Observation::File { turns, skates: false, depth_mm: 0.0 };
    let none = Observation::Rim { class: CaseClass::None, depth: None, votes: None };
    assert_eq!(judge(&[bites, none]), Answer::CannotTell);
    let skates = Observation::File { turns, skates: true, depth_mm: 0.0 };
    assert_eq!(judge(&[skates, none]), Answer::Yes);
}

#[test]
fn a_range_does_not_go_below_the_stock() {
    let carbon = judged(0.20, 0.10, true).carbon.unwrap();
    assert_eq!(carbon.low(), 0.15);
    assert!((carbon.best() - 0.20).abs() < 1e-6, "{}", carbon.best());
}

/// Enough carbon in too thin a case took in part only.
#[test]
fn a_depth_that_was_wanted_counts() {
    let models = Models::shipped().unwrap();
    let mixture =
        |best| Mixture::of(std::iter::once((1.0, Doubtful { best, down: 0.05, up: 0.05 }))).unwrap();
    let mm = |mm| Depth::from_millimetres(mm).unwrap();
    let left = |wanted| DepthLeft::of(DepthCriterion::Visible, mm(wanted), mm(0.1), &mixture(0.5));
    let rich = mixture(0.9);
    let judge = |depth| {
        let part = Part::Face { off: mm(0.1) };
        let basis = Basis { part, depth: Some(depth), leanest: 0.0, ..basis(&rich, Evidence::Case) };
        Took::judge(basis, &models.need).answer
    };
    // 0.5 mm with 0.1 mm ground off leaves 0.4 mm
    assert_eq!(judge(left(0.3)), Answer::Yes);
    assert_eq!(judge(left(0.6)), Answer::Partly);
    assert!((left(0.3).left.unwrap().best() - 0.4).abs() < 1e-6);
}
