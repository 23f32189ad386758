//! What can still be looked at: `[[check]]` of `causes.toml`.

use super::ModelsError;
use super::bibliography::Bibliography;
use super::causes::FILE;
use super::value::{At, Single, bounded};
use crate::crosscheck::{Check, Doubtful, Eyes, Look, Sign};
use crate::hardness::Hardness;
use crate::soak::WitnessMetal;
use crate::units::{Interval, Temperature};
use serde::Deserialize;

/// Name of an ordinary file in `hardness.toml`.
const MILL_FILE: &str = "mill file";
/// What stands for the name of a metal in the words of a check.
const METAL: &str = "{metal}";

/// Twin of [`Check`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CheckTwin {
    key: String,
    words: String,
    /// What it says where it comes out so; only where it can but be so or not.
    yes: Option<String>,
    look: LookTwin,
    minutes: Single<f64>,
}

/// Twin of [`Look`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LookTwin {
    sign: Option<String>,
    quantity: Option<String>,
    depth_mm: Option<f64>,
    sd_mm: Option<f64>,
}

/// What a check is read with.
#[derive(Clone, Copy)]
pub(super) struct Tools<'a> {
    pub(super) hardness: &'a Hardness,
    pub(super) metals: &'a [WitnessMetal],
    pub(super) eyes: &'a Eyes,
}

/// Reads all; one of a metal becomes one for each that a plan may ask for.
pub(super) fn read(
    twins: Vec<CheckTwin>,
    tools: Tools<'_>,
    books: &mut Bibliography,
) -> Result<Vec<Check>, ModelsError> {
    let mut list: Vec<Check> = Vec::new();
    for twin in twins {
        let CheckTwin { key, words, yes, look, minutes } = twin;
        let at = |field| At { file: FILE, entry: &key, field };
        if list.iter().any(|check| check.key == key) {
            return Err(ModelsError::value(at("key"), "there twice", "each once"));
        }
        let minutes = minutes.sourced(books, at("minutes"), bounded("work", "min", 0.1, 10_000.0))?;
        let looks = looks(&look, tools, at("look"))?;
        let yes_or_no = looks.iter().any(|(look, _)| {
            matches!(look, Look::Sign(_) | Look::File { .. } | Look::FileAnew { .. } | Look::Melts(_))
        });
        if yes.is_some() != yes_or_no {
            let allowed = "where it is a sign, a file or a metal, and nowhere else";
            return Err(ModelsError::value(at("yes"), if yes_or_no { "missing" } else { "there" }, allowed));
        }
        let yes = yes.unwrap_or_default();
        list.extend(looks.into_iter().map(|(look, metal)| Check {
            key: key.clone(),
            words: words.replace(METAL, &metal),
            yes: yes.clone(),
            minutes: minutes.clone(),
            look,
        }));
    }
    Ok(list)
}

/// HRC at which an ordinary file turns from biting to skating.
fn turns(tools: Tools<'_>, at: At<'_>) -> Result<Doubtful, ModelsError> {
    let Some(file) = tools.hardness.file(MILL_FILE) else {
        return Err(ModelsError::value(at, format!("`{MILL_FILE}` is missing"), "a file of hardness.toml"));
    };
    let (low, high) = (file.undecided.value.low().points(), file.undecided.value.high().points());
    let turns = Interval::new(low, f64::midpoint(low, high), high).unwrap_or(Interval::exact(low));
    Ok(Doubtful::of(&turns))
}

/// The middle of its melting range.
fn melts(metal: &WitnessMetal) -> Option<Temperature> {
    let (solidus, liquidus) = (metal.solidus.value.best().kelvin(), metal.liquidus.value.best().kelvin());
    Temperature::from_kelvin(f64::midpoint(solidus, liquidus)).ok()
}

/// "C26000 (cartridge brass)".
fn called(metal: &WitnessMetal) -> String {
    metal.aliases.first().map_or(metal.name.clone(), |alias| format!("{} ({alias})", metal.name))
}

/// What is looked at, with the name of the metal if it is one.
fn looks(twin: &LookTwin, tools: Tools<'_>, at: At<'_>) -> Result<Vec<(Look, String)>, ModelsError> {
    let wrong = |got: &str, allowed: &str| Err(ModelsError::value(at, got.to_string(), allowed.to_string()));
    let plain = |look| Ok(vec![(look, String::new())]);
    let number = |value: Option<f64>, name: &str| match value {
        Some(n) if (0.0..=10.0).contains(&n) => Ok(n),
        _ => Err(ModelsError::value(at, format!("{name} missing or out of range"), "0 to 10 mm")),
    };
    match (twin.sign.as_deref(), twin.quantity.as_deref()) {
        (Some(key), None) => match Sign::ALL.into_iter().find(|sign| sign.key() == key) {
            Some(sign) => plain(Look::Sign(sign)),
            None => wrong(key, &Sign::ALL.map(Sign::key).join(", ")),
        },
        (None, Some("sparks")) => plain(Look::Sparks),
        (None, Some("sparks inward")) => plain(Look::Inward),
        (None, Some("rim")) => plain(Look::Rim { sd: number(twin.sd_mm, "sd_mm")? }),
        (None, Some("rim in water")) => plain(Look::RimInWater { sd: number(twin.sd_mm, "sd_mm")? }),
        (None, Some("mass gain")) => plain(Look::Gain { sd: tools.eyes.gain_mg.value }),
        (None, Some("file")) => {
            plain(Look::File { turns: turns(tools, at)?, depth: number(twin.depth_mm, "depth_mm")? })
        }
        (None, Some("file, hardened anew")) => plain(Look::FileAnew { turns: turns(tools, at)? }),
        (None, Some("metal")) => {
            let exact = |m: &&WitnessMetal| m.solidus.value.is_exact() && m.liquidus.value.is_exact();
            let good = tools.metals.iter().filter(|m| !m.keep_out).filter(exact);
            Ok(good.filter_map(|metal| Some((Look::Melts(melts(metal)?), called(metal)))).collect())
        }
        (None, Some(other)) => wrong(
            other,
            "sparks, sparks inward, rim, rim in water, mass gain, file; file, hardened anew; metal",
        ),
        _ => wrong("sign and quantity", "one of the two"),
    }
}
