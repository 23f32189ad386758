// A test fails by panicking.
#![allow(clippy::unwrap_used)]

use super::*;
use crate::features::face_seen::read;
use crate::fracture::{Rim, RimDepth, Texture};
use crate::sources::{Sourced, Status};
use crate::units::{Share, Temperature};

fn reading() -> FaceReading {
    fn judged<T>(value: T) -> Sourced<T> {
        Sourced { value, source: String::new(), place: String::new(), status: Status::Judgement }
    }
    FaceReading {
        length_mm: judged(0.1),
        share: judged(0.05),
        harmless_temper: judged(Temperature::from_celsius(200.0).unwrap()),
    }
}

fn mm(low: f64, best: f64, high: f64) -> RimDepth {
    let depth = |mm| Depth::from_millimetres(mm).unwrap();
    RimDepth::Length(Interval::new(depth(low), depth(best), depth(high)).unwrap())
}

fn part(fraction: f64) -> RimDepth {
    RimDepth::OfThickness(Interval::exact(Share::new(fraction).unwrap()))
}

fn face(rim: Option<Rim>, depth: &[Option<RimDepth>]) -> FaceDescription {
    FaceDescription { rim, depth: depth.to_vec(), ..FaceDescription::default() }
}

fn features(
    coupon: FaceDescription,
    blank: Option<FaceDescription>,
    thickness: Option<f64>,
) -> FractureFeatures {
    let thickness = thickness.map(|mm| Depth::from_millimetres(mm).unwrap());
    FractureFeatures::described(&FractureDescription { coupon, blank }, thickness, &reading())
}

fn near(range: Range, low: f64, best: f64, high: f64) {
    let off = [range.low() - low, range.best() - best, range.high() - high];
    assert!(off.iter().all(|d| d.abs() < 1e-9), "{range:?}");
}

#[test]
fn nothing_said_is_nothing_known() {
    assert_eq!(features(FaceDescription::default(), None, None), FractureFeatures::default());
    for column in FaceColumn::TREE {
        assert_eq!(FractureFeatures::default().get(column), None);
    }
}

#[test]
fn a_bare_depth_gets_the_reading_error_and_a_range_keeps_its_own() {
    let sides = [Some(mm(0.5, 0.5, 0.5)), Some(mm(0.04, 0.04, 0.04)), Some(mm(0.4, 0.6, 0.7)), None];
    let read = features(face(Some(Rim::AllRound), &sides), None, None);
    assert_eq!(read.sides_mm.len(), 3);
    near(read.sides_mm[0], 0.4, 0.5, 0.6);
    near(read.sides_mm[1], 0.0, 0.04, 0.14);
    near(read.sides_mm[2], 0.4, 0.6, 0.7);
    assert!(read.side_shares.is_empty() && read.rim_share().is_none());
}

#[test]
fn a_share_is_a_depth_once_the_thickness_is_known() {
    let coupon = face(Some(Rim::AllRound), &[Some(part(0.2))]);
    let known = features(coupon.clone(), None, Some(5.0));
    near(known.sides_mm[0], 0.75, 1.0, 1.25);
    // a ruler's error is the least
    near(features(coupon.clone(), None, Some(1.0)).sides_mm[0], 0.1, 0.2, 0.3);
    let unknown = features(coupon, None, None);
    assert!(unknown.sides_mm.is_empty());
    near(unknown.rim_share().unwrap().value, 0.15, 0.2, 0.25);
    let length = features(face(Some(Rim::AllRound), &[Some(mm(1.0, 1.0, 1.0))]), None, Some(4.0));
    near(length.rim_share().unwrap().value, 0.225, 0.25, 0.275);
}

/// Sides 0.4, 0.6 and 1.0 mm: median 0.6, from 0.3 to 1.1.
#[test]
fn sides_are_taken_together_by_median_and_spread() {
    let sides = [0.4, 1.0, 0.6].map(|best| read(Interval::exact(best), 0.1, 9.0).unwrap());
    near(together(&sides).unwrap(), 0.3, 0.6, 1.1);
    near(together(&sides[..2]).unwrap(), 0.3, 0.7, 1.1);
    assert_eq!(together(&[]), None);
}

#[test]
fn a_rim_that_was_not_told_follows_from_the_depths() {
    let (deep, none) = (Some(mm(0.5, 0.5, 0.5)), Some(mm(0.0, 0.0, 0.0)));
    let rim = |sides: &[Option<RimDepth>]| features(face(None, sides), None, None).rim;
    assert_eq!(rim(&[]), None);
    assert_eq!(rim(&[deep, deep]), Some(RimClass::AllRound));
    assert_eq!(rim(&[deep, none]), Some(RimClass::Partial));
    assert_eq!(rim(&[deep, None]), Some(RimClass::Partial));
    assert_eq!(rim(&[none]), Some(RimClass::None));
    assert_eq!(rim(&[none, None]), None);
    assert_eq!(rim(&[Some(part(0.1))]), Some(RimClass::AllRound));
}

#[test]
fn the_blanks_rim_is_held_against_the_coupons() {
    let seen = |coupon: &FaceDescription, blank: &FaceDescription| {
        features(coupon.clone(), Some(blank.clone()), None).blank.unwrap().rim
    };
    let bare = |rim| face(Some(rim), &[]);
    let deep = |rim, best| face(Some(rim), &[Some(mm(best, best, best))]);
    assert_eq!(seen(&bare(Rim::AllRound), &bare(Rim::None)), Some(BlankRim::None));
    assert_eq!(seen(&bare(Rim::AllRound), &bare(Rim::AllRound)), Some(BlankRim::Same));
    assert_eq!(seen(&bare(Rim::AllRound), &bare(Rim::Partial)), Some(BlankRim::Less));
    assert_eq!(seen(&deep(Rim::AllRound, 0.8), &deep(Rim::AllRound, 0.3)), Some(BlankRim::Less));
    assert_eq!(seen(&deep(Rim::AllRound, 0.4), &deep(Rim::AllRound, 0.3)), Some(BlankRim::Same));
    assert_eq!(seen(&bare(Rim::AllRound), &FaceDescription::default()), None);
    assert_eq!(seen(&FaceDescription::default(), &bare(Rim::AllRound)), None);
}

#[test]
fn only_a_quenched_blank_shows_whether_the_core_hardens() {
    let of = |quenched, rim, core| {
        let blank = FaceDescription { quenched, texture_core: core, rim, ..FaceDescription::default() };
        features(face(Some(Rim::AllRound), &[]), Some(blank), None).blank.unwrap()
    };
    let water = Some(Quenching::In(QuenchMedium::Water));
    assert_eq!(of(water, None, Some(Texture::Fibrous)).core_hardened, Some(false));
    for brittle in [Texture::Silky, Texture::Fine, Texture::Grainy] {
        assert_eq!(of(water, None, Some(brittle)).core_hardened, Some(true));
    }
    assert_eq!(of(water, Some(Rim::Through), None).core_hardened, Some(true));
    assert_eq!(of(water, None, None).core_hardened, None);
    let soft = of(Some(Quenching::NotQuenched), Some(Rim::None), Some(Texture::Grainy));
    assert_eq!((soft.core_hardened, soft.rim), (None, None));
}

#[test]
fn a_low_temper_is_harmless_and_an_unknown_one_is_not() {
    let of = |told| {
        let coupon = FaceDescription { tempered: told, ..FaceDescription::default() };
        features(coupon, None, None).tempered
    };
    let at = |c| Some(Tempering::At(Some(Interval::exact(Temperature::from_celsius(c).unwrap()))));
    assert_eq!(of(None), None);
    assert_eq!(of(Some(Tempering::Not)), Some(Tempered::Not));
    assert_eq!(of(at(150.0)), Some(Tempered::Low));
    assert_eq!(of(at(250.0)), Some(Tempered::Softened));
    assert_eq!(of(Some(Tempering::At(None))), Some(Tempered::Softened));
}
