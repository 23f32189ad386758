use super::value::{At, Single, bounded};
use super::{Bibliography, ModelsError};
use crate::steel::{PhaseLimits, Quadratic};
use crate::units::{CarbonPercent, Interval, OutOfRange, Temperature};
use serde::Deserialize;

/// Carbon, wt%, that the A3 fit is made for, low and high.
const A3_PERCENT: (f64, f64) = (0.02, 0.76);

/// Twin of [`PhaseLimits`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PhaseTwin {
    a1_celsius: Single<f64>,
    eutectic_celsius: Single<f64>,
    acm_percent: Single<QuadraticTwin>,
    graphite_percent: Single<QuadraticTwin>,
    activity_j_per_mol: Single<[f64; 3]>,
    a3_celsius: Single<[f64; 4]>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct QuadraticTwin {
    a: f64,
    b: f64,
    c: f64,
}

impl PhaseTwin {
    /// The limits, each tried at both ends of its range.
    pub(super) fn limits(
        self,
        file: &'static str,
        books: &mut Bibliography,
    ) -> Result<PhaseLimits, ModelsError> {
        let at = |field| At { file, entry: "phase-limits", field };
        let a1 = self.a1_celsius.sourced(books, at("a1_celsius"), Temperature::from_celsius)?;
        let eutectic =
            self.eutectic_celsius.sourced(books, at("eutectic_celsius"), Temperature::from_celsius)?;
        let ends = Interval::new(a1.value, a1.value, eutectic.value).ok_or_else(|| {
            ModelsError::value(at("eutectic_celsius"), "below a1_celsius", "temperatures above it")
        })?;
        let curve = |q: QuadraticTwin| tried_quadratic(&q, ends);
        Ok(PhaseLimits {
            acm: self.acm_percent.sourced(books, at("acm_percent"), curve)?,
            graphite: self.graphite_percent.sourced(books, at("graphite_percent"), curve)?,
            activity: self.activity_j_per_mol.sourced(books, at("activity_j_per_mol"), finite)?,
            a3: self.a3_celsius.sourced(books, at("a3_celsius"), tried_a3)?,
            a1,
            eutectic,
        })
    }
}

fn tried_quadratic(twin: &QuadraticTwin, ends: Interval<Temperature>) -> Result<Quadratic, OutOfRange> {
    let curve = Quadratic { a: twin.a, b: twin.b, c: twin.c };
    CarbonPercent::new(curve.at(ends.low().kelvin()))?;
    CarbonPercent::new(curve.at(ends.high().kelvin()))?;
    Ok(curve)
}

fn tried_a3(k: [f64; 4]) -> Result<[f64; 4], OutOfRange> {
    for c in [A3_PERCENT.0, A3_PERCENT.1] {
        Temperature::from_celsius(k[0] + c * (k[1] + c * (k[2] + c * k[3])))?;
    }
    Ok(k)
}

fn finite<const N: usize>(numbers: [f64; N]) -> Result<[f64; N], OutOfRange> {
    let check = bounded("coefficient", "", -1e9, 1e9);
    numbers.iter().try_for_each(|n| check(*n).map(drop))?;
    Ok(numbers)
}
