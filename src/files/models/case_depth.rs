use super::bibliography::Bibliography;
use super::error::parse;
use super::value::{At, Range, Single};
use super::{Criteria, ModelsError};
use crate::units::CarbonPercent;
use serde::Deserialize;

const FILE: &str = "case-depth.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    carbon_percent: CriteriaTwin,
}

/// Twin of [`Criteria`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CriteriaTwin {
    total_above_core: Single<f64>,
    carburization: Single<f64>,
    visible: Range,
}

/// Reads `case-depth.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<Criteria, ModelsError> {
    let twin = parse::<FileTwin>(FILE, text)?.carbon_percent;
    let at = |field| At { file: FILE, entry: "carbon_percent", field };
    let carbon = CarbonPercent::new;
    Ok(Criteria {
        total_above_core: twin.total_above_core.sourced(books, at("total_above_core"), carbon)?,
        carburization: twin.carburization.sourced(books, at("carburization"), carbon)?,
        visible: twin.visible.sourced(books, at("visible"), carbon)?,
    })
}
