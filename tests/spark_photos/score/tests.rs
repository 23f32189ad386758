//! The score against cases made by hand.

use super::quantile::{kaplan_meier, quantile, spearman};
use super::set::BURST_BINS;
use super::{Found, FoundBurst, FoundCarrier, SetScore, score_picture};
use crate::support::draw_sparks::{Burst, Carrier, Truth};
use serde_json::Map;

fn carrier(a: [f64; 2], b: [f64; 2], bursts: &[usize]) -> Carrier {
    let length = (a[0] - b[0]).hypot(a[1] - b[1]);
    Carrier {
        path: vec![a, b],
        length_px: length,
        whole_length_px: length,
        visible_px: length,
        apart_px: length,
        resolvable: true,
        cut_by_frame: false,
        bursts: bursts.to_vec(),
    }
}

fn burst(at: [f64; 2], carrier: usize, rays: usize) -> Burst {
    Burst {
        at,
        carrier,
        tier: 1,
        parent: None,
        rays,
        rays_visible: rays,
        rays_apart: rays,
        mean_ray_px: 20.0,
        visible: true,
        resolvable: true,
        in_shutter: true,
    }
}

/// Two carriers that cross at (50, 50), the first with a burst of five rays at its end.
fn crossed() -> Truth {
    Truth {
        file: "hand.png".to_owned(),
        seed: 0,
        kind: "usable".to_owned(),
        carbon_wt_pct: Some(0.4),
        rig: "bench-1".to_owned(),
        conditions: Map::new(),
        width: 200,
        height: 200,
        px_per_mm: None,
        shutter_s: None,
        line_width_px: Some(2.0),
        contact: Some([0.0, 0.0]),
        direction_deg: Some(0.0),
        opening_deg: Some(20.0),
        carriers: vec![carrier([0.0, 0.0], [100.0, 100.0], &[0]), carrier([0.0, 100.0], [100.0, 0.0], &[])],
        bursts: vec![burst([100.0, 100.0], 0, 5)],
    }
}

fn line(a: [f64; 2], b: [f64; 2], bursts: usize) -> FoundCarrier {
    let length_px = (a[0] - b[0]).hypot(a[1] - b[1]);
    FoundCarrier { path: vec![a, b], length_px, cut_by_frame: false, bursts }
}

fn ring(at: [f64; 2], rays: usize) -> FoundBurst {
    FoundBurst { at, rays, tier: 1 }
}

#[test]
fn what_is_drawn_is_found() {
    let found = Found {
        carriers: vec![line([0.0, 0.0], [100.0, 100.0], 1), line([100.0, 0.0], [0.0, 100.0], 0)],
        bursts: vec![ring([103.0, 100.0], 6)],
    };
    let score = score_picture(&crossed(), &found);
    assert_eq!((score.count_error, score.carriers_recalled, score.carriers_right), (Some(0.0), 2, 2));
    assert_eq!((score.bursts_recalled, score.bursts_right, score.crossings, score.rays_right), (1, 1, 0, 1));
    assert_eq!(score.share_error(), Some(0.0));
    assert!(score.p95_error().unwrap().abs() < 1e-12);
}

#[test]
fn a_crossing_taken_for_a_burst_is_named() {
    let found = Found {
        carriers: vec![line([0.0, 0.0], [100.0, 100.0], 1), line([100.0, 0.0], [0.0, 100.0], 0)],
        bursts: vec![ring([53.0, 50.0], 4), ring([150.0, 20.0], 4)],
    };
    let score = score_picture(&crossed(), &found);
    assert_eq!(
        (score.bursts_recalled, score.bursts_right, score.crossings, score.bursts_found),
        (0, 0, 1, 2)
    );
}

#[test]
fn pieces_and_paths_across_others_are_wrong() {
    // the first carrier in two pieces, and a path that follows one and then the other
    let found = Found {
        carriers: vec![line([0.0, 0.0], [48.0, 48.0], 0), line([52.0, 52.0], [100.0, 100.0], 0), {
            let mut bent = line([0.0, 100.0], [50.0, 50.0], 0);
            bent.path.push([50.0, 150.0]);
            bent
        }],
        bursts: Vec::new(),
    };
    let score = score_picture(&crossed(), &found);
    // one piece is right; the bent path lies on no carrier for 60 % of its length
    assert_eq!((score.carriers_recalled, score.carriers_right, score.found), (1, 1, 3));
    assert_eq!(score.count_error, Some(0.5));
}

#[test]
fn one_burst_is_found_once() {
    let found = Found {
        carriers: vec![line([0.0, 0.0], [100.0, 100.0], 2)],
        bursts: vec![ring([101.0, 100.0], 8), ring([95.0, 100.0], 5), ring([111.0, 100.0], 5)],
    };
    let score = score_picture(&crossed(), &found);
    // the nearest takes it, with three rays too many; half the mean ray is 10 px
    assert_eq!((score.bursts_right, score.bursts_found, score.rays_judged, score.rays_right), (1, 3, 1, 0));
}

#[test]
fn a_refusal_counts_as_wrong() {
    let found = Found {
        carriers: vec![line([0.0, 0.0], [100.0, 100.0], 1), line([0.0, 100.0], [100.0, 0.0], 0)],
        bursts: vec![ring([100.0, 100.0], 5)],
    };
    let mut set = SetScore { pictures: vec![score_picture(&crossed(), &found)], ..SetScore::default() };
    assert_eq!(set.bursts(BURST_BINS[0]).recall, Some(1.0));
    assert_eq!(set.carriers(), (Some(1.0), Some(1.0)));
    set.refuse(&crossed());
    assert_eq!(set.answered(), Some(0.5));
    assert_eq!(set.bursts(BURST_BINS[0]).recall, Some(0.5));
    assert_eq!(set.carriers().0, Some(0.5));
    assert!(set.summary().contains("answered 1 of 2"));
}

#[test]
fn censored_lengths_follow_kaplan_and_meier() {
    // by hand: 1, 2, 3+, 4, 5+ -> survival 0.8, 0.6, 0.6, 0.3, 0.3
    let lengths = [(1.0, false), (2.0, false), (3.0, true), (4.0, false), (5.0, true)];
    assert_eq!(kaplan_meier(&lengths, 0.2), Some(1.0));
    assert_eq!(kaplan_meier(&lengths, 0.4), Some(2.0));
    assert_eq!(kaplan_meier(&lengths, 0.5), Some(4.0));
    assert_eq!(kaplan_meier(&lengths, 0.95), None);
    let uncut: Vec<(f64, bool)> = (1..=20).map(|i| (f64::from(i), false)).collect();
    assert_eq!(kaplan_meier(&uncut, 0.95), Some(19.0));
}

#[test]
fn quantiles_and_ranks() {
    assert_eq!(quantile(&[4.0, 1.0, 3.0, 2.0], 0.5), Some(2.5));
    assert_eq!(quantile(&[], 0.5), None);
    assert_eq!(spearman(&[(1.0, 10.0), (2.0, 20.0), (3.0, 15.0)]), Some(0.5));
    assert_eq!(spearman(&[(1.0, 5.0), (2.0, 5.0), (3.0, 5.0)]), None);
    // tied y: ranks 1.5 1.5 3 4 against 1 2 3 4: 4.5 / sqrt(5 * 4.5)
    let tied = spearman(&[(1.0, 1.0), (2.0, 1.0), (3.0, 2.0), (4.0, 3.0)]).unwrap();
    assert!((tied - 4.5 / (5.0_f64 * 4.5).sqrt()).abs() < 1e-12);
}
