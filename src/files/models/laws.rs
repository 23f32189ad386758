use super::bibliography::Bibliography;
use super::error::parse;
use super::names::{check_unique, default_name};
use super::value::{At, Range, Single, bounded};
use super::{ModelsError, Sourced};
use crate::diffusion::{Form, Law, Purpose};
use crate::sources::Status;
use crate::units::{CarbonPercent, Interval, OutOfRange, Temperature};
use serde::Deserialize;

const FILE: &str = "diffusivity.toml";
/// Carbon contents, wt%, at which every law is tried at both ends of its range.
const TRIED_PERCENT: [f64; 2] = [0.05, 1.2];

/// What `diffusivity.toml` holds.
pub(super) struct Laws {
    pub(super) default: String,
    pub(super) scatter: Sourced<Interval<f64>>,
    pub(super) rows: Vec<Law>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    default: String,
    scatter: Range,
    law: Vec<LawTwin>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LawTwin {
    name: String,
    purpose: PurposeTwin,
    /// Why a range without a published source is what it is.
    range_note: Option<String>,
    form: Single<FormTwin>,
    range_celsius: Range,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum PurposeTwin {
    Prediction,
    Textbook,
}

/// Twin of [`Form`]; units as there.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
enum FormTwin {
    Arrhenius { d0: f64, q: f64 },
    LinearArrhenius { a: f64, b: f64, q: f64 },
    Agren { d0: f64, w: f64, t0: f64, q: f64, p: f64 },
    Tibbetts { d0: f64, a: f64, q: f64, p: f64 },
    Lee { d0: f64, d1: f64, q0: f64, q1: f64, q2: f64 },
    Slycke { d0: f64, a: f64, b: f64, q: f64, p: f64 },
}

impl From<FormTwin> for Form {
    fn from(twin: FormTwin) -> Self {
        match twin {
            FormTwin::Arrhenius { d0, q } => Self::Arrhenius { d0, q },
            FormTwin::LinearArrhenius { a, b, q } => Self::LinearArrhenius { a, b, q },
            FormTwin::Agren { d0, w, t0, q, p } => Self::Agren { d0, w, t0, q, p },
            FormTwin::Tibbetts { d0, a, q, p } => Self::Tibbetts { d0, a, q, p },
            FormTwin::Lee { d0, d1, q0, q1, q2 } => Self::Lee { d0, d1, q0, q1, q2 },
            FormTwin::Slycke { d0, a, b, q, p } => Self::Slycke { d0, a, b, q, p },
        }
    }
}

/// Reads `diffusivity.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<Laws, ModelsError> {
    let file: FileTwin = parse(FILE, text)?;
    let at = At { file: FILE, entry: "scatter", field: "scatter" };
    let scatter = file.scatter.sourced(books, at, bounded("factor on D", "times", 0.1, 10.0))?;
    let laws = file.law.into_iter().map(|twin| law(twin, books)).collect::<Result<Vec<_>, _>>()?;
    check_unique(&laws)?;
    let default = default_name(&laws, &file.default)?;
    let chosen = At { file: FILE, entry: "top of the file", field: "default" };
    if laws.iter().any(|l| l.name == default && l.purpose == Purpose::Textbook) {
        return Err(ModelsError::value(chosen, format!("`{default}`"), "laws with purpose `prediction`"));
    }
    Ok(Laws { default, scatter, rows: laws })
}

fn law(twin: LawTwin, books: &mut Bibliography) -> Result<Law, ModelsError> {
    let name = twin.name;
    let at = |field| At { file: FILE, entry: &name, field };
    if twin.range_celsius.status() == Status::Judgement && twin.range_note.is_none() {
        return Err(ModelsError::value(
            at("range_note"),
            "missing",
            "why a range by judgement is what it is",
        ));
    }
    let range = twin.range_celsius.sourced(books, at("range_celsius"), Temperature::from_celsius)?.value;
    let purpose = match twin.purpose {
        PurposeTwin::Prediction => Purpose::Prediction,
        PurposeTwin::Textbook => Purpose::Textbook,
    };
    let form = twin.form.sourced(books, at("form"), |form| tried(form.into(), range))?;
    Ok(Law { name, form, range, purpose })
}

/// The form, if it gives a diffusivity all over its range.
fn tried(form: Form, range: Interval<Temperature>) -> Result<Form, OutOfRange> {
    /// Carbon in austenite is far slower than 1e-6 m²/s anywhere, and never stands still.
    const SANE: (f64, f64) = (1e-16, 1e-6);
    for t in [range.low(), range.high()] {
        for c in TRIED_PERCENT {
            let d = form.at(t.kelvin(), CarbonPercent::new(c)?.wt_percent());
            bounded("diffusivity", "m²/s", SANE.0, SANE.1)(d)?;
        }
    }
    Ok(form)
}
