use super::ModelsError;
use super::bibliography::Bibliography;
use super::error::parse;
use super::value::{At, Range, Single, bounded};
use crate::crosscheck::Need;
use crate::units::{CarbonPercent, Depth, Temperature, Time};
use serde::Deserialize;

const FILE: &str = "verdict.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    need: NeedTwin,
    sure: SureTwin,
    hardening: HardeningTwin,
    open_air: OpenAirTwin,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct NeedTwin {
    wanted_percent: Single<f64>,
    least_percent: Single<f64>,
    brittle_percent: Single<f64>,
    depth_mm: Single<f64>,
    cleaning_mm: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SureTwin {
    enough: Single<f64>,
    most_doubt: Single<f64>,
    not: Single<f64>,
    false_alarms: Single<f64>,
    least_usual: Single<f64>,
    exclude: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HardeningTwin {
    heat_celsius: Range,
    martensite: Single<f64>,
    temper_celsius: Single<f64>,
    temper_hours: Single<f64>,
    silicon_percent: Single<f64>,
    manganese_percent: Range,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OpenAirTwin {
    heat_celsius: Single<f64>,
    minutes: Single<f64>,
}

/// Reads `verdict.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<Need, ModelsError> {
    let FileTwin { need, sure, hardening, open_air } = parse(FILE, text)?;
    let at = |entry, field| At { file: FILE, entry, field };
    let in_need = |field| at("need", field);
    let in_sure = |field| at("sure", field);
    let in_hardening = |field| at("hardening", field);
    let in_air = |field| at("open_air", field);
    // a chance of a half or less is no sureness
    let chance = || bounded("chance", "", 0.5, 0.99);
    let content = || bounded("content", "wt%", 0.0, 2.0);
    Ok(Need {
        wanted: need.wanted_percent.sourced(books, in_need("wanted_percent"), CarbonPercent::new)?,
        least: need.least_percent.sourced(books, in_need("least_percent"), CarbonPercent::new)?,
        brittle: need.brittle_percent.sourced(books, in_need("brittle_percent"), CarbonPercent::new)?,
        depth: need.depth_mm.sourced(books, in_need("depth_mm"), Depth::from_millimetres)?,
        cleaning: need.cleaning_mm.sourced(books, in_need("cleaning_mm"), Depth::from_millimetres)?,
        sure_enough: sure.enough.sourced(books, in_sure("enough"), chance())?,
        most_doubt: sure.most_doubt.sourced(books, in_sure("most_doubt"), bounded("chance", "", 0.0, 0.5))?,
        sure_not: sure.not.sourced(books, in_sure("not"), chance())?,
        false_alarms: sure.false_alarms.sourced(
            books,
            in_sure("false_alarms"),
            bounded("share", "", 0.001, 0.5),
        )?,
        exclude: sure.exclude.sourced(books, in_sure("exclude"), bounded("chance", "", 0.0, 0.5))?,
        least_usual: sure.least_usual.sourced(
            books,
            in_sure("least_usual"),
            bounded("share", "", 0.0, 0.9),
        )?,
        hardening: hardening.heat_celsius.sourced(
            books,
            in_hardening("heat_celsius"),
            Temperature::from_celsius,
        )?,
        martensite: hardening.martensite.sourced(
            books,
            in_hardening("martensite"),
            bounded("share of martensite", "", 0.5, 1.0),
        )?,
        temper: hardening.temper_celsius.sourced(
            books,
            in_hardening("temper_celsius"),
            Temperature::from_celsius,
        )?,
        temper_time: hardening
            .temper_hours
            .sourced(books, in_hardening("temper_hours"), |h| Time::from_minutes(h * 60.0))?,
        silicon: hardening.silicon_percent.sourced(books, in_hardening("silicon_percent"), content())?,
        manganese: hardening.manganese_percent.sourced(
            books,
            in_hardening("manganese_percent"),
            content(),
        )?,
        open_air: open_air.heat_celsius.sourced(books, in_air("heat_celsius"), Temperature::from_celsius)?,
        open_air_time: open_air.minutes.sourced(books, in_air("minutes"), Time::from_minutes)?,
    })
}
