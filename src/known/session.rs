use std::fmt;
use thiserror::Error;

/// When steels were sparked one after the other: a day, with a word where a day has several. In order of time.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Session {
    year: u16,
    month: u8,
    day: u8,
    word: String,
}

/// A text that is no session. `Display` says why; [`SessionError::help`] what to do.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum SessionError {
    /// Not written as a day.
    #[error("`{0}` is no session")]
    NotADay(String),
    /// No such day.
    #[error("`{0}` is a day that no calendar has")]
    NoSuchDay(String),
    /// The word after the day is too long or odd.
    #[error("`{0}` is no word for a part of a day")]
    Word(String),
}

impl SessionError {
    /// What to write instead.
    pub fn help(&self) -> String {
        match self {
            Self::Word(_) => {
                format!("allowed: up to {} letters, digits, - and _, such as \"2026-03-14 evening\"", Session::LONGEST)
            }
            _ => "write year-month-day, with a word after it where a day has several sessions: \"2026-03-14\", \
                  \"2026-03-14 evening\""
                .into(),
        }
    }
}

impl Session {
    /// Most bytes of the word after the day.
    const LONGEST: usize = 30;
    /// First year that is believed (judgement): cameras whose clock was never set say 1970 or 1980.
    const FIRST_YEAR: u16 = 1990;

    /// Reads `2026-03-14` or `2026-03-14 evening`.
    pub fn parse(text: &str) -> Result<Self, SessionError> {
        let text = text.trim();
        let shown = || text.chars().take(60).collect::<String>();
        let (date, word) = text.split_once(' ').map_or((text, ""), |(date, word)| (date, word.trim()));
        let not_a_day = || SessionError::NotADay(shown());
        let parts: Vec<&str> = date.split('-').collect();
        let [year, month, day] = parts[..] else { return Err(not_a_day()) };
        let number = |part: &str, digits: usize| {
            let right = part.len() == digits && part.bytes().all(|b| b.is_ascii_digit());
            part.parse::<u16>().ok().filter(|_| right).ok_or_else(not_a_day)
        };
        let (year, month, day) = (number(year, 4)?, number(month, 2)?, number(day, 2)?);
        let days = days_of(year, month).filter(|days| year >= Self::FIRST_YEAR && (1..=*days).contains(&day));
        if days.is_none() {
            return Err(SessionError::NoSuchDay(shown()));
        }
        let plain = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | ' ');
        if word.len() > Self::LONGEST || !word.chars().all(plain) {
            return Err(SessionError::Word(word.chars().take(60).collect()));
        }
        let word = word.split_whitespace().collect::<Vec<_>>().join(" ");
        // both are below 32
        Ok(Self { year, month: month as u8, day: day as u8, word })
    }

    /// The day of a photo by its camera's clock: `2026-03-14 18:41:07`, or with colons in the day.
    pub fn of_camera(taken: &str) -> Option<Self> {
        let day = taken.get(..10)?.replace(':', "-");
        Self::parse(&day).ok()
    }
}

/// Days of a month of the Gregorian calendar; `None`: no such month.
fn days_of(year: u16, month: u16) -> Option<u16> {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => Some(31),
        4 | 6 | 9 | 11 => Some(30),
        2 => Some(if leap { 29 } else { 28 }),
        _ => None,
    }
}

impl fmt::Display for Session {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)?;
        if self.word.is_empty() { Ok(()) } else { write!(f, " {}", self.word) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_and_words() {
        for text in ["2026-03-14", "2026-03-14 evening", "2028-02-29", "2000-02-29 second wheel"] {
            assert_eq!(Session::parse(text).map(|s| s.to_string()).as_deref(), Ok(text));
        }
        for text in [
            "",
            "today",
            "14.03.2026",
            "2026-3-14",
            "2026-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-04-31",
            "1970-01-01",
            "2026-03-14 ../x",
            "2026-03-1é",
            "+026-03-14",
        ] {
            assert!(Session::parse(text).is_err(), "{text}");
        }
        let camera = |text| Session::of_camera(text).map(|s| s.to_string());
        assert_eq!(camera("2026:03:14 18:41:07").as_deref(), Some("2026-03-14"));
        assert_eq!(camera("0000:00:00 00:00:00"), None);
        assert_eq!(camera("2026-03-é4"), None);
    }

    #[test]
    fn in_order_of_time() {
        let mut list = ["2026-03-14 evening", "2025-12-31", "2026-03-14", "2026-02-01"]
            .map(|t| Session::parse(t).unwrap());
        list.sort();
        let list = list.map(|s| s.to_string());
        assert_eq!(list, ["2025-12-31", "2026-02-01", "2026-03-14", "2026-03-14 evening"]);
    }
}
