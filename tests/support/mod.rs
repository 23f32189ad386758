//! What several tests need.

pub(crate) mod draw_faces;
pub(crate) mod draw_sparks;
pub(crate) mod drawing;
mod scenarios;
pub(crate) mod streams;

pub(crate) use scenarios::{Scenario, WrittenPotential, scenarios};

use serde::Serialize;
use serde::de::DeserializeOwned;
use snapspark::diffusion::{Case, Exchange, Fineness, Form, Leg, Profile, Section, march};
use snapspark::files::{self, Models};
use snapspark::net::UNet;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// The models that ship with the program.
pub(crate) fn models() -> &'static Models {
    static MODELS: OnceLock<Models> = OnceLock::new();
    MODELS.get_or_init(|| Models::shipped().expect("the shipped models load"))
}

/// The network that ships with the program.
pub(crate) fn burst_net() -> &'static UNet {
    static NET: OnceLock<UNet> = OnceLock::new();
    NET.get_or_init(|| files::burst_net().expect("the shipped network loads"))
}

/// A path inside the project.
pub(crate) fn project(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// Rows of a table in `tests/reference`.
pub(crate) fn rows<T: DeserializeOwned>(name: &str) -> Vec<T> {
    let path = project("tests/reference").join(name);
    let reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(&path);
    let mut reader = reader.unwrap_or_else(|e| panic!("{name}: {e}"));
    reader.deserialize().map(|row| row.unwrap_or_else(|e| panic!("{name}: {e}"))).collect()
}

/// Writes such a table below its head, if the environment has `WRITE`.
pub(crate) fn keep<T: Serialize>(name: &str, head: &str, rows: &[T]) {
    if std::env::var_os("WRITE").is_none() {
        return;
    }
    let mut writer = csv::Writer::from_writer(Vec::new());
    rows.iter().try_for_each(|row| writer.serialize(row)).unwrap_or_else(|e| panic!("{name}: {e}"));
    let table = String::from_utf8(writer.into_inner().unwrap()).unwrap();
    std::fs::write(project("tests/reference").join(name), format!("{head}{table}")).unwrap();
}

/// One leg: seconds and kelvin.
pub(crate) fn solve(
    form: &Form,
    exchange: Exchange,
    section: Section,
    core: f64,
    points: &[(f64, f64)],
    fineness: Fineness,
) -> Profile {
    let case = Case { form, factor: 1.0, phase: &models().phase, section, core, fineness };
    march(&case, &[Leg { points, exchange }]).expect("converges").profiles.remove(0)
}

/// One temperature.
pub(crate) fn steady(
    form: &Form,
    exchange: Exchange,
    section: Section,
    core: f64,
    celsius: f64,
    minutes: f64,
) -> Profile {
    let k = celsius + 273.15;
    solve(form, exchange, section, core, &[(0.0, k), (minutes * 60.0, k)], Fineness::DEFAULT)
}
