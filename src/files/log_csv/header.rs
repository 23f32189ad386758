use super::cell::number;
use super::text::latin;
use crate::files::problem::{Problem, shown};

/// Unit of a time column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeUnit {
    /// Minutes.
    Minutes,
    /// Hours.
    Hours,
    /// Seconds.
    Seconds,
}

impl TimeUnit {
    /// The words for it in a run sheet and in a header.
    pub const WORDS: [(&'static str, Self); 13] = [
        ("min", Self::Minutes),
        ("h", Self::Hours),
        ("s", Self::Seconds),
        ("mins", Self::Minutes),
        ("minute", Self::Minutes),
        ("minutes", Self::Minutes),
        ("hr", Self::Hours),
        ("hrs", Self::Hours),
        ("hour", Self::Hours),
        ("hours", Self::Hours),
        ("sec", Self::Seconds),
        ("second", Self::Seconds),
        ("seconds", Self::Seconds),
    ];

    /// Seconds in one of it.
    pub(super) fn seconds(self) -> f64 {
        match self {
            Self::Minutes => 60.0,
            Self::Hours => 3600.0,
            Self::Seconds => 1.0,
        }
    }
}

/// Unit of a temperature column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TemperatureUnit {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
    /// Kelvin.
    Kelvin,
}

impl TemperatureUnit {
    /// The words for it in a run sheet and in a header.
    pub const WORDS: [(&'static str, Self); 10] = [
        ("C", Self::Celsius),
        ("F", Self::Fahrenheit),
        ("K", Self::Kelvin),
        ("degC", Self::Celsius),
        ("degF", Self::Fahrenheit),
        ("celsius", Self::Celsius),
        ("fahrenheit", Self::Fahrenheit),
        ("kelvin", Self::Kelvin),
        ("°C", Self::Celsius),
        ("°F", Self::Fahrenheit),
    ];

    /// `value` in this unit as °C.
    pub(super) fn to_celsius(self, value: f64) -> f64 {
        match self {
            Self::Celsius => value,
            Self::Fahrenheit => (value - 32.0) * 5.0 / 9.0,
            Self::Kelvin => value - 273.15,
        }
    }
}

/// Units that the run sheet gives for a log; the header's own go first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LogUnits {
    /// Of the time column.
    pub time: Option<TimeUnit>,
    /// Of the temperature column.
    pub temperature: Option<TemperatureUnit>,
}

/// Which columns hold what.
#[derive(Debug, PartialEq)]
pub(super) struct Header {
    pub(super) columns: usize,
    pub(super) time: usize,
    pub(super) time_name: String,
    pub(super) time_unit: Option<TimeUnit>,
    pub(super) temperature: usize,
    pub(super) temperature_name: String,
    pub(super) temperature_unit: Option<TemperatureUnit>,
    pub(super) stage: Option<usize>,
    pub(super) decimal_comma: bool,
}

/// What a column's name says that it holds.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Holds {
    Time(Option<TimeUnit>),
    Temperature(Option<TemperatureUnit>),
    Stage,
    Other,
}

impl Header {
    pub(super) fn read(
        record: &csv::ByteRecord,
        separator: u8,
        file: &str,
        line: usize,
        units: LogUnits,
    ) -> Result<Self, Box<Problem>> {
        const EXAMPLE: &str = "name two columns with their units, for example: time_min,temp_C";
        let wrong =
            |message: String, help: &str| Box::new(Problem::error(file, message).at_line(line).help(help));
        let decimal_comma = separator != b',';
        let names: Vec<String> = record.iter().map(|cell| latin(cell).into_owned()).collect();
        let all = || names.iter().map(|n| format!("`{}`", shown(n))).collect::<Vec<_>>().join(", ");
        if names.iter().any(|n| number(n, decimal_comma).is_some()) {
            return Err(wrong(
                "the log starts with numbers, not with the names of its columns".into(),
                EXAMPLE,
            ));
        }
        let held: Vec<Holds> = names.iter().map(|name| holds(name)).collect();
        let one = |what: &str, fits: &dyn Fn(&Holds) -> bool| {
            let found: Vec<usize> = (0..held.len()).filter(|&i| fits(&held[i])).collect();
            match found[..] {
                [column] => Ok(column),
                [] => {
                    Err(wrong(format!("no column is named as a {what}; found: {}", shown(&all())), EXAMPLE))
                }
                [first, second, ..] => Err(wrong(
                    format!(
                        "two columns could be the {what}: `{}` and `{}`",
                        shown(&names[first]),
                        shown(&names[second])
                    ),
                    "rename the one that is not meant, for example to \"other\"",
                )),
            }
        };
        let time = one("time", &|h| matches!(h, Holds::Time(_)))?;
        let temperature = one("temperature", &|h| matches!(h, Holds::Temperature(_)))?;
        let time_unit = if let Holds::Time(unit) = held[time] { unit } else { None };
        let temperature_unit = if let Holds::Temperature(unit) = held[temperature] { unit } else { None };
        Ok(Self {
            columns: names.len(),
            time,
            time_name: shown(&names[time]),
            time_unit: time_unit.or(units.time),
            temperature,
            temperature_name: shown(&names[temperature]),
            temperature_unit: temperature_unit.or(units.temperature),
            stage: held.iter().position(|h| *h == Holds::Stage),
            decimal_comma,
        })
    }

    /// Whether a record with too many values looks like decimals split at their comma.
    pub(super) fn decimal_comma_likely(&self, record: &csv::ByteRecord) -> bool {
        let digits = |cell: &[u8]| !cell.is_empty() && cell.iter().all(u8::is_ascii_digit);
        !self.decimal_comma && record.iter().skip(1).any(digits)
    }
}

/// Reads a column's name: `time_min`, `t [s]`, `Temperature (°F)`, `celsius`, `T1_C`, `stage`.
fn holds(name: &str) -> Holds {
    const TIME: [&str; 6] = ["time", "elapsed", "t", "clock", "timestamp", "duration"];
    const TEMPERATURE: [&str; 8] = ["temp", "temperature", "tc", "thermocouple", "pv", "t1", "tc1", "temp1"];
    const NOT_THE_STEEL: [&str; 9] =
        ["set", "setpoint", "sp", "sv", "target", "ambient", "cold", "room", "internal"];
    let split = |c: char| !c.is_alphanumeric() && c != '°';
    let words: Vec<String> = name.split(split).filter(|w| !w.is_empty()).map(str::to_lowercase).collect();
    let has = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    let unit_of = |w: &String| -> Option<TemperatureUnit> {
        let known = |(word, _): &&(&str, TemperatureUnit)| word.to_lowercase() == *w;
        TemperatureUnit::WORDS.iter().find(known).map(|&(_, unit)| unit)
    };
    let time_of = |w: &String| TimeUnit::WORDS.iter().find(|(word, _)| word == w).map(|&(_, unit)| unit);
    let temperature_unit = words.iter().find_map(unit_of);
    let time_unit = words.iter().find_map(time_of);
    if has(&NOT_THE_STEEL) {
        Holds::Other
    } else if words == ["stage"] {
        Holds::Stage
    } else if has(&TEMPERATURE) || (temperature_unit.is_some() && time_unit.is_none()) {
        Holds::Temperature(temperature_unit)
    } else if has(&TIME) || time_unit.is_some() {
        Holds::Time(time_unit)
    } else {
        Holds::Other
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn knows_columns_by_their_names() {
        use TemperatureUnit::{Celsius, Fahrenheit, Kelvin};
        use TimeUnit::{Hours, Minutes, Seconds};
        for (name, want) in [
            ("time_min", Holds::Time(Some(Minutes))),
            ("Time (min)", Holds::Time(Some(Minutes))),
            ("minutes", Holds::Time(Some(Minutes))),
            ("t [s]", Holds::Time(Some(Seconds))),
            ("Elapsed h", Holds::Time(Some(Hours))),
            ("TIME", Holds::Time(None)),
            ("temp_C", Holds::Temperature(Some(Celsius))),
            ("temperature (F)", Holds::Temperature(Some(Fahrenheit))),
            ("Temp °C", Holds::Temperature(Some(Celsius))),
            ("temp min C", Holds::Temperature(Some(Celsius))),
            ("celsius", Holds::Temperature(Some(Celsius))),
            ("T_K", Holds::Temperature(Some(Kelvin))),
            ("Temperature", Holds::Temperature(None)),
            ("setpoint_C", Holds::Other),
            ("note", Holds::Other),
            ("Stage", Holds::Stage),
            ("", Holds::Other),
        ] {
            assert_eq!(holds(name), want, "{name}");
        }
    }
}
