// A test fails by panicking.
#![allow(clippy::unwrap_used)]

//! Weights against closed forms: a normal number seen with normal errors. Source: any text on Bayes' rule for normal
//! numbers, such as A. Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, section 2.5; from memory.

use super::*;
use crate::crosscheck::expected::tests::case;
use crate::crosscheck::{BySign, Move, Sign};
use crate::diffusion::Potential;
use crate::estimate::CaseClass;
use crate::files::Models;
use crate::prediction::{Conditions, Inputs, SEED};
use crate::soak::{CoolingLaw, Guesses};
use crate::stats::normal_place;

/// Visible case depth before anything was seen: mean and standard deviation, mm. No rim so deep goes unseen.
const BEFORE: (f64, f64) = (1.0, 0.15);
/// What each run leaves open of its own depth, and the ruler's error, mm.
const OWN: f64 = 0.03;
const RULER: f64 = 0.06;
/// Mass gain for each mm of depth, mg, and the error of the balance, mg.
const MG_PER_MM: f64 = 100.0;
const BALANCE: f64 = 8.0;
/// Written before the first run, in standard deviations of the closed form: 4,096 evenly spread draws, of which some
/// hundreds carry the weight, are worth more than as many thousand plain ones.
const OFF: f64 = 0.02;

/// Runs of these depths, mm, with their weights.
fn runs(models: &Models, depths: impl Iterator<Item = (f64, f64)>) -> Vec<Hypothesis<'_>> {
    let expected = case(models, 0.8, BEFORE.0, 0.0);
    let inputs = Inputs {
        temperature_shift: 0.0,
        container_radius: 0.025,
        pore: 1e-3,
        charged_cold: true,
        late: 0.0,
        time_factor: 1.0,
        open_air: None,
        law_factor: 1.0,
        potential: Potential::ShareOfAcm(0.9),
        transfer: f64::INFINITY,
        cooling_law: CoolingLaw::GivesNothingBack,
        times: Guesses { closed_pack: 0.0, in_air: 0.0, at_heat: 0.0, heat_up: 0.0, then: None },
        core: 0.18,
        piece_shift: 0.0,
        visible_edge: 0.4,
    };
    let conditions = Conditions {
        top_celsius: 900.0,
        minutes: 60.0,
        late_minutes: 0.0,
        potential: 1.1,
        face: 1.0,
        reach: 0.0,
    };
    let run = |(depth, weight): (f64, f64)| {
        let exactly = |best| Doubtful { best, down: 0.0, up: 0.0 };
        let visible = Doubtful { best: depth, down: OWN, up: OWN };
        let expected = Expected { visible, gain: Some(exactly(MG_PER_MM * depth)), ..expected.clone() };
        Hypothesis { cause: None, change: Move::default(), weight, inputs, conditions, expected }
    };
    depths.map(run).collect()
}

/// Drawn as the runs of a prediction are.
fn drawn(models: &Models) -> Vec<Hypothesis<'_>> {
    let depth = |i| BEFORE.0 + BEFORE.1 * normal_place(f64::from(sobol_burley::sample(i, 0, SEED)) + 3e-8);
    runs(models, (0..4096).map(|i| (depth(i), 1.0)))
}

/// Evenly spaced, each weighed by the normal curve before anything was seen.
fn spaced(models: &Models) -> Vec<Hypothesis<'_>> {
    let depth = |i: i32| BEFORE.0 + BEFORE.1 * f64::from(i) / 100.0;
    runs(models, (-600..=600).map(|i| (depth(i), libm::exp(-0.5 * (f64::from(i) / 100.0).powi(2)))))
}

fn depth(mm: f64) -> Observation {
    let ruler = Doubtful { best: mm, down: RULER, up: RULER };
    Observation::Rim { class: CaseClass::AllRound, depth: Some(ruler), votes: None }
}

fn gain(mg: f64) -> Observation {
    Observation::Gain(Doubtful { best: mg, down: BALANCE, up: BALANCE })
}

/// Mean and standard deviation of the depth once this was seen, where a share `slip` of what is seen is plainly wrong.
fn weighed(models: &Models, runs: Vec<Hypothesis<'_>>, seen: &[Observation], slip: f64) -> (f64, f64) {
    let mut causes = models.causes.clone();
    causes.eyes.slip.value = slip;
    let signs = BySign([None; Sign::ALL.len()]);
    let weighed = Weighed::of(runs, seen, &signs, &causes);
    let mean: f64 = weighed.0.iter().map(|(h, w)| w * h.expected.visible.best).sum();
    let variance: f64 = weighed.0.iter().map(|(h, w)| w * (h.expected.visible.best - mean).powi(2)).sum();
    (mean, variance.sqrt())
}

/// A normal number of this mean and variance, seen at `seen` with an error of this variance.
fn after((mean, variance): (f64, f64), seen: f64, error: f64) -> (f64, f64) {
    let precision = 1.0 / variance + 1.0 / error;
    ((mean / variance + seen / error) / precision, 1.0 / precision)
}

fn near(got: (f64, f64), mean: f64, variance: f64) {
    let sd = variance.sqrt();
    assert!((got.0 - mean).abs() < OFF * sd, "mean {} {mean}, standard deviation {sd}", got.0);
    assert!((got.1 / sd - 1.0).abs() < OFF, "standard deviation {} {sd}", got.1);
}

#[test]
fn a_normal_number_is_weighed_as_in_closed_form() {
    let models = Models::shipped().unwrap();
    let before = (BEFORE.0, BEFORE.1 * BEFORE.1);
    let of_depth = OWN * OWN + RULER * RULER;
    let of_gain = (BALANCE / MG_PER_MM).powi(2);
    for make in [drawn, spaced] {
        for mm in [0.8, 1.0, 1.25] {
            let (mean, variance) = after(before, mm, of_depth);
            near(weighed(&models, make(&models), &[depth(mm)], 0.0), mean, variance);
            let (mean, variance) = after((mean, variance), 0.9, of_gain);
            near(weighed(&models, make(&models), &[depth(mm), gain(90.0)], 0.0), mean, variance);
        }
        near(weighed(&models, make(&models), &[], 0.0), before.0, before.1);
    }
}

/// With plain slips it is a mixture: what is left if the depth was read, and what was there before if it was not. A slip
/// names any of four classes and any depth to 2 mm.
#[test]
fn a_plain_slip_leaves_what_was_there_before() {
    let models = Models::shipped().unwrap();
    let slip = 0.04;
    let before = (BEFORE.0, BEFORE.1 * BEFORE.1);
    let error = OWN * OWN + RULER * RULER;
    let all_round = 1.0 - models.causes.eyes.one_sided.value;
    for mm in [1.1, 1.45, 1.6] {
        let spread = before.1 + error;
        let density =
            libm::exp(-0.5 * (mm - before.0).powi(2) / spread) / (std::f64::consts::TAU * spread).sqrt();
        let (read, slipped) = ((1.0 - slip) * all_round * density, slip * 0.25 / 2.0);
        let share = read / (read + slipped);
        let (own, own_variance) = after(before, mm, error);
        let mean = share * own + (1.0 - share) * before.0;
        let variance = share * (own_variance + own * own) + (1.0 - share) * (before.1 + before.0 * before.0)
            - mean * mean;
        for make in [drawn, spaced] {
            near(weighed(&models, make(&models), &[depth(mm)], slip), mean, variance);
        }
    }
}
