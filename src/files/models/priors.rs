use super::ModelsError;
use super::bibliography::Bibliography;
use super::error::parse;
use super::value::{At, Range, Single, bounded};
use crate::prediction::Priors;
use crate::units::{Depth, Time};
use serde::Deserialize;

const FILE: &str = "priors.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    container_radius_mm: Range,
    heat_up_min: Range,
    gaping_lid_co2: Range,
    held_as_m_per_s: Single<f64>,
    partly_out_kelvin: Single<f64>,
    place: PlaceTwin,
    chance: ChanceTwin,
    stays: StaysTwin,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PlaceTwin {
    told_kelvin: Range,
    untold_kelvin: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ChanceTwin {
    follows_acm: Single<f64>,
    already_hot: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StaysTwin {
    offset: Single<f64>,
    pore: Single<f64>,
    potential: Single<f64>,
}

/// Reads `priors.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<Priors, ModelsError> {
    let twin: FileTwin = parse(FILE, text)?;
    let FileTwin { place, chance, stays, .. } = twin;
    let at = |entry, field| At { file: FILE, entry, field };
    let kelvin = bounded("temperature difference", "K", 0.0, 300.0);
    let share = bounded("chance", "", 0.0, 1.0);
    let metres = |mm| Depth::from_millimetres(mm).map(Depth::metres);
    Ok(Priors {
        container_radius: twin.container_radius_mm.sourced(books, at("", "container_radius_mm"), metres)?,
        heat_up: twin.heat_up_min.sourced(books, at("", "heat_up_min"), Time::from_minutes)?,
        gaping_lid_co2: twin.gaping_lid_co2.sourced(
            books,
            at("", "gaping_lid_co2"),
            bounded("CO2 as a multiple", "", 1.0, 10.0),
        )?,
        held_as: twin.held_as_m_per_s.sourced(
            books,
            at("", "held_as_m_per_s"),
            bounded("transfer coefficient", "m/s", 1e-9, 1e-5),
        )?,
        partly_out: twin.partly_out_kelvin.sourced(books, at("", "partly_out_kelvin"), &kelvin)?,
        told_place: place.told_kelvin.sourced(books, at("place", "told_kelvin"), &kelvin)?,
        untold_place: place.untold_kelvin.sourced(books, at("place", "untold_kelvin"), &kelvin)?,
        follows_acm: chance.follows_acm.sourced(books, at("chance", "follows_acm"), &share)?,
        already_hot: chance.already_hot.sourced(books, at("chance", "already_hot"), &share)?,
        stays: [
            stays.offset.sourced(books, at("stays", "offset"), &share)?,
            stays.pore.sourced(books, at("stays", "pore"), &share)?,
            stays.potential.sourced(books, at("stays", "potential"), &share)?,
        ],
    })
}
