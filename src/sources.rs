//! Where a number comes from. No constant enters the program without this.

/// How far a source has been checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Seen in the named text, or reproduced from primary data.
    Confirmed,
    /// Quoted from memory of the named text; not seen.
    Memory,
    /// Computed with reference libraries from the named data.
    Computed,
    /// Common practice of the trade, no source.
    Practice,
    /// A judgement of this project; may be wrong.
    Judgement,
}

impl Status {
    /// The word used in `models/` and in reports.
    pub fn word(self) -> &'static str {
        match self {
            Self::Confirmed => "confirmed",
            Self::Memory => "from memory",
            Self::Computed => "computed",
            Self::Practice => "common practice, no source",
            Self::Judgement => "judgement",
        }
    }

    /// All states, for parsing and for messages.
    pub const ALL: [Self; 5] =
        [Self::Confirmed, Self::Memory, Self::Computed, Self::Practice, Self::Judgement];
}

/// A value with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced<T> {
    /// The value.
    pub value: T,
    /// Key of the source in `models/sources.toml`.
    pub source: String,
    /// Table, equation or page in it.
    pub place: String,
    /// How far it was checked.
    pub status: Status,
}

/// One entry of `models/sources.toml`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The key that values refer to.
    pub key: String,
    /// Author or issuing body.
    pub author: String,
    /// Title and where it was published.
    pub title: String,
    /// Year of publication, as printed.
    pub year: String,
}
