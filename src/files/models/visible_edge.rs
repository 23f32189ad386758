use super::ModelsError;
use super::bibliography::Bibliography;
use super::error::parse;
use super::value::{At, Range, Single, bounded};
use crate::known::EdgeReading;
use crate::prediction::Criteria;
use crate::units::CarbonPercent;
use serde::Deserialize;

const FILE: &str = "visible-edge.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    before: BeforeTwin,
    case: CaseTwin,
    point: PointTwin,
    martensite: MartensiteTwin,
    reading: ReadingTwin,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BeforeTwin {
    oil_percent: Range,
    between_coupons_percent: Range,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CaseTwin {
    surface_percent: Range,
    reach_mm: Range,
    bluntness: Range,
    off_curve_percent: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PointTwin {
    depth_mm: Single<f64>,
    carbon_percent: Single<f64>,
    hardness_hrc: Single<f64>,
    etched_percent: Range,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MartensiteTwin {
    water: Range,
    oil: Range,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ReadingTwin {
    slip: Single<f64>,
    slip_mm: Single<f64>,
}

/// Reads `visible-edge.toml`; water and brine begin with the carbon of `criteria`.
pub(super) fn read(
    text: &str,
    criteria: &Criteria,
    books: &mut Bibliography,
) -> Result<EdgeReading, ModelsError> {
    let FileTwin { before, case, point, martensite, reading } = parse::<FileTwin>(FILE, text)?;
    let at = |entry, field| At { file: FILE, entry, field };
    let wt = || bounded("carbon content", "wt%", 0.001, 2.0);
    let mm = || bounded("depth", "mm", 0.001, 20.0);
    let share = || bounded("share of martensite", "", 0.5, 1.0);
    Ok(EdgeReading {
        water: criteria.visible.clone(),
        oil: before.oil_percent.sourced(books, at("before", "oil_percent"), CarbonPercent::new)?,
        between_coupons: before.between_coupons_percent.sourced(
            books,
            at("before", "between_coupons_percent"),
            bounded("scatter", "wt%", 0.01, 0.5),
        )?,
        surface: case.surface_percent.sourced(books, at("case", "surface_percent"), wt())?,
        reach: case.reach_mm.sourced(books, at("case", "reach_mm"), mm())?,
        bluntness: case.bluntness.sourced(
            books,
            at("case", "bluntness"),
            bounded("bluntness", "", 0.5, 10.0),
        )?,
        off_curve: case.off_curve_percent.sourced(books, at("case", "off_curve_percent"), wt())?,
        point_depth: point.depth_mm.sourced(books, at("point", "depth_mm"), mm())?,
        point_carbon: point.carbon_percent.sourced(books, at("point", "carbon_percent"), wt())?,
        point_hardness: point.hardness_hrc.sourced(
            books,
            at("point", "hardness_hrc"),
            bounded("reading error", "HRC", 0.1, 10.0),
        )?,
        etched: point.etched_percent.sourced(books, at("point", "etched_percent"), wt())?,
        water_martensite: martensite.water.sourced(books, at("martensite", "water"), share())?,
        oil_martensite: martensite.oil.sourced(books, at("martensite", "oil"), share())?,
        slip: reading.slip.sourced(books, at("reading", "slip"), bounded("share", "", 0.001, 0.5))?,
        slip_depth: reading.slip_mm.sourced(books, at("reading", "slip_mm"), mm())?,
    })
}
