use super::Stage;
use crate::units::{Temperature, Time};
use thiserror::Error;

/// One line of a temperature log.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogPoint {
    /// Since the start of the log.
    pub time: Time,
    /// What the thermometer read.
    pub temperature: Temperature,
    /// Stage named on this line, if the log has a stage column.
    pub stage: Option<Stage>,
}

/// A temperature log: at least two points, times rising. Between points temperature runs straight.
#[derive(Debug, Clone, PartialEq)]
pub struct SoakLog(Vec<LogPoint>);

/// Why points make no log. `index` counts points from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum LogError {
    /// Fewer than two points.
    #[error("a log needs at least two points")]
    TooShort,
    /// Time did not rise.
    #[error("time does not rise at point {index}")]
    NotRising {
        /// The point that is not later than the one before.
        index: usize,
    },
}

impl SoakLog {
    /// Checks order and length.
    pub fn new(points: Vec<LogPoint>) -> Result<Self, LogError> {
        if points.len() < 2 {
            return Err(LogError::TooShort);
        }
        match points.windows(2).position(|w| w[1].time <= w[0].time) {
            Some(i) => Err(LogError::NotRising { index: i + 1 }),
            None => Ok(Self(points)),
        }
    }

    /// The points, in order.
    pub fn points(&self) -> &[LogPoint] {
        &self.0
    }
}
