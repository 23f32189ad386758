// A test fails by panicking.
#![allow(clippy::unwrap_used)]

use super::*;
use crate::files::Models;

fn about(best: f64, sd: f64) -> Doubtful {
    Doubtful { best, down: sd, up: sd }
}

/// What a sound case of `visible` mm with this carbon at the touch should show.
fn with_expected<T>(carbon: f64, visible: f64, through: f64, ask: impl Fn(&Expected<'_>, &Eyes) -> T) -> T {
    let models = Models::shipped().unwrap();
    let expected = crate::crosscheck::expected::tests::case(&models, carbon, visible, through);
    ask(&expected, &models.causes.eyes)
}

fn votes(band: usize) -> Observation {
    let mut votes = [0.0; 6];
    votes[band] = 1.0;
    Observation::Sparks(votes)
}

fn rim(class: CaseClass, mm: Option<f64>) -> Observation {
    Observation::Rim { class, depth: mm.map(|mm| about(mm, 0.06)), votes: None }
}

#[test]
fn chances_of_all_that_can_be_seen_sum_to_one() {
    for (carbon, visible, through) in [(0.9, 0.5, 0.0), (0.2, 0.0, 0.0), (0.9, 2.0, 0.9), (0.4, 0.1, 0.1)] {
        with_expected(carbon, visible, through, |expected, eyes| {
            let bands: f64 = (0..6).map(|band| votes(band).likelihood(expected, eyes)).sum();
            assert!((bands - 1.0).abs() < 1e-9, "{bands}");
            let classes = [CaseClass::None, CaseClass::Partial, CaseClass::AllRound, CaseClass::Through];
            let rims: f64 = classes.iter().map(|c| rim(*c, None).likelihood(expected, eyes)).sum();
            assert!((rims - 1.0).abs() < 1e-9, "{rims}");
            let orders = [
                OverTime::RichThenPlain,
                OverTime::RichThroughout,
                OverTime::PlainThenRichThenPlain,
                OverTime::PlainThroughout,
            ];
            let orders: f64 = orders.iter().map(|o| Observation::Inward(*o).likelihood(expected, eyes)).sum();
            // plain at the touch and rich as deep as one grinds is told as either of two orders
            assert!(orders <= 1.0 + 1e-9 && orders > 0.75, "{orders}");
        });
    }
}

#[test]
fn richer_and_deeper_lies_higher() {
    with_expected(0.6, 0.5, 0.0, |expected, eyes| {
        let places: Vec<f64> = (0..6).map(|band| votes(band).place(expected, eyes).unwrap()).collect();
        assert!(places.windows(2).all(|w| w[0] < w[1]), "{places:?}");
        assert!(places[0] < 0.01 && places[5] > 0.9, "{places:?}");
        let depth = |mm| rim(CaseClass::AllRound, Some(mm)).place(expected, eyes).unwrap();
        let none = rim(CaseClass::None, None).place(expected, eyes).unwrap();
        let through = rim(CaseClass::Through, None).place(expected, eyes).unwrap();
        assert!(none < depth(0.2) && depth(0.2) < depth(0.5) && depth(0.5) < depth(0.9), "{none}");
        assert!(depth(0.9) <= through && through > 0.95);
        assert!((depth(0.5) - 0.5).abs() < 0.02);
    });
}

/// Above 0.85 %C the spark test saturates: the open band fits 0.9 as well as 1.2 %C.
#[test]
fn the_open_band_does_not_tell_very_rich_from_rich() {
    let chance = |carbon| with_expected(carbon, 0.5, 0.0, |e, eyes| votes(5).likelihood(e, eyes));
    assert!(chance(1.2) > 0.8 && chance(1.2) / chance(1.05) < 1.15);
    let place = |carbon| with_expected(carbon, 0.5, 0.0, |e, eyes| votes(5).place(e, eyes).unwrap());
    assert!((0.4..0.9).contains(&place(0.9)) && (0.4..0.6).contains(&place(1.3)));
}

/// A case of 0.9 %C quenched in water is file hard; mild steel is not (common practice, no source).
#[test]
fn a_file_tells_a_case_from_mild_steel() {
    let turns = about(63.5, 2.0);
    let stroke = |skates| Observation::File { turns, skates, depth_mm: 0.0 };
    let chance =
        |carbon, skates| with_expected(carbon, 0.5, 0.0, |e, eyes| stroke(skates).likelihood(e, eyes));
    assert!(chance(0.75, true) > 0.5, "{}", chance(0.75, true));
    assert!(chance(0.2, true) < 0.1 && chance(0.2, false) > 0.9);
}
