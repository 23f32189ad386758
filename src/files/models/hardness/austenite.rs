use super::{At, Bibliography, FILE, ModelsError, Single, all_bounded, bounded};
use crate::files::models::value::Range;
use crate::hardness::{Alloy, Austenite, Exponential};
use crate::units::{CarbonPercent, Hv, OutOfRange};
use serde::Deserialize;

/// Twin of [`Austenite`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Twin {
    ms_celsius: Single<ExponentialTwin>,
    rate_per_1000_kelvin: Single<ExponentialTwin>,
    range_percent: Range,
    spread: Range,
    hv: Range,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ExponentialTwin {
    a: f64,
    mn: f64,
    si: f64,
    c: f64,
    e: f64,
}

impl Twin {
    /// Both formulas, tried at either end of their range.
    pub(super) fn read(self, books: &mut Bibliography) -> Result<Austenite, ModelsError> {
        let at = |field| At { file: FILE, entry: "austenite", field };
        let range = self.range_percent.sourced(books, at("range_percent"), CarbonPercent::new)?;
        let ends = [range.value.low().wt_percent(), range.value.high().wt_percent()];
        let ms = |twin| tried(&twin, ends, bounded("Ms", "°C", -100.0, 700.0));
        let rate = |twin| tried(&twin, ends, bounded("rate", "per 1000 K", 1.0, 100.0));
        Ok(Austenite {
            ms: self.ms_celsius.sourced(books, at("ms_celsius"), ms)?,
            rate: self.rate_per_1000_kelvin.sourced(books, at("rate_per_1000_kelvin"), rate)?,
            range,
            spread: self.spread.sourced(books, at("spread"), bounded("factor", "times", 0.0, 10.0))?,
            hv: self.hv.sourced(books, at("hv"), Hv::new)?,
        })
    }
}

fn tried(
    twin: &ExponentialTwin,
    ends: [f64; 2],
    check: impl Fn(f64) -> Result<f64, OutOfRange>,
) -> Result<Exponential, OutOfRange> {
    let ExponentialTwin { a, mn, si, c, e } = *twin;
    all_bounded([a, mn, si, c, e], "coefficient", "", (-1e4, 1e4))?;
    let formula = Exponential { a, mn, si, c, e };
    for carbon in ends {
        check(formula.at(carbon, &Alloy { manganese: 0.0, silicon: 0.0 }))?;
    }
    Ok(formula)
}
