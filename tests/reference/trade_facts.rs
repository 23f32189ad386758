//! What the trade knows. Each is common practice without a source unless one is named; bounds were
//! written down before the first run.

use crate::support::{models, steady};
use snapspark::diffusion::{Direction, Exchange, Potential, Profile, Section};
use snapspark::units::{CarbonPercent, Temperature, parse};

const CORE_WT: f64 = 0.15;
const VISIBLE_WT: f64 = 0.40;
const USUAL_CELSIUS: (f64, f64) = (900.0, 950.0);

/// Surface held at 0.9 Acm: a live pack.
const LIVE: Exchange = Exchange {
    potential: Potential::ShareOfAcm(0.9),
    transfer: f64::INFINITY,
    direction: Direction::BothWays,
};

fn soak(exchange: Exchange, section: Section, celsius: f64, minutes: f64) -> Profile {
    let form = &models().law("agren1986").expect("a shipped law").form.value;
    steady(form, exchange, section, CORE_WT, celsius, minutes)
}

fn total_mm(profile: &Profile) -> f64 {
    let above = models().criteria.total_above_core.value.wt_percent();
    profile.depth_to(CORE_WT + above).expect("the case ends") * 1e3
}

fn mm_to(profile: &Profile, wt: f64) -> f64 {
    profile.depth_to(wt).expect("the case ends") * 1e3
}

/// 850 °C gives about 0.7 of the depth at 900 °C (common practice, no source).
#[test]
fn fifty_degrees_colder_gives_seven_tenths() {
    let (cold, hot) = (soak(LIVE, Section::Thick, 850.0, 60.0), soak(LIVE, Section::Thick, 900.0, 60.0));
    for ratio in [total_mm(&cold) / total_mm(&hot), mm_to(&cold, VISIBLE_WT) / mm_to(&hot, VISIBLE_WT)] {
        println!("{ratio:.3}");
        assert!((0.62..=0.78).contains(&ratio), "{ratio}");
    }
}

/// No useful case below 1300 °F, 704 °C. Source: F. H. Colvin, K. A. Juthe, The Working of Steel,
/// 2nd ed. 1922, ch. VII (confirmed). The model: nothing at all below A1.
#[test]
fn no_case_below_1300_fahrenheit() {
    let limit = parse::<Temperature>("1300F").expect("a temperature").value.celsius();
    let profile = soak(LIVE, Section::Thick, limit, 480.0);
    assert_eq!(profile.depth_to(CORE_WT + 0.04), None);
    assert_eq!(profile.surface(), CORE_WT);
    assert!(profile.mass_gain_g_per_m2().abs() < 1e-9);
}

/// Half an hour at 900 °C gives a thin case, well under a millimetre (common practice, no source).
#[test]
fn half_an_hour_gives_a_thin_case() {
    let total = total_mm(&soak(LIVE, Section::Thick, 900.0, 30.0));
    println!("{total:.3} mm");
    assert!((0.2..=0.5).contains(&total), "{total}");
}

/// 900 to 950 °C is the usual range (common practice, no source): there the default law needs no
/// warning, stock of 0.10 %C and more is all austenite, and nothing melts.
#[test]
fn the_usual_range_is_inside_the_model() {
    let models = models();
    let law = models.law(&models.default_law).expect("the default law");
    assert!(law.range.low().celsius() <= USUAL_CELSIUS.0 && law.range.high().celsius() >= USUAL_CELSIUS.1);
    let a3 = models.phase.a3_celsius(CarbonPercent::new(0.10).expect("a carbon content"));
    assert!(a3 < USUAL_CELSIUS.0, "{a3}");
    assert!(models.phase.eutectic.value.celsius() > USUAL_CELSIUS.1);
}

/// 900 °C is about 1650 °F (common practice, no source).
#[test]
fn nine_hundred_celsius_is_about_1650_fahrenheit() {
    let t = parse::<Temperature>("1650F").expect("a temperature").value;
    assert!((t.celsius() - 900.0).abs() < 2.0, "{}", t.celsius());
}

/// 4 h at 930 °C gives about 1 mm to 0.35 %C. Source: a foundry lexicon, carburization depth in the sense of
/// DIN EN 10052 (confirmed). "About": 20 %.
#[test]
fn four_hours_give_a_millimetre() {
    let limit = models().criteria.carburization.value.wt_percent();
    assert_eq!(limit, 0.35);
    let depth = mm_to(&soak(LIVE, Section::Thick, 930.0, 240.0), limit);
    println!("{depth:.3} mm");
    assert!((depth - 1.0).abs() < 0.2, "{depth}");
}

/// A thin round rod gets a deeper case than flat stock of the same thickness (common practice, no source).
#[test]
fn a_round_rod_is_cased_deeper() {
    let half = 1.5e-3;
    let flat = soak(LIVE, Section::Plate { depth: half }, 900.0, 120.0);
    let round = soak(LIVE, Section::Round { radius: half }, 900.0, 120.0);
    let (flat_mm, round_mm) = (mm_to(&flat, VISIBLE_WT), mm_to(&round, VISIBLE_WT));
    println!("flat {flat_mm:.4} mm, round {round_mm:.4} mm");
    assert!(round_mm > flat_mm);
    assert!(round.far() > flat.far());
}

/// A 2 mm plate packed on both faces has no core left after 4 h at 950 °C (common practice, no source): all of it
/// is above the carbon that an eye sees as case. The slow surface is that of S7 in `scenarios.toml`.
#[test]
fn a_thin_plate_has_no_core() {
    let slow = Exchange { potential: Potential::Fixed(1.3), transfer: 2e-7, ..LIVE };
    for exchange in [LIVE, slow] {
        let profile = soak(exchange, Section::Plate { depth: 1e-3 }, 950.0, 240.0);
        println!("middle {:.3} %C", profile.far());
        assert!(profile.far() >= VISIBLE_WT);
        assert_eq!(profile.depth_to(VISIBLE_WT), None);
    }
}
