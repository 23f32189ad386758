use super::bibliography::Bibliography;
use super::error::parse;
use super::names::check_unique;
use super::value::{At, Range, bounded};
use super::{HeatColour, ModelsError, Thermometer, WitnessMetal};
use crate::soak::ThermometerPlace;
use crate::units::{Temperature, TemperatureStep};
use serde::Deserialize;

const FILE: &str = "witnesses.toml";

/// What `witnesses.toml` holds.
pub(super) struct Witnesses {
    pub(super) metals: Vec<WitnessMetal>,
    pub(super) colours: Vec<HeatColour>,
    pub(super) thermometers: Vec<Thermometer>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    metal: Vec<MetalTwin>,
    colour: Vec<ColourTwin>,
    thermometer: Vec<ThermometerTwin>,
}

/// Twin of [`WitnessMetal`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MetalTwin {
    name: String,
    #[serde(default)]
    aliases: Vec<String>,
    solidus_celsius: Range,
    liquidus_celsius: Range,
    #[serde(default)]
    note: String,
    #[serde(default)]
    keep_out: bool,
}

/// Twin of as many [`HeatColour`]s as it has words.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ColourTwin {
    words: Vec<String>,
    celsius: Range,
}

/// Twin of [`Thermometer`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ThermometerTwin {
    place: String,
    error_kelvin: Range,
}

/// Every place with the words for it.
const PLACES: [(&str, ThermometerPlace); 5] = [
    ("beside the steel", ThermometerPlace::BesideSteel),
    ("in the pack", ThermometerPlace::InPack),
    ("outside", ThermometerPlace::Outside),
    ("by eye", ThermometerPlace::Eye),
    ("unknown", ThermometerPlace::Unknown),
];

/// Reads `witnesses.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<Witnesses, ModelsError> {
    let file: FileTwin = parse(FILE, text)?;
    let metals = file.metal.into_iter().map(|twin| metal(twin, books)).collect::<Result<Vec<_>, _>>()?;
    check_unique(&metals)?;
    let mut colours = Vec::new();
    for twin in file.colour {
        let at = At { file: FILE, entry: &twin.words.join(", "), field: "celsius" };
        let temperature = twin.celsius.sourced(books, at, Temperature::from_celsius)?;
        colours
            .extend(twin.words.into_iter().map(|word| HeatColour { word, temperature: temperature.clone() }));
    }
    check_unique(&colours)?;
    let thermometers = thermometers(&file.thermometer, books)?;
    Ok(Witnesses { metals, colours, thermometers })
}

fn metal(twin: MetalTwin, books: &mut Bibliography) -> Result<WitnessMetal, ModelsError> {
    let MetalTwin { name, aliases, solidus_celsius, liquidus_celsius, note, keep_out } = twin;
    let at = |field| At { file: FILE, entry: &name, field };
    let solidus = solidus_celsius.sourced(books, at("solidus_celsius"), Temperature::from_celsius)?;
    let liquidus = liquidus_celsius.sourced(books, at("liquidus_celsius"), Temperature::from_celsius)?;
    let (s, l) = (solidus.value, liquidus.value);
    if s.low() > l.low() || s.best() > l.best() || s.high() > l.high() {
        return Err(ModelsError::value(at("liquidus_celsius"), "below the solidus", "at or above it"));
    }
    Ok(WitnessMetal { name, aliases, solidus, liquidus, note, keep_out })
}

/// One thermometer for every place, in the order of [`PLACES`].
fn thermometers(
    twins: &[ThermometerTwin],
    books: &mut Bibliography,
) -> Result<Vec<Thermometer>, ModelsError> {
    let known = PLACES.map(|(word, _)| word);
    if let Some(twin) = twins.iter().find(|t| !known.contains(&t.place.as_str())) {
        let at = At { file: FILE, entry: &twin.place, field: "place" };
        return Err(ModelsError::value(at, format!("`{}`", twin.place), known.join(", ")));
    }
    let one = |(word, place)| {
        let at = |field| At { file: FILE, entry: word, field };
        let mut of_place = twins.iter().filter(|t| t.place == word);
        let (Some(twin), None) = (of_place.next(), of_place.next()) else {
            return Err(ModelsError::value(at("place"), "missing or there twice", "every place once"));
        };
        let step = |k| bounded("error", "K", -500.0, 500.0)(k).map(TemperatureStep::from_kelvin);
        Ok(Thermometer { place, error: twin.error_kelvin.sourced(books, at("error_kelvin"), step)? })
    };
    PLACES.into_iter().map(one).collect()
}
