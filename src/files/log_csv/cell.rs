//! Single cells of a log. Errors are what is wrong and what to do.

use super::POSSIBLE_C;
use super::header::{TemperatureUnit, TimeUnit};
use crate::files::problem::shown;
use crate::files::words::{closest, either, plain};
use crate::soak::{Stage, StageKind};

/// A time of a log, in seconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TimeCell {
    pub(super) seconds: f64,
    /// Written as `h:mm` or `h:mm:ss`, so it may be the time of day.
    pub(super) clock: bool,
}

type Wrong = (String, String);

/// A number in `unit`, or `h:mm` or `h:mm:ss`.
pub(super) fn time(text: &str, unit: Option<TimeUnit>, comma: bool) -> Result<TimeCell, Wrong> {
    let wrong = |message: String, help: &str| Err((message, help.to_string()));
    if text.is_empty() {
        return wrong("the time is empty".into(), "write the time, or delete the line");
    }
    if text.contains(':') {
        return match clock(text) {
            Some(seconds) => Ok(TimeCell { seconds, clock: true }),
            None => wrong(
                format!("`{}` is not a time that is read here", shown(text)),
                "allowed: h:mm or h:mm:ss on a 24-hour clock, without a date, or a plain number",
            ),
        };
    }
    let Some(value) = number(text, comma) else {
        return wrong(format!("`{}` is not a time", shown(text)), "allowed: a number, h:mm or h:mm:ss");
    };
    let Some(unit) = unit else {
        return wrong(
            format!("`{}` has no unit, because the time column names none", shown(text)),
            "name the column time_min, time_s or time_h, or write log_time_unit = \"min\" in the run sheet",
        );
    };
    Ok(TimeCell { seconds: value * unit.seconds(), clock: false })
}

/// A temperature in °C.
pub(super) fn temperature(text: &str, unit: TemperatureUnit, comma: bool) -> Result<f64, Wrong> {
    if text.is_empty() {
        let help = "delete the line: the log runs straight from the reading before to the one after";
        return Err(("the temperature is empty".to_string(), help.to_string()));
    }
    let probe = "if the probe came loose, delete these lines: the log runs straight across them";
    let Some(value) = number(text, comma) else {
        let open = ["ol", "open", "err", "error", "nan", "inf", "fault", "tc open", "---", "----"];
        let what = if open.contains(&text.to_lowercase().as_str()) {
            "is no reading but an open thermocouple"
        } else {
            "is not a temperature"
        };
        return Err((format!("`{}` {what}", shown(text)), format!("write a plain number; {probe}")));
    };
    let celsius = unit.to_celsius(value);
    let (low, high) = POSSIBLE_C;
    if celsius >= low && celsius <= high {
        return Ok(celsius);
    }
    let as_f = TemperatureUnit::Fahrenheit.to_celsius(value);
    let guess = if unit == TemperatureUnit::Celsius && (high..2200.0).contains(&value) {
        format!("in °F it would be {as_f:.0} °C: is the unit of the column right?")
    } else {
        probe.to_string()
    };
    Err((
        format!("`{}` is {celsius:.0} °C, which no pack gets to", shown(text)),
        format!("allowed: {low} to {high} °C\n{guess}"),
    ))
}

/// A stage word; `None` if the cell is empty. `before` is the stage so far.
pub(super) fn stage(text: &str, before: Option<Stage>) -> Result<Option<Stage>, Wrong> {
    const WORDS: [&str; 4] = ["soak", "cool", "foil", "air"];
    // "air" right after the soak is the pack opened hot; later it is a heat of its own.
    let in_pack = before.is_none_or(|s| s.kind == StageKind::Soak);
    let opened = before.is_some_and(|s| s.kind == StageKind::AirCool);
    match plain(text).as_str() {
        "" => Ok(None),
        "soak" => Ok(Some(Stage::SOAK)),
        "cool" => Ok(Some(Stage::PACK_COOL)),
        "foil" => Ok(Some(Stage::SEALED_REHEAT)),
        "air" if in_pack || opened => Ok(Some(Stage::AIR_COOL)),
        "air" => Ok(Some(Stage::AIR_REHEAT)),
        other => {
            let guess = closest(other, WORDS).map(|w| format!("did you mean \"{w}\"?\n")).unwrap_or_default();
            let help = format!("{guess}allowed: {}, or empty for as before", either(WORDS));
            Err((format!("`{}` is not a stage", shown(text)), help))
        }
    }
}

/// `12`, `-3.5`, `1.2e3`; with `comma` also `12,5`.
pub(super) fn number(text: &str, comma: bool) -> Option<f64> {
    let allowed = |c: char| c.is_ascii_digit() || matches!(c, '.' | '+' | '-' | 'e' | 'E');
    let text = if comma { text.replacen(',', ".", 1) } else { text.to_string() };
    let readable = text.len() < 40 && text.chars().all(allowed);
    readable.then(|| text.parse::<f64>().ok()).flatten().filter(|v| v.is_finite())
}

/// Seconds of `h:mm` or `h:mm:ss`, hours up to 2000, seconds with decimals.
fn clock(text: &str) -> Option<f64> {
    let whole = |part: &str, below: u32| -> Option<f64> {
        let digits = !part.is_empty() && part.len() <= 4 && part.bytes().all(|b| b.is_ascii_digit());
        part.parse::<u32>().ok().filter(|&n| digits && n < below).map(f64::from)
    };
    let mut parts = text.split(':');
    let hours = whole(parts.next()?, 2001)?;
    let minutes = whole(parts.next()?, 60)?;
    let seconds = match parts.next() {
        None => 0.0,
        Some(part) => {
            number(part, true).filter(|s| (0.0..60.0).contains(s) && !part.starts_with(['+', '-']))?
        }
    };
    parts.next().is_none().then_some(hours * 3600.0 + minutes * 60.0 + seconds)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_times() {
        let minutes = Some(TimeUnit::Minutes);
        let seconds = |text: &str| time(text, minutes, false).ok().map(|t| t.seconds);
        assert_eq!(seconds("2.5"), Some(150.0));
        assert_eq!(seconds("13:05"), Some(47_100.0));
        assert_eq!(seconds("0:00:01.5"), Some(1.5));
        assert_eq!(seconds("25:00"), Some(90_000.0));
        for bad in
            ["", "1:60", "1:2:3:4", ":30", "1:", "1:05 PM", "2031-02-03 1:05", "-1:05", "x", "1,5", "1:05:-3"]
        {
            assert_eq!(seconds(bad), None, "{bad}");
        }
        assert_eq!(time("2,5", minutes, true).unwrap().seconds, 150.0);
        assert!(time("5", None, false).unwrap_err().0.contains("no unit"));
        assert_eq!(time("0:05", None, false).unwrap().seconds, 300.0);
    }

    #[test]
    fn reads_temperatures_and_refuses_loose_probes() {
        assert_eq!(temperature("925", TemperatureUnit::Celsius, false), Ok(925.0));
        let from_f = temperature("1700", TemperatureUnit::Fahrenheit, false).unwrap();
        assert!((from_f - 926.666_666_7).abs() < 1e-6);
        assert_eq!(temperature("925,5", TemperatureUnit::Celsius, true), Ok(925.5));
        for bad in ["OL", "nan", "9999", "-200", "1e9", "", "1.234,5"] {
            assert!(temperature(bad, TemperatureUnit::Celsius, true).is_err(), "{bad}");
        }
    }

    #[test]
    fn air_after_the_soak_is_an_opened_pack() {
        assert_eq!(stage("air", Some(Stage::SOAK)), Ok(Some(Stage::AIR_COOL)));
        assert_eq!(stage("air", Some(Stage::AIR_COOL)), Ok(Some(Stage::AIR_COOL)));
        assert_eq!(stage("Air", Some(Stage::PACK_COOL)), Ok(Some(Stage::AIR_REHEAT)));
        assert_eq!(stage("", Some(Stage::SOAK)), Ok(None));
        assert!(stage("sook", None).unwrap_err().1.starts_with("did you mean \"soak\"?"));
    }
}
