//! Diffusivity, phase limits and grade limits against tables that were made apart from this crate.
//! Every table's head names its source and the tolerance, which stands here under the same number.

use serde::de::DeserializeOwned;
use snapspark::files::Models;
use snapspark::units::{CarbonPercent, Temperature};
use std::collections::BTreeSet;

/// Of the value: formulas alone, so only the printed digits of the constants differ.
const DIFFUSIVITY_RELATIVE: f64 = 0.002;
/// What the fit of Acm claims.
const ACM_PERCENT: f64 = 0.003;
/// A little more than the fit of the graphite line claims.
const GRAPHITE_PERCENT: f64 = 0.006;
/// A little more than the fit of A3 claims.
const A3_KELVIN: f64 = 0.7;
/// Of the value; the closed form is a hundred times better.
const ACTIVITY_RELATIVE: f64 = 0.005;
/// Carbon beside gas with too much CO2, wt%.
const LEAKING_PERCENT: f64 = 0.004;
/// Printed cells are rounded or cut to a thousandth.
const HARRIS_INCH: f64 = 0.001;
/// Carbon contents of the activity columns, wt%.
const ACTIVITY_PERCENT: [f64; 7] = [0.1, 0.2, 0.4, 0.6, 0.8, 1.0, 1.2];

/// A row of `boudouard.csv`.
#[derive(serde::Deserialize)]
struct Gas {
    celsius: f64,
    k_atm: f64,
    graphite_percent: f64,
    at_5_percent: f64,
    at_10_percent: f64,
    rest_co2_percent: f64,
    times_1_5_percent: f64,
    times_2_percent: f64,
    times_3_percent: f64,
}

fn rows<T: DeserializeOwned>(text: &str) -> Vec<T> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader.deserialize().map(|row| row.expect("a row of a reference table")).collect()
}

fn models() -> Models {
    Models::shipped().expect("the shipped models")
}

fn celsius(t: f64) -> Temperature {
    Temperature::from_celsius(t).expect("a temperature")
}

fn percent(c: f64) -> CarbonPercent {
    CarbonPercent::new(c).expect("a carbon content")
}

fn near(got: f64, wanted: f64, tolerance: f64, what: &str) {
    assert!((got - wanted).abs() <= tolerance, "{what}: {got}, wanted {wanted} within {tolerance}");
}

#[test]
fn every_law_gives_the_tabled_diffusivity() {
    let models = models();
    let mut tabled = BTreeSet::new();
    for (law, t, c, d) in rows::<(String, f64, f64, f64)>(include_str!("diffusivity.csv")) {
        let got = models.law(&law).unwrap().diffusivity(celsius(t), percent(c)).unwrap();
        let what = format!("{law} at {t} °C, {c} %C");
        near(got.square_metres_per_second(), d, DIFFUSIVITY_RELATIVE * d, &what);
        tabled.insert(law);
    }
    let shipped: BTreeSet<_> = models.laws.iter().map(|l| l.name.clone()).collect();
    assert_eq!(tabled, shipped, "a law without rows is a law without a check");
}

#[test]
fn fits_keep_their_promise_at_every_tabled_temperature() {
    type Row = (f64, Option<f64>, f64, f64, f64, [f64; 7]);
    let phase = models().phase;
    for (t, a3, acm, graphite, on_acm, activities) in rows::<Row>(include_str!("phase_limits.csv")) {
        let kelvin = celsius(t).kelvin();
        near(phase.acm_wt_percent(kelvin), acm, ACM_PERCENT, &format!("Acm at {t} °C"));
        near(phase.graphite.value.at(kelvin), graphite, GRAPHITE_PERCENT, &format!("graphite at {t} °C"));
        if let Some(c) = a3 {
            near(phase.a3_celsius(percent(c)), t, A3_KELVIN, &format!("A3 of {c} %C"));
        }
        let activity_columns = ACTIVITY_PERCENT.into_iter().zip(activities);
        for (c, wanted) in activity_columns.chain([(acm, on_acm)]) {
            let got = phase.activity(percent(c), celsius(t));
            near(got, wanted, ACTIVITY_RELATIVE * wanted, &format!("activity of {c} %C at {t} °C"));
        }
    }
}

/// Over charcoal the activity is 1 at the graphite line and pCO² / (pCO2 K) elsewhere.
#[test]
fn activity_agrees_with_the_gas_over_charcoal() {
    let phase = models().phase;
    let from_a1 = celsius(727.0);
    for row in rows::<Gas>(include_str!("boudouard.csv")) {
        let Gas { celsius: t, k_atm: k, graphite_percent: graphite, .. } = row;
        let (at_5, at_10) = (row.at_5_percent, row.at_10_percent);
        if celsius(t) >= from_a1 {
            let line = phase.graphite.value.at(celsius(t).kelvin());
            near(line, graphite, GRAPHITE_PERCENT, &format!("graphite line at {t} °C"));
        }
        let gas = [(at_5, 0.05), (at_10, 0.10)].into_iter().filter(|(c, _)| *c < graphite);
        let gas = gas.map(|(c, co2)| (c, (1.0 - co2) * (1.0 - co2) / (co2 * k)));
        for (c, wanted) in gas.chain([(graphite, 1.0)]) {
            let got = phase.activity(percent(c), celsius(t));
            near(got, wanted, ACTIVITY_RELATIVE * wanted, &format!("activity of {c} %C at {t} °C"));
        }
    }
}

/// Gas with more CO2 than charcoal keeps holds as many times less active carbon, and less again for the CO that the CO2 came
/// of: pCO² / pCO2. From A1 on.
#[test]
fn leaking_gas_leaves_the_tabled_carbon() {
    let phase = models().phase;
    for row in rows::<Gas>(include_str!("boudouard.csv")).into_iter().filter(|row| row.celsius >= 727.0) {
        let rest = row.rest_co2_percent / 100.0;
        let left = [row.times_1_5_percent, row.times_2_percent, row.times_3_percent];
        for (factor, wanted) in [1.5, 2.0, 3.0].into_iter().zip(left) {
            let co = (1.0 - factor * rest) / (1.0 - rest);
            let got =
                phase.less_active(row.graphite_percent, factor / (co * co), celsius(row.celsius).kelvin());
            near(got, wanted, LEAKING_PERCENT, &format!("{factor} times the CO2 at {} °C", row.celsius));
        }
    }
}

#[test]
fn single_values_agree() {
    type Row = (String, f64, Option<f64>, f64, String, f64);
    let models = models();
    for (what, t, c, wanted, _unit, relative) in rows::<Row>(include_str!("acceptance.csv")) {
        let kelvin = celsius(t).kelvin();
        let got = match (what.split_once(' '), what.as_str(), c) {
            (Some(("diffusivity", law)), _, Some(c)) => models.law(law).unwrap().form.value.at(kelvin, c),
            (None, "acm", None) => models.phase.acm_wt_percent(kelvin),
            (None, "graphite", None) => models.phase.graphite.value.at(kelvin),
            (None, "activity", Some(c)) => models.phase.activity(percent(c), celsius(t)),
            _ => panic!("no such value: {what}"),
        };
        near(got, wanted, relative * wanted, &format!("{what} at {t} °C"));
    }
}

#[test]
fn grades_have_the_limits_of_their_standards() {
    type Row = (String, String, Option<f64>, Option<f64>, Option<f64>, Option<f64>);
    let models = models();
    let standards = models.grades.iter().filter(|grade| grade.carbon.source != "snapspark");
    let mut without_row: BTreeSet<&str> = standards.map(|grade| grade.name.as_str()).collect();
    for (standard, name, low, high, mn_low, mn_high) in rows::<Row>(include_str!("steel_ranges.csv")) {
        let grade = models.grade(&name).unwrap();
        without_row.remove(grade.name.as_str());
        let carbon = grade.carbon.value;
        let (got_low, got_high) = (carbon.low().wt_percent(), carbon.high().wt_percent());
        assert_eq!(got_low, low.unwrap_or(got_low), "{standard} {name}: least carbon");
        assert_eq!(got_high, high.unwrap_or(got_high), "{standard} {name}: most carbon");
        assert_eq!(grade.manganese, mn_low.zip(mn_high), "{standard} {name}: manganese");
        if let (Some(low), Some(high)) = (low, high) {
            let middle = f64::midpoint(low, high);
            near(carbon.best().wt_percent(), middle, 1e-12, &format!("{standard} {name}: middle"));
        }
    }
    assert!(without_row.is_empty(), "grades of a standard without a row: {without_row:?}");
}

/// The case depths that later tests use are the printed ones: each agrees with the rule they are said to follow.
#[test]
fn the_copied_case_depths_follow_their_rule() {
    let cells = rows::<(f64, f64, f64)>(include_str!("harris.csv"));
    assert_eq!(cells.len(), 250);
    for (hours, fahrenheit, inch) in cells {
        let rule = 31.6 * hours.sqrt() / 10_f64.powf(6700.0 / (fahrenheit + 460.0));
        near(inch, rule, HARRIS_INCH, &format!("{hours} h at {fahrenheit} °F"));
    }
}
