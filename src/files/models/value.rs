use super::ModelsError;
use super::bibliography::Bibliography;
use crate::sources::{Sourced, Status};
use crate::units::{Interval, OutOfRange};
use serde::{Deserialize, Deserializer, de};
use std::fmt;

/// Where a value stands, for messages.
#[derive(Debug, Clone, Copy)]
pub(super) struct At<'a> {
    /// File in `models/`.
    pub(super) file: &'static str,
    /// Name of the entry.
    pub(super) entry: &'a str,
    /// Field in it.
    pub(super) field: &'static str,
}

/// Where a value comes from.
pub(super) struct Cited<'a> {
    /// Key of its source.
    pub(super) source: &'a str,
    /// Keys of further sources.
    pub(super) also: &'a [String],
    /// Place in the source.
    pub(super) place: &'a str,
    /// How far it was checked.
    pub(super) status: Status,
}

/// A single value as it is written: `value`, then where it comes from.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Single<T> {
    value: T,
    source: String,
    #[serde(default)]
    also: Vec<String>,
    place: String,
    #[serde(deserialize_with = "status")]
    status: Status,
}

/// A range as it is written: `value` if it is one number, `low` and `high` if the best value is
/// their middle, or `low`, `best` and `high`; then where it comes from.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Range<N = f64> {
    value: Option<N>,
    low: Option<N>,
    best: Option<N>,
    high: Option<N>,
    source: String,
    #[serde(default)]
    also: Vec<String>,
    place: String,
    #[serde(deserialize_with = "status")]
    status: Status,
}

impl<T> Single<T> {
    /// The value with its source; `make` checks and converts it.
    pub(super) fn sourced<U>(
        self,
        books: &mut Bibliography,
        at: At<'_>,
        make: impl FnOnce(T) -> Result<U, OutOfRange>,
    ) -> Result<Sourced<U>, ModelsError> {
        let Self { value, source, also, place, status } = self;
        let value = make(value).map_err(|e| out_of_range(at, &e))?;
        books.sourced(at, value, &Cited { source: &source, also: &also, place: &place, status })
    }
}

impl<N: Copy + Into<f64>> Range<N> {
    /// The interval with its source; `make` checks and converts each number.
    pub(super) fn sourced<T: Copy + PartialOrd>(
        &self,
        books: &mut Bibliography,
        at: At<'_>,
        make: impl Fn(f64) -> Result<T, OutOfRange>,
    ) -> Result<Sourced<Interval<T>>, ModelsError> {
        let [low, best, high] = self.numbers(at)?;
        let made = |n| make(n).map_err(|e| out_of_range(at, &e));
        // The ends first: a slip there would otherwise be told of the middle.
        let (least, most, best_made) = (made(low)?, made(high)?, made(best)?);
        let value = Interval::new(least, best_made, most)
            .ok_or_else(|| ModelsError::value(at, format!("{low}, {best}, {high}"), "low <= best <= high"))?;
        let Self { source, also, place, status, .. } = self;
        books.sourced(at, value, &Cited { source, also, place, status: *status })
    }

    /// How far the source of this range was checked.
    pub(super) fn status(&self) -> Status {
        self.status
    }

    fn numbers(&self, at: At<'_>) -> Result<[f64; 3], ModelsError> {
        match (self.value, self.low, self.best, self.high) {
            (Some(value), None, None, None) => Ok([value.into(); 3]),
            (None, Some(low), None, Some(high)) => {
                let (low, high) = (low.into(), high.into());
                Ok([low, f64::midpoint(low, high), high])
            }
            (None, Some(low), Some(best), Some(high)) => Ok([low.into(), best.into(), high.into()]),
            _ => Err(ModelsError::value(at, "incomplete or doubled", "value; low, high; or low, best, high")),
        }
    }
}

/// A check for numbers that have no type of their own: `low..=high` of `unit`.
pub(super) fn bounded(
    what: &'static str,
    unit: &'static str,
    low: f64,
    high: f64,
) -> impl Fn(f64) -> Result<f64, OutOfRange> {
    move |got| {
        if (low..=high).contains(&got) { Ok(got) } else { Err(OutOfRange { what, got, low, high, unit }) }
    }
}

fn out_of_range(at: At<'_>, e: &OutOfRange) -> ModelsError {
    let OutOfRange { got, low, high, unit, .. } = *e;
    let (got, low, high) = (readable(got), readable(low), readable(high));
    ModelsError::value(at, format!("{got} {unit}"), format!("{low} to {high} {unit}"))
}

/// Powers of ten only where zeros would have to be counted.
fn readable(n: f64) -> String {
    if n == 0.0 || (1e-3..1e6).contains(&n.abs()) { n.to_string() } else { format!("{n:e}") }
}

/// A coefficient of transfer, m/s, or the word `held`: infinity.
#[derive(Debug, Clone, Copy)]
pub(super) struct Transfer(f64);

impl From<Transfer> for f64 {
    fn from(Transfer(n): Transfer) -> Self {
        n
    }
}

impl<'de> Deserialize<'de> for Transfer {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct NumberOrHeld;

        impl de::Visitor<'_> for NumberOrHeld {
            type Value = Transfer;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number in m/s or the word \"held\"")
            }

            fn visit_f64<E: de::Error>(self, n: f64) -> Result<Transfer, E> {
                if n.is_finite() {
                    Ok(Transfer(n))
                } else {
                    Err(E::invalid_value(de::Unexpected::Float(n), &self))
                }
            }

            fn visit_str<E: de::Error>(self, word: &str) -> Result<Transfer, E> {
                match word {
                    "held" => Ok(Transfer(f64::INFINITY)),
                    _ => Err(E::invalid_value(de::Unexpected::Str(word), &self)),
                }
            }
        }

        deserializer.deserialize_any(NumberOrHeld)
    }
}

/// The word of a status.
pub(super) fn status<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Status, D::Error> {
    let word = String::deserialize(deserializer)?;
    Status::ALL.into_iter().find(|s| s.word() == word).ok_or_else(|| {
        let allowed = Status::ALL.map(Status::word).join("`, `");
        de::Error::custom(format!("`{word}` is not a status; allowed: `{allowed}`"))
    })
}
