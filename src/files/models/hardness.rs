//! `hardness.toml`.

mod austenite;
mod files;
mod martensite;
mod section;
mod temper;

use super::ModelsError;
use super::bibliography::Bibliography;
use super::error::parse;
use super::value::{At, Single, bounded};
use crate::hardness::{Conversion, DepthRules, Hardness};
use crate::units::{Hrc, Hv, OutOfRange};
use serde::Deserialize;

const FILE: &str = "hardness.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    conversion: ConversionTwin,
    martensite: martensite::Twin,
    austenite: austenite::Twin,
    temper: temper::Twin,
    hardenability: section::HardenabilityTwin,
    severity: Vec<section::SeverityTwin>,
    file: Vec<files::Twin>,
    depth: DepthTwin,
}

/// Twin of [`Conversion`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ConversionTwin {
    hv_from_20_hrc: Single<Vec<f64>>,
}

/// Twin of [`DepthRules`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DepthTwin {
    effective_hrc: Single<f64>,
    case_hardening_hv: Single<f64>,
    rule_times: Single<f64>,
    rule_under_hv: Single<f64>,
}

/// Reads `hardness.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<Hardness, ModelsError> {
    let file: FileTwin = parse(FILE, text)?;
    let conversion = conversion(file.conversion, books)?;
    let depth = depth(file.depth, books)?;
    Ok(Hardness {
        martensite: file.martensite.read(books)?,
        austenite: file.austenite.read(books)?,
        temper: file.temper.read(books)?,
        hardenability: file.hardenability.read(books)?,
        severities: section::severities(file.severity, books)?,
        files: files::read(file.file, books)?,
        conversion,
        depth,
    })
}

fn conversion(twin: ConversionTwin, books: &mut Bibliography) -> Result<Conversion, ModelsError> {
    let at = At { file: FILE, entry: "conversion", field: "hv_from_20_hrc" };
    let hv_from_20 = twin.hv_from_20_hrc.sourced(books, at, |hv| {
        for n in &hv {
            Hv::new(*n)?;
        }
        Hrc::new(Hrc::LEAST + hv.len() as f64)?;
        rising("hardness", "HV", hv, |n| *n)
    })?;
    Ok(Conversion { hv_from_20 })
}

fn depth(twin: DepthTwin, books: &mut Bibliography) -> Result<DepthRules, ModelsError> {
    let at = |field| At { file: FILE, entry: "depth", field };
    Ok(DepthRules {
        effective: twin.effective_hrc.sourced(books, at("effective_hrc"), Hrc::new)?,
        case_hardening: twin.case_hardening_hv.sourced(books, at("case_hardening_hv"), Hv::new)?,
        rule_times: twin.rule_times.sourced(
            books,
            at("rule_times"),
            bounded("factor", "times", 1.0, 10.0),
        )?,
        rule_under: twin.rule_under_hv.sourced(books, at("rule_under_hv"), Hv::new)?,
    })
}

/// The rows, if there are two or more and `number` rises all along.
fn rising<T>(
    what: &'static str,
    unit: &'static str,
    rows: Vec<T>,
    number: impl Fn(&T) -> f64,
) -> Result<Vec<T>, OutOfRange> {
    let numbers: Vec<f64> = rows.iter().map(number).collect();
    if numbers.len() < 2 {
        let got = numbers.len() as f64;
        return Err(OutOfRange { what: "rows", got, low: 2.0, high: f64::INFINITY, unit: "rows" });
    }
    match numbers.windows(2).find(|w| w[1] <= w[0]) {
        Some(w) => Err(OutOfRange { what, got: w[1], low: w[0], high: f64::INFINITY, unit }),
        None => Ok(rows),
    }
}

/// A content of an alloying element or a factor, in `unit`.
fn all_bounded<const N: usize>(
    numbers: [f64; N],
    what: &'static str,
    unit: &'static str,
    (low, high): (f64, f64),
) -> Result<[f64; N], OutOfRange> {
    numbers.iter().try_for_each(|n| bounded(what, unit, low, high)(*n).map(drop))?;
    Ok(numbers)
}
