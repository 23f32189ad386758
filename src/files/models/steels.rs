use super::bibliography::Bibliography;
use super::error::parse;
use super::names::{check_unique, default_name};
use super::phase::PhaseTwin;
use super::value::{At, Range, bounded};
use super::{Grade, ModelsError, PhaseLimits};
use crate::units::CarbonPercent;
use serde::Deserialize;

const FILE: &str = "steels.toml";

/// What `steels.toml` holds.
pub(super) struct Steels {
    pub(super) phase: PhaseLimits,
    pub(super) grades: Vec<Grade>,
    pub(super) default: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct FileTwin {
    default: String,
    phase_limits: PhaseTwin,
    grade: Vec<GradeTwin>,
}

/// Twin of [`Grade`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GradeTwin {
    name: String,
    #[serde(default)]
    aliases: Vec<String>,
    carbon_percent: Range,
    manganese_percent: Option<Range>,
    #[serde(default)]
    note: String,
}

/// Reads `steels.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<Steels, ModelsError> {
    let file: FileTwin = parse(FILE, text)?;
    let phase = file.phase_limits.limits(FILE, books)?;
    let grades = file.grade.into_iter().map(|twin| grade(twin, books)).collect::<Result<Vec<_>, _>>()?;
    check_unique(&grades)?;
    let default = default_name(&grades, &file.default)?;
    Ok(Steels { phase, grades, default })
}

fn grade(twin: GradeTwin, books: &mut Bibliography) -> Result<Grade, ModelsError> {
    let GradeTwin { name, aliases, carbon_percent, manganese_percent, note } = twin;
    let at = |field| At { file: FILE, entry: &name, field };
    let carbon = carbon_percent.sourced(books, at("carbon_percent"), CarbonPercent::new)?;
    let manganese = match manganese_percent {
        Some(range) => {
            let percent = bounded("manganese", "wt%", 0.0, 20.0);
            let range = range.sourced(books, at("manganese_percent"), percent)?.value;
            Some((range.low(), range.high()))
        }
        None => None,
    };
    Ok(Grade { name, aliases, carbon, manganese, note })
}
