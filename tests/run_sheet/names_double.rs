//! Small made-up tables that stand in for `models/`. The numbers are round and mean nothing.

use snapspark::files::run_sheet::{Names, UnknownName};
use snapspark::soak::{Compound, HeatColour, Thermal, Thermometer, ThermometerPlace, WitnessMetal};
use snapspark::sources::{Sourced, Status};
use snapspark::steel::Grade;
use snapspark::units::{CarbonPercent, Interval, Temperature, TemperatureStep};

/// Three steels, three compounds, three metals, three colours, two laws.
pub(crate) struct NamesDouble {
    grades: Vec<Grade>,
    compounds: Vec<Compound>,
    metals: Vec<WitnessMetal>,
    colours: Vec<HeatColour>,
}

fn made_up<T>(value: T) -> Sourced<T> {
    Sourced { value, source: "none".into(), place: "made up".into(), status: Status::Judgement }
}

fn about(middle: f64, spread: f64) -> Interval<f64> {
    Interval::new(middle - spread, middle, middle + spread).unwrap()
}

fn heat(middle: f64, spread: f64) -> Interval<Temperature> {
    let c = |t| Temperature::from_celsius(t).unwrap();
    Interval::new(c(middle - spread), c(middle), c(middle + spread)).unwrap()
}

fn grade(name: &str, low: f64, high: f64) -> Grade {
    let c = |v| CarbonPercent::new(v).unwrap();
    let carbon = Interval::new(c(low), c(f64::midpoint(low, high)), c(high)).unwrap();
    Grade {
        name: name.into(),
        aliases: Vec::new(),
        carbon: made_up(carbon),
        manganese: None,
        note: String::new(),
    }
}

fn compound(name: &str) -> Compound {
    Compound {
        name: name.into(),
        aliases: Vec::new(),
        share_of_acm: made_up(about(0.8, 0.1)),
        transfer: made_up(about(1.0e-7, 0.0)),
        thermal: Thermal {
            conduction: made_up(0.1),
            pore: made_up(about(0.002, 0.001)),
            heat_capacity: made_up(3e5),
        },
        note: String::new(),
    }
}

fn metal(name: &str, melts: f64) -> WitnessMetal {
    WitnessMetal {
        name: name.into(),
        aliases: Vec::new(),
        solidus: made_up(heat(melts, 10.0)),
        liquidus: made_up(heat(melts + 30.0, 10.0)),
        note: String::new(),
    }
}

impl NamesDouble {
    pub(crate) fn new() -> Self {
        let colour = |word: &str, c| HeatColour { word: word.into(), temperature: made_up(heat(c, 75.0)) };
        Self {
            grades: vec![
                grade("mild steel, unknown", 0.05, 0.26),
                grade("1018", 0.15, 0.2),
                grade("1045", 0.43, 0.5),
                grade("1084", 0.8, 0.93),
            ],
            compounds: ["unknown charcoal", "granules", "with energizer"].map(compound).into(),
            metals: vec![metal("brass 70/30", 915.0), metal("unknown brass", 920.0), metal("silver", 960.0)],
            colours: vec![colour("cherry", 750.0), colour("orange", 900.0), colour("yellow", 1050.0)],
        }
    }
}

impl Default for NamesDouble {
    fn default() -> Self {
        Self::new()
    }
}

fn find<'t, T>(table: &'t [T], got: &str, name: impl Fn(&T) -> &str) -> Result<&'t T, UnknownName> {
    let unknown = || UnknownName {
        got: got.to_string(),
        known: table.iter().map(|entry| name(entry).to_string()).collect(),
    };
    table.iter().find(|entry| name(entry).eq_ignore_ascii_case(got)).ok_or_else(unknown)
}

impl Names for NamesDouble {
    fn grade(&self, name: &str) -> Result<&Grade, UnknownName> {
        find(&self.grades, name, |g| &g.name)
    }
    fn unknown_grade(&self) -> &Grade {
        &self.grades[0]
    }
    fn compound(&self, name: &str) -> Result<&Compound, UnknownName> {
        find(&self.compounds, name, |c| &c.name)
    }
    fn unknown_compound(&self) -> &Compound {
        &self.compounds[0]
    }
    fn metal(&self, name: &str) -> Result<&WitnessMetal, UnknownName> {
        find(&self.metals, name, |m| &m.name)
    }
    fn colour(&self, word: &str) -> Result<&HeatColour, UnknownName> {
        find(&self.colours, word, |c| &c.word)
    }
    fn thermometer(&self, place: ThermometerPlace) -> Thermometer {
        let step = |k| TemperatureStep::from_kelvin(k);
        Thermometer { place, error: made_up(Interval::new(step(-5.0), step(0.0), step(5.0)).unwrap()) }
    }
    fn law(&self, name: &str) -> Result<&str, UnknownName> {
        find(&["agren", "tibbetts"], name, |law| law).copied()
    }
}
