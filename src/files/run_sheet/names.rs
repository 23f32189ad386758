use crate::soak::{Compound, HeatColour, Thermometer, ThermometerPlace, WitnessMetal};
use crate::steel::Grade;
use thiserror::Error;

/// A name that is in no table.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("`{got}` is not in the table")]
pub struct UnknownName {
    /// The name as typed.
    pub got: String,
    /// All names that are known, the best known first.
    pub known: Vec<String>,
}

/// What a run sheet's names mean: the tables in `models/`.
pub trait Names {
    /// A steel grade or kind of found steel.
    fn grade(&self, name: &str) -> Result<&Grade, UnknownName>;
    /// What stands for a steel that nobody knows.
    fn unknown_grade(&self) -> &Grade;
    /// A carburizing compound.
    fn compound(&self, name: &str) -> Result<&Compound, UnknownName>;
    /// What stands for a compound that nobody knows.
    fn unknown_compound(&self) -> &Compound;
    /// A metal of known melting range.
    fn metal(&self, name: &str) -> Result<&WitnessMetal, UnknownName>;
    /// A heat colour.
    fn colour(&self, word: &str) -> Result<&HeatColour, UnknownName>;
    /// How far a thermometer at this place may be off.
    fn thermometer(&self, place: ThermometerPlace) -> Thermometer;
    /// The full name of a diffusivity law.
    fn law(&self, name: &str) -> Result<&str, UnknownName>;
}
