//! Quantities as people write them: `1700F`, `30 thou`, `1/8 in`, `2:15`, `0.15-0.20 %C`.

use super::{Interval, OutOfRange};
use std::fmt;

/// A unit that a quantity may be written in: `si = number * scale + offset`.
#[derive(Debug, Clone, Copy)]
pub struct Unit {
    /// All spellings; the first is shown to people.
    pub names: &'static [&'static str],
    /// SI units per one of this unit.
    pub scale: f64,
    /// SI value at zero of this unit.
    pub offset: f64,
}

/// A quantity that can be read from text with its unit.
pub trait Quantity: Copy + PartialOrd {
    /// What it is, for messages.
    const NAME: &'static str;
    /// Allowed units, the commonest first.
    const UNITS: &'static [Unit];
    /// Checks the range.
    fn from_si(si: f64) -> Result<Self, OutOfRange>;
}

/// A value together with the words it was read from, so that it can be shown and saved as typed.
#[derive(Debug, Clone, PartialEq)]
pub struct Written<T> {
    /// The value.
    pub value: T,
    /// As typed, trimmed.
    pub text: String,
}

/// Why a text is no such quantity. `Display` says what is wrong; [`ParseError::help`] what to do.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs)] // the variants' fields are shown by Display
pub enum ParseError {
    Empty { what: &'static str },
    NotANumber { what: &'static str, got: String },
    DecimalComma { got: String },
    NoUnit { what: &'static str, got: String, could_be: String },
    UnknownUnit { what: &'static str, unit: String, allowed: String },
    Backwards { got: String },
    RangeNotAllowed { what: &'static str, got: String },
    OutOfRange(OutOfRange),
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty { what } => write!(f, "the {what} is empty"),
            Self::NotANumber { what, got } => write!(f, "`{got}` is not a {what}"),
            Self::DecimalComma { got } => {
                write!(f, "`{got}` has a comma, which could be a decimal point or thousands")
            }
            Self::NoUnit { what, got, .. } => write!(f, "`{got}` has no unit, so it is not a {what} yet"),
            Self::UnknownUnit { what, unit, .. } => write!(f, "`{unit}` is not a unit of {what}"),
            Self::Backwards { got } => write!(f, "the range `{got}` runs backwards"),
            Self::RangeNotAllowed { what, got } => write!(f, "`{got}` is a range where one {what} is wanted"),
            Self::OutOfRange(e) => e.fmt(f),
        }
    }
}

impl std::error::Error for ParseError {}

impl ParseError {
    /// What to write instead.
    pub fn help(&self) -> String {
        match self {
            Self::Empty { .. } => "write a number with its unit, or leave the field out".into(),
            Self::NotANumber { .. } => {
                "write a number and its unit, for example \"925 C\", \"30 thou\", \"2.5 h\"".into()
            }
            Self::DecimalComma { .. } => "write decimals with a point, and thousands without a mark".into(),
            Self::NoUnit { could_be, .. } => format!("could be {could_be}: add the unit"),
            Self::UnknownUnit { allowed, .. } => format!("allowed: {allowed}"),
            Self::Backwards { .. } => "write the smaller number first".into(),
            Self::RangeNotAllowed { .. } => "write one number with its unit".into(),
            Self::OutOfRange(_) => "check the number and its unit".into(),
        }
    }
}

/// One number with its unit.
pub fn parse<Q: Quantity>(text: &str) -> Result<Written<Q>, ParseError> {
    let w = parse_interval::<Q>(text)?;
    if w.value.is_exact() {
        Ok(Written { value: w.value.best(), text: w.text })
    } else {
        Err(ParseError::RangeNotAllowed { what: Q::NAME, got: w.text })
    }
}

/// One number, or a range such as `0.15-0.20 %C` or `900 C to 925 C`; best is then its middle.
pub fn parse_interval<Q: Quantity>(text: &str) -> Result<Written<Interval<Q>>, ParseError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(ParseError::Empty { what: Q::NAME });
    }
    let written = |value| Written { value, text: text.to_string() };
    if let Some(seconds) = clock::<Q>(text) {
        return Q::from_si(seconds?).map(|v| written(Interval::exact(v))).map_err(ParseError::OutOfRange);
    }
    let (first, rest) = Term::read::<Q>(text, text)?;
    let Some(rest) = after_dash(rest) else {
        // Compound times: "1 h 30 min".
        let mut si = first.si::<Q>(text, None)?;
        let mut rest = rest;
        while !rest.is_empty() && Q::NAME == "time" {
            let (more, tail) = Term::read::<Q>(rest, text)?;
            si += more.si::<Q>(text, Some(&Q::UNITS[0]))?;
            rest = tail;
        }
        if !rest.is_empty() {
            return Err(ParseError::NotANumber { what: Q::NAME, got: text.to_string() });
        }
        return Q::from_si(si).map(|v| written(Interval::exact(v))).map_err(ParseError::OutOfRange);
    };
    let (second, rest) = Term::read::<Q>(rest, text)?;
    if !rest.is_empty() {
        return Err(ParseError::NotANumber { what: Q::NAME, got: text.to_string() });
    }
    let high = second.si::<Q>(text, None)?;
    let low = first.si::<Q>(text, second.unit)?;
    if low > high {
        return Err(ParseError::Backwards { got: text.to_string() });
    }
    let make = |si| Q::from_si(si).map_err(ParseError::OutOfRange);
    Interval::new(make(low)?, make(f64::midpoint(low, high))?, make(high)?)
        .map(written)
        .ok_or_else(|| ParseError::Backwards { got: text.to_string() })
}

/// What one in the last written digit is worth, in SI units: 0.01 g of `31.50 g`. `None`: no such number.
pub fn last_digit<Q: Quantity>(text: &str) -> Option<f64> {
    let text = text.trim();
    let (term, _) = Term::read::<Q>(text, text).ok()?;
    let digits = |t: &str| t.bytes().take_while(u8::is_ascii_digit).count();
    let decimals = text.split_once('.').map_or(0, |(_, tail)| digits(tail));
    Some(libm::exp10(-(i32::try_from(decimals).ok().map(f64::from)?)) * term.unit?.scale)
}

/// A number and, perhaps, its unit.
struct Term {
    number: f64,
    unit: Option<&'static Unit>,
}

impl Term {
    /// Reads one term from the front of `text`; `whole` is what the message shows.
    fn read<'t, Q: Quantity>(text: &'t str, whole: &str) -> Result<(Self, &'t str), ParseError> {
        let not_a_number = || ParseError::NotANumber { what: Q::NAME, got: whole.to_string() };
        let (number, rest) = number(text.trim_start()).ok_or_else(not_a_number)?;
        let rest = rest.trim_start();
        if rest.starts_with(',') {
            return Err(ParseError::DecimalComma { got: whole.to_string() });
        }
        let word = unit_word(rest);
        if word.is_empty() {
            return Ok((Self { number, unit: None }, rest));
        }
        let unit = Q::UNITS.iter().find(|u| u.names.iter().any(|n| n.eq_ignore_ascii_case(word)));
        let unit = unit.ok_or_else(|| ParseError::UnknownUnit {
            what: Q::NAME,
            unit: word.to_string(),
            allowed: allowed_units::<Q>(),
        })?;
        Ok((Self { number, unit: Some(unit) }, rest[word.len()..].trim_start()))
    }

    fn si<Q: Quantity>(&self, whole: &str, fallback: Option<&'static Unit>) -> Result<f64, ParseError> {
        let unit = self.unit.or(fallback).ok_or_else(|| ParseError::NoUnit {
            what: Q::NAME,
            got: whole.to_string(),
            could_be: could_be::<Q>(self.number),
        })?;
        Ok(self.number * unit.scale + unit.offset)
    }
}

/// `12`, `-3.5`, `1/8`, `1 1/8`, `2e-7`: the number and what follows it.
fn number(text: &str) -> Option<(f64, &str)> {
    let (whole, rest) = decimal(text)?;
    if let Some(tail) = rest.strip_prefix('/') {
        let (den, rest) = decimal(tail)?;
        return (den != 0.0).then_some((whole / den, rest));
    }
    // "1 1/8": a second number directly followed by a slash.
    if let Some((num, tail)) = decimal(rest.trim_start())
        && let Some(tail) = tail.strip_prefix('/')
        && let Some((den, tail)) = decimal(tail)
        && den != 0.0
        && rest.starts_with(' ')
    {
        return Some((whole + num / den, tail));
    }
    Some((whole, rest))
}

fn decimal(text: &str) -> Option<(f64, &str)> {
    let bytes = text.as_bytes();
    let digits = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
    let sign = usize::from(matches!(bytes.first(), Some(b'-' | b'+')));
    let mut end = sign + digits(sign);
    let mut seen = end > sign;
    if bytes.get(end) == Some(&b'.') {
        let decimals = digits(end + 1);
        seen |= decimals > 0;
        end += 1 + decimals;
    }
    if !seen {
        return None;
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let exp_sign = usize::from(matches!(bytes.get(end + 1), Some(b'-' | b'+')));
        let exp = digits((end + 1 + exp_sign).min(bytes.len()));
        if exp > 0 {
            end += 1 + exp_sign + exp;
        }
    }
    let value: f64 = text[..end].parse().ok()?;
    value.is_finite().then_some((value, &text[end..]))
}

/// The unit at the front of `text`: up to a digit, a dash or the word "to".
fn unit_word(text: &str) -> &str {
    let end = text
        .char_indices()
        .find(|&(i, c)| {
            let digit = c.is_ascii_digit() && !text[..i].ends_with(['m', 'M']); // the 2 of m2/s is the unit's
            digit || c == ',' || c == '-' || c == '–' || text[i..].starts_with(" to ")
        })
        .map_or(text.len(), |(i, _)| i);
    if text.starts_with("to ") { "" } else { text[..end].trim_end() }
}

/// What follows a range's dash or "to"; `None` if there is none.
fn after_dash(text: &str) -> Option<&str> {
    ["-", "–", "to "].iter().find_map(|dash| text.strip_prefix(dash)).map(str::trim_start)
}

/// `2:15` or `2:15:30`, hours first, if `Q` is a time; in seconds.
fn clock<Q: Quantity>(text: &str) -> Option<Result<f64, ParseError>> {
    if Q::NAME != "time" || !text.contains(':') {
        return None;
    }
    let bad = || ParseError::NotANumber { what: Q::NAME, got: text.to_string() };
    let parts: Option<Vec<f64>> =
        text.split(':').map(|p| p.trim().parse::<u32>().ok().map(f64::from)).collect();
    Some(match parts.as_deref() {
        Some([h, m]) if *m < 60.0 => Ok(h * 3600.0 + m * 60.0),
        Some([h, m, s]) if *m < 60.0 && *s < 60.0 => Ok(h * 3600.0 + m * 60.0 + s),
        _ => Err(bad()),
    })
}

fn could_be<Q: Quantity>(number: f64) -> String {
    list(Q::UNITS.iter().map(|u| format!("\"{number} {}\"", u.names[0])))
}

fn allowed_units<Q: Quantity>() -> String {
    list(Q::UNITS.iter().map(|u| u.names[0].to_string()))
}

fn list(items: impl Iterator<Item = String>) -> String {
    let items: Vec<_> = items.collect();
    match items.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{CarbonPercent, Depth, Mass, Temperature, Time, TransferCoefficient};
    use super::*;

    #[test]
    fn the_last_digit_says_how_finely_it_was_read() {
        for (text, kg) in [("31.50 g", 1e-5), ("31.5 g", 1e-4), ("31 g", 1e-3), ("31503.2 mg", 1e-7)] {
            let got = last_digit::<Mass>(text).unwrap();
            assert!((got / kg - 1.0).abs() < 1e-12, "{text}: {got}");
        }
        assert_eq!((last_digit::<Mass>("31.50"), last_digit::<Mass>("heavy")), (None, None));
    }

    fn mm(text: &str) -> f64 {
        parse::<Depth>(text).unwrap().value.millimetres()
    }
    fn minutes(text: &str) -> f64 {
        parse::<Time>(text).unwrap().value.minutes()
    }
    fn celsius(text: &str) -> f64 {
        parse::<Temperature>(text).unwrap().value.celsius()
    }

    /// Unit factors: BIPM SI brochure 2019; 1 in = 25.4 mm exactly.
    #[test]
    fn reads_what_people_write() {
        for (text, want) in [
            ("30 thou", 0.762),
            ("0.030 in", 0.762),
            ("0.8 mm", 0.8),
            (".8mm", 0.8),
            ("1/8 in", 3.175),
            ("1 1/8\"", 28.575),
            ("350 µm", 0.35),
        ] {
            assert!((mm(text) - want).abs() < 1e-12, "{text}: {}", mm(text));
        }
        for (text, want) in [
            ("2.5 h", 150.0),
            ("75 min", 75.0),
            ("2:15", 135.0),
            ("1 h 30 min", 90.0),
            ("1h30", 90.0),
            ("90 s", 1.5),
        ] {
            assert!((minutes(text) - want).abs() < 1e-12, "{text}: {}", minutes(text));
        }
        for (text, want) in [
            ("1700F", 926.666_666_7),
            ("925 °C", 925.0),
            ("925C", 925.0),
            ("1198.15 K", 925.0),
            ("-5 C", -5.0),
        ] {
            assert!((celsius(text) - want).abs() < 1e-6, "{text}: {}", celsius(text));
        }
        assert!((parse::<Mass>("23.412 g").unwrap().value.grams() - 23.412).abs() < 1e-12);
        assert!(
            (parse::<TransferCoefficient>("2e-7 m/s").unwrap().value.metres_per_second() - 2e-7).abs()
                < 1e-20
        );
        assert_eq!(parse::<Temperature>(" 1700F ").unwrap().text, "1700F");
    }

    #[test]
    fn reads_ranges() {
        for text in ["0.15-0.20 %C", "0.15 to 0.20 %C", "0.15 %C – 0.20 %C"] {
            let v = parse_interval::<CarbonPercent>(text).unwrap().value;
            assert_eq!((v.low().wt_percent(), v.high().wt_percent()), (0.15, 0.20), "{text}");
            assert!((v.best().wt_percent() - 0.175).abs() < 1e-12);
        }
        let t = parse_interval::<Temperature>("900-925C").unwrap().value;
        assert!((t.low().celsius() - 900.0).abs() < 1e-9 && (t.high().celsius() - 925.0).abs() < 1e-9);
    }

    #[test]
    fn refuses_with_a_reason() {
        let message = |e: ParseError| format!("{e}; {}", e.help());
        insta::assert_snapshot!(
            [
                message(parse::<Temperature>("925").unwrap_err()),
                message(parse::<Depth>("30").unwrap_err()),
                message(parse::<Time>("75").unwrap_err()),
                message(parse::<Depth>("0,8 mm").unwrap_err()),
                message(parse::<Depth>("3 cubits").unwrap_err()),
                message(parse::<Temperature>("cherry").unwrap_err()),
                message(parse::<Temperature>("").unwrap_err()),
                message(parse::<Time>("2:75").unwrap_err()),
                message(parse::<Temperature>("950-900 C").unwrap_err()),
                message(parse::<Temperature>("900-950 C").unwrap_err()),
                message(parse::<Depth>("-3 mm").unwrap_err()),
                message(parse::<CarbonPercent>("18 %C").unwrap_err()),
                message(parse::<Depth>("1/0 in").unwrap_err()),
            ]
            .join("\n")
        );
    }

    proptest::proptest! {
        #[test]
        fn never_panics(text in "\\PC{0,40}") {
            let _ = parse_interval::<Temperature>(&text);
            let _ = parse_interval::<Depth>(&text);
            let _ = parse_interval::<Time>(&text);
        }

        #[test]
        fn round_trips(mm in 0.0..1900.0f64) {
            let v = parse::<Depth>(&format!("{mm} mm")).unwrap().value.millimetres();
            proptest::prop_assert!((v - mm).abs() <= mm * 1e-12);
        }
    }
}
