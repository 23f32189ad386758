use super::fault::Fault;
use crate::files::problem::shown;
use crate::units::{Interval, Share};

/// `3`, `3-5`, `3 to 5`, `1/2`: numbers without a unit, inside `low..=high`.
pub(super) fn number_range(text: &str, (low, high): (f64, f64)) -> Result<Interval<f64>, Fault> {
    let range = if high < 5.0 { "1-2" } else { "3-5" };
    let allowed = format!("allowed: a number from {low} to {high}, or a range such as \"{range}\"");
    let bad = |why: &str| Fault::new(format!("`{}` {why}", shown(text.trim())), allowed.clone());
    let (first, second) = ends(text);
    let read = |part: &str| read_number(part).ok_or_else(|| bad("is not a number"));
    let (a, b) = (read(first)?, read(second)?);
    if a > b {
        return Err(bad("runs backwards: the smaller number comes first"));
    }
    if a < low || b > high {
        return Err(bad(&format!("is outside {low} to {high}")));
    }
    Interval::new(a, f64::midpoint(a, b), b).ok_or_else(|| bad("is not a number"))
}

/// `40 %`, `40-60 %`, `0.4`, `1/3`: a part of a whole.
pub(super) fn share_range(text: &str) -> Result<Interval<Share>, Fault> {
    const ALLOWED: &str = "allowed: 0 % to 100 %, as \"40 %\", \"40-60 %\", \"0.4\" or \"1/3\"";
    let bad = |why: String| Fault::new(format!("`{}` {why}", shown(text.trim())), ALLOWED);
    let (first, second) = ends(text);
    let percent_at_end = second.trim_end().ends_with('%');
    let read = |part: &str| -> Result<f64, Fault> {
        let stripped = part.trim().strip_suffix('%');
        let number = read_number(stripped.unwrap_or(part)).ok_or_else(|| bad("is not a share".into()))?;
        if stripped.is_some() || percent_at_end {
            Ok(number / 100.0)
        } else if number > 1.0 && number <= 100.0 {
            Err(bad(format!("is more than the whole; as percent it would be \"{} %\"", text.trim())))
        } else {
            Ok(number)
        }
    };
    let (a, b) = (read(first)?, read(second)?);
    if a > b {
        return Err(bad("runs backwards: the smaller number comes first".into()));
    }
    let share = |v| Share::new(v).map_err(|_| bad("is outside 0 to 100 %".into()));
    Interval::new(share(a)?, share(f64::midpoint(a, b))?, share(b)?)
        .ok_or_else(|| bad("is not a share".into()))
}

/// Both ends of a range; a single number is both.
fn ends(text: &str) -> (&str, &str) {
    let text = text.trim();
    [" to ", "-", "–"]
        .iter()
        .find_map(|dash| text.split_once(dash).filter(|(a, _)| !a.trim().is_empty()))
        .unwrap_or((text, text))
}

fn read_number(text: &str) -> Option<f64> {
    let plain = |t: &str| -> Option<f64> {
        let t = t.trim();
        let digits = t.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+'));
        t.parse::<f64>().ok().filter(|v| digits && v.is_finite())
    };
    match text.split_once('/') {
        Some((a, b)) => plain(b).filter(|&b| b != 0.0).and_then(|b| plain(a).map(|a| a / b)),
        None => plain(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_counts_and_ranges() {
        let read = |text| number_range(text, (0.0, 12.0)).map(|i| (i.low(), i.high()));
        assert_eq!(read("3"), Ok((3.0, 3.0)));
        assert_eq!(read(" 3 - 5 "), Ok((3.0, 5.0)));
        assert_eq!(read("3 to 5"), Ok((3.0, 5.0)));
        assert_eq!(read("1/2"), Ok((0.5, 0.5)));
        for bad in ["", "x", "5-3", "-1", "13", "nan", "inf", "3-", "1/0", "1e3", "3,5"] {
            assert!(read(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn reads_shares() {
        let read = |text| share_range(text).map(|i| (i.low().fraction(), i.high().fraction()));
        for (text, want) in [
            ("40 %", (0.4, 0.4)),
            ("40-60 %", (0.4, 0.6)),
            ("40 % to 60%", (0.4, 0.6)),
            ("0.4", (0.4, 0.4)),
            ("1", (1.0, 1.0)),
            ("100 %", (1.0, 1.0)),
        ] {
            assert_eq!(read(text), Ok(want), "{text}");
        }
        for bad in ["", "%", "140 %", "-5 %", "60-40 %", "half", "150"] {
            assert!(read(bad).is_err(), "{bad}");
        }
        assert!(share_range("40").unwrap_err().message.contains("\"40 %\""));
    }
}
