use super::bibliography::Bibliography;
use super::error::parse;
use super::names::{check_unique, default_name};
use super::value::{At, Range, Single, Transfer, bounded};
use super::{Compound, CoolingDefault, ModelsError};
use crate::soak::Thermal;
use crate::sources::Sourced;
use crate::units::{Depth, OutOfRange, Time, TransferCoefficient};
use serde::Deserialize;

const FILE: &str = "packs.toml";

/// What `packs.toml` holds.
pub(super) struct Packs {
    pub(super) compounds: Vec<Compound>,
    pub(super) default: String,
    pub(super) cooling: CoolingDefault,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    default: String,
    bed: BedTwin,
    compound: Vec<CompoundTwin>,
    cooling: CoolingTwin,
}

/// The part of [`Thermal`] that all charcoal shares.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BedTwin {
    conduction_w_per_m_k: Single<f64>,
    heat_capacity_j_per_m3_k: Single<f64>,
}

/// Twin of [`Compound`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CompoundTwin {
    name: String,
    #[serde(default)]
    aliases: Vec<String>,
    share_of_acm: Range,
    transfer_m_per_s: Range<Transfer>,
    pore_mm: Range,
    #[serde(default)]
    note: String,
}

/// Twin of [`CoolingDefault`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CoolingTwin {
    closed_pack_min: Range,
    in_air_min: Range,
}

/// Conduction in W/(m K) and heat capacity in J/(m³ K) of a bed.
struct Bed {
    conduction: Sourced<f64>,
    heat_capacity: Sourced<f64>,
}

/// Reads `packs.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<Packs, ModelsError> {
    let file: FileTwin = parse(FILE, text)?;
    let bed = bed(file.bed, books)?;
    let compounds =
        file.compound.into_iter().map(|twin| compound(twin, &bed, books)).collect::<Result<Vec<_>, _>>()?;
    check_unique(&compounds)?;
    let default = default_name(&compounds, &file.default)?;
    let at = |field| At { file: FILE, entry: "cooling", field };
    let cooling = CoolingDefault {
        closed_pack: file.cooling.closed_pack_min.sourced(
            books,
            at("closed_pack_min"),
            Time::from_minutes,
        )?,
        in_air: file.cooling.in_air_min.sourced(books, at("in_air_min"), Time::from_minutes)?,
    };
    Ok(Packs { compounds, default, cooling })
}

fn bed(twin: BedTwin, books: &mut Bibliography) -> Result<Bed, ModelsError> {
    let at = |field| At { file: FILE, entry: "bed", field };
    let conduction = bounded("conductivity", "W/(m K)", 0.001, 10.0);
    let heat_capacity = bounded("heat capacity", "J/(m³ K)", 1e3, 1e7);
    Ok(Bed {
        conduction: twin.conduction_w_per_m_k.sourced(books, at("conduction_w_per_m_k"), conduction)?,
        heat_capacity: twin.heat_capacity_j_per_m3_k.sourced(
            books,
            at("heat_capacity_j_per_m3_k"),
            heat_capacity,
        )?,
    })
}

fn compound(twin: CompoundTwin, bed: &Bed, books: &mut Bibliography) -> Result<Compound, ModelsError> {
    let CompoundTwin { name, aliases, share_of_acm, transfer_m_per_s, pore_mm, note } = twin;
    let at = |field| At { file: FILE, entry: &name, field };
    let share = bounded("share", "of Acm", 0.0, 1.5);
    let share_of_acm = share_of_acm.sourced(books, at("share_of_acm"), share)?;
    let transfer = transfer_m_per_s.sourced(books, at("transfer_m_per_s"), rate_or_held)?;
    let pore = |mm| Depth::from_millimetres(mm).map(Depth::metres);
    let thermal = Thermal {
        conduction: bed.conduction.clone(),
        pore: pore_mm.sourced(books, at("pore_mm"), pore)?,
        heat_capacity: bed.heat_capacity.clone(),
    };
    Ok(Compound { name, aliases, share_of_acm, transfer, thermal, note })
}

/// A transfer coefficient in m/s; infinity stands for a held surface.
fn rate_or_held(n: f64) -> Result<f64, OutOfRange> {
    if n == f64::INFINITY {
        Ok(n)
    } else {
        TransferCoefficient::new(n).map(TransferCoefficient::metres_per_second)
    }
}
