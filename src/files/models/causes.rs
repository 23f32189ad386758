use super::ModelsError;
use super::bibliography::Bibliography;
use super::checks::{self, CheckTwin, Tools};
use super::error::parse;
use super::value::{At, Range, Single, bounded};
use crate::crosscheck::{BySign, Cause, Causes, Chances, Eyes, Mistaken, Move, Sign};
use crate::hardness::Hardness;
use crate::soak::WitnessMetal;
use crate::units::{CarbonPercent, Depth, OutOfRange, Temperature, Time};
use serde::Deserialize;
use std::collections::BTreeMap;

pub(super) const FILE: &str = "causes.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    usual: UsualTwin,
    reading: EyesTwin,
    cause: Vec<CauseTwin>,
    check: Vec<CheckTwin>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct UsualTwin {
    weight: Single<f64>,
    chances: Single<BTreeMap<String, f64>>,
}

/// Twin of [`Eyes`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct EyesTwin {
    spark_percent: Single<f64>,
    spark_per_carbon: Single<f64>,
    slip: Single<f64>,
    least_rim_mm: Range,
    one_sided: Single<f64>,
    gain_mg: Single<f64>,
    rich_percent: Range,
    inward_mm: Single<f64>,
    oil_martensite: Range,
    water_martensite: Range,
    hardening_celsius: Range,
    hot_celsius: Single<f64>,
    past_magnet_celsius: Range,
    uneven_percent: Single<f64>,
    uneven_mm: Single<f64>,
    hardened_unsaid: Single<f64>,
    no_border: Single<[f64; 4]>,
    soft_break: Single<[f64; 4]>,
    lip: Single<[f64; 4]>,
    lip_mm: Range,
    slip_mm: Single<f64>,
    skates_on_soft: Single<f64>,
    metal_kelvin: Single<f64>,
    against_metal: Single<f64>,
}

/// Twin of [`Cause`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CauseTwin {
    key: String,
    name: String,
    moves: Vec<MoveTwin>,
    weight: Single<f64>,
    /// Only signs that this cause changes.
    #[serde(default)]
    chances: BTreeMap<String, f64>,
    tells_apart: String,
    next: String,
}

/// Twin of [`Move`].
#[derive(Deserialize, PartialEq, Default, Clone)]
#[serde(deny_unknown_fields, default)]
struct MoveTwin {
    temperature_kelvin: Option<f64>,
    late_share: Option<f64>,
    time_factor: Option<f64>,
    potential_factor: Option<f64>,
    co2_factor: Option<f64>,
    transfer_factor: Option<f64>,
    cooling: Option<String>,
    air_minutes: Option<f64>,
    air_celsius: Option<f64>,
    core_percent: Option<f64>,
    thickness_mm: Option<f64>,
    visible_edge_percent: Option<f64>,
    martensite: Option<f64>,
    quench_celsius: Option<f64>,
    ground_mm: Option<f64>,
    spark_bias_percent: Option<f64>,
    face: Option<String>,
}

/// Reads `causes.toml`.
pub(super) fn read(
    text: &str,
    (hardness, metals): (&Hardness, &[WitnessMetal]),
    books: &mut Bibliography,
) -> Result<Causes, ModelsError> {
    let file: FileTwin = parse(FILE, text)?;
    let at = |field| At { file: FILE, entry: "usual", field };
    let usual = file.usual.weight.sourced(books, at("weight"), bounded("weight", "", 0.01, 100.0))?;
    let named = file.usual.chances.sourced(books, at("chances"), Ok)?;
    let all = |sign: Sign| named.value.contains_key(sign.key());
    if let Some(missing) = Sign::ALL.into_iter().find(|sign| !all(*sign)) {
        return Err(ModelsError::value(at("chances"), format!("without `{}`", missing.key()), "every sign"));
    }
    let value = chances("usual", &named.value, &BySign([0.5; Sign::ALL.len()]))?;
    let sound =
        crate::sources::Sourced { value, source: named.source, place: named.place, status: named.status };
    let eyes = eyes(file.reading, books)?;
    let mut list: Vec<Cause> = Vec::new();
    for twin in file.cause {
        if list.iter().any(|c| c.key == twin.key) {
            return Err(ModelsError::value(
                At { file: FILE, entry: &twin.key, field: "key" },
                "there twice",
                "each once",
            ));
        }
        list.push(cause(twin, &sound.value, books)?);
    }
    let checks = checks::read(file.check, Tools { hardness, metals, eyes: &eyes }, books)?;
    Ok(Causes { usual, chances: sound, eyes, list, checks })
}

fn eyes(twin: EyesTwin, books: &mut Bibliography) -> Result<Eyes, ModelsError> {
    let at = |field| At { file: FILE, entry: "reading", field };
    let spread = || bounded("spread", "wt%", 0.001, 1.0);
    let share = || bounded("share", "", 0.0, 1.0);
    let mm = || bounded("depth", "mm", 0.001, 10.0);
    Ok(Eyes {
        spark: twin.spark_percent.sourced(books, at("spark_percent"), spread())?,
        spark_per_carbon: twin.spark_per_carbon.sourced(books, at("spark_per_carbon"), share())?,
        slip: twin.slip.sourced(books, at("slip"), bounded("share", "", 0.001, 0.5))?,
        least_rim: twin.least_rim_mm.sourced(books, at("least_rim_mm"), mm())?,
        one_sided: twin.one_sided.sourced(books, at("one_sided"), share())?,
        gain_mg: twin.gain_mg.sourced(books, at("gain_mg"), bounded("spread", "mg", 0.01, 1000.0))?,
        rich: twin.rich_percent.sourced(books, at("rich_percent"), spread())?,
        inward_mm: twin.inward_mm.sourced(books, at("inward_mm"), mm())?,
        oil_martensite: twin.oil_martensite.sourced(books, at("oil_martensite"), martensite())?,
        water_martensite: twin.water_martensite.sourced(books, at("water_martensite"), martensite())?,
        hardening: twin.hardening_celsius.sourced(
            books,
            at("hardening_celsius"),
            Temperature::from_celsius,
        )?,
        hot: twin.hot_celsius.sourced(books, at("hot_celsius"), Temperature::from_celsius)?,
        past_magnet: twin.past_magnet_celsius.sourced(
            books,
            at("past_magnet_celsius"),
            Temperature::from_celsius,
        )?,
        uneven: twin.uneven_percent.sourced(books, at("uneven_percent"), spread())?,
        uneven_mm: twin.uneven_mm.sourced(books, at("uneven_mm"), mm())?,
        hardened_unsaid: twin.hardened_unsaid.sourced(books, at("hardened_unsaid"), share())?,
        no_border: twin.no_border.sourced(books, at("no_border"), classes)?,
        soft_break: twin.soft_break.sourced(books, at("soft_break"), classes)?,
        lip: twin.lip.sourced(books, at("lip"), classes)?,
        lip_mm: twin.lip_mm.sourced(books, at("lip_mm"), mm())?,
        slip_mm: twin.slip_mm.sourced(books, at("slip_mm"), mm())?,
        skates_on_soft: twin.skates_on_soft.sourced(books, at("skates_on_soft"), share())?,
        metal_kelvin: twin.metal_kelvin.sourced(
            books,
            at("metal_kelvin"),
            bounded("spread", "K", 0.1, 50.0),
        )?,
        against_metal: twin.against_metal.sourced(books, at("against_metal"), share())?,
    })
}

/// Chances of every class of rim: they sum to 1.
fn classes(chances: [f64; 4]) -> Result<[f64; 4], OutOfRange> {
    for chance in chances {
        bounded("chance", "", 0.0, 1.0)(chance)?;
    }
    bounded("sum of the chances", "", 0.999, 1.001)(chances.iter().sum())?;
    Ok(chances)
}

/// The columns of the hardness table end at half martensite.
fn martensite() -> impl Fn(f64) -> Result<f64, OutOfRange> {
    bounded("share of martensite", "", 0.5, 1.0)
}

fn cause(twin: CauseTwin, sound: &Chances, books: &mut Bibliography) -> Result<Cause, ModelsError> {
    let CauseTwin { key, name, moves, weight, chances: named, tells_apart, next } = twin;
    let at = |field| At { file: FILE, entry: &key, field };
    let weight = weight.sourced(books, at("weight"), bounded("weight", "", 0.001, 100.0))?;
    if moves.is_empty() || moves.contains(&MoveTwin::default()) {
        return Err(ModelsError::value(
            at("moves"),
            "a change that changes nothing",
            "at least one change each",
        ));
    }
    let moves = moves.iter().map(|m| change(m, &key)).collect::<Result<Vec<_>, _>>()?;
    for (field, words) in [("name", &name), ("tells_apart", &tells_apart), ("next", &next)] {
        if words.trim().is_empty() {
            return Err(ModelsError::value(at(field), "empty", "a sentence"));
        }
    }
    let chances = chances(&key, &named, sound)?;
    Ok(Cause { key, name, moves, weight, chances, tells_apart, next })
}

fn change(twin: &MoveTwin, entry: &str) -> Result<Move, ModelsError> {
    let at = |field| At { file: FILE, entry, field };
    let number = |field, value: Option<f64>, low: f64, high: f64| match value {
        Some(n) if !(low..=high).contains(&n) => {
            Err(ModelsError::value(at(field), n.to_string(), format!("{low} to {high}")))
        }
        other => Ok(other),
    };
    let held = |field, e: &OutOfRange| ModelsError::value(at(field), e.to_string(), "a value in range");
    let carbon =
        |field, value: Option<f64>| value.map(CarbonPercent::new).transpose().map_err(|e| held(field, &e));
    let depth = |field, value: Option<f64>| {
        value.map(Depth::from_millimetres).transpose().map_err(|e| held(field, &e))
    };
    let heat = |field, value: Option<f64>| {
        value.map(Temperature::from_celsius).transpose().map_err(|e| held(field, &e))
    };
    let word =
        |field, got: &str, allowed: &str| ModelsError::value(at(field), got.to_string(), allowed.to_string());
    let minutes =
        twin.air_minutes.map(Time::from_minutes).transpose().map_err(|e| held("air_minutes", &e))?;
    let open_air = match (minutes, heat("air_celsius", twin.air_celsius)?) {
        (Some(time), Some(heat)) => Some((time, heat)),
        (None, None) => None,
        _ => return Err(word("air_minutes", "alone", "air_minutes and air_celsius together")),
    };
    let follows_acm = match twin.cooling.as_deref() {
        None => false,
        Some("follows Acm") => true,
        Some(other) => return Err(word("cooling", other, "follows Acm")),
    };
    let face = match twin.face.as_deref() {
        None => None,
        Some("no border") => Some(Mistaken::NoBorder),
        Some("lip") => Some(Mistaken::Lip),
        Some(other) => return Err(word("face", other, "no border, lip")),
    };
    Ok(Move {
        temperature_kelvin: number("temperature_kelvin", twin.temperature_kelvin, -300.0, 300.0)?,
        late_share: number("late_share", twin.late_share, 0.01, 1.0)?,
        time_factor: number("time_factor", twin.time_factor, 0.01, 100.0)?,
        potential_factor: number("potential_factor", twin.potential_factor, 0.01, 2.0)?,
        co2_factor: number("co2_factor", twin.co2_factor, 1.01, 20.0)?,
        transfer_factor: number("transfer_factor", twin.transfer_factor, 1e-4, 10.0)?,
        follows_acm,
        open_air,
        core: carbon("core_percent", twin.core_percent)?,
        thickness: depth("thickness_mm", twin.thickness_mm)?,
        visible_edge: carbon("visible_edge_percent", twin.visible_edge_percent)?,
        martensite: number("martensite", twin.martensite, 0.5, 1.0)?,
        quench_heat: heat("quench_celsius", twin.quench_celsius)?,
        ground: depth("ground_mm", twin.ground_mm)?,
        spark_bias: number("spark_bias_percent", twin.spark_bias_percent, -1.0, 1.0)?,
        face,
    })
}

/// The chances of a run without fault with those changed that are named.
fn chances(entry: &str, named: &BTreeMap<String, f64>, sound: &Chances) -> Result<Chances, ModelsError> {
    let at = At { file: FILE, entry, field: "chances" };
    let mut all = *sound;
    for (key, chance) in named {
        let Some(sign) = Sign::ALL.into_iter().find(|sign| sign.key() == key) else {
            return Err(ModelsError::value(at, format!("`{key}`"), Sign::ALL.map(Sign::key).join(", ")));
        };
        if !(0.001..=0.999).contains(chance) {
            return Err(ModelsError::value(at, format!("{key} = {chance}"), "0.001 to 0.999"));
        }
        all.0[sign as usize] = *chance;
    }
    Ok(all)
}
