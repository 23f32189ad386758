use super::Lesson;
use super::earlier::history;
use crate::prediction::History;
#[cfg(doc)]
use crate::prediction::Kept;

/// Why an earlier run was left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LeftOut {
    /// It is the run that is asked about.
    Itself,
    /// Its sheet cannot be read: the first thing wrong.
    Unreadable(String),
    /// It says the same, byte for byte, as this one.
    CopyOf(String),
    /// It names no furnace.
    NoFurnace,
    /// It was made in this other furnace.
    OtherFurnace(String),
    /// Neither thermometer place nor container and compound are told, and as in this run.
    NothingShared,
    /// Nothing was seen of its coupon that can be held against a prediction.
    NothingSeen,
    /// All that it shares was set by hand, or is known, there.
    NothingOpen,
    /// There is no prediction of it.
    NotPredicted(String),
}

/// Earlier runs of one furnace with what they tell.
#[derive(Debug, Clone, PartialEq)]
pub struct EarlierRuns {
    /// What the furnace is called.
    pub furnace: String,
    /// Those that were used, by name, with what each taught.
    pub used: Vec<(String, Lesson)>,
    /// The others, by name, and why.
    pub left_out: Vec<(String, LeftOut)>,
    /// What they tell together.
    pub history: History,
}

impl EarlierRuns {
    /// Of `furnace`; `stays`: share of the variance of each of [`Kept::ALL`] that is the furnace's own.
    pub fn new(
        furnace: String,
        used: Vec<(String, Lesson)>,
        left_out: Vec<(String, LeftOut)>,
        stays: [f64; 3],
    ) -> Self {
        let lessons: Vec<&Lesson> = used.iter().map(|(_, lesson)| lesson).collect();
        let history = history(&lessons, stays);
        Self { furnace, used, left_out, history }
    }

    /// What they tell. `None`: nothing.
    pub fn told(&self) -> Option<&History> {
        Some(&self.history).filter(|history| !history.told.is_empty())
    }
}
