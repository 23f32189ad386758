use super::course::{Course, time};
use super::{PlanError, Tables};
use crate::prediction::StagePrediction;
use crate::soak::Stage;
use crate::units::Time;

/// A rod of the same stock that is pulled during the soak and quenched.
#[derive(Debug, Clone, PartialEq)]
pub struct Spy {
    /// After so much of the hold.
    pub after: Time,
    /// What it should be like.
    pub shows: StagePrediction,
}

impl Spy {
    /// For a soak with this hold. `None`: the steel is not hot by then.
    pub(super) fn of(course: &Course, hold: Time, tables: &Tables) -> Result<Option<Self>, PlanError> {
        /// Pulled at full steps of a clock, s.
        const STEP_S: f64 = 300.0;
        let share = tables.rules.spy_share.value;
        let seconds = (hold.seconds() * share / STEP_S).round() * STEP_S;
        let stages = course.predict(seconds)?.stages;
        let pulled = stages.into_iter().rfind(|s| s.stage == Stage::SOAK);
        Ok(pulled.map(|shows| Self { after: time(seconds), shows }))
    }
}
