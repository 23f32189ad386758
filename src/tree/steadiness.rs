use super::{FitError, Settings, Training, WalkError, fit};
use thiserror::Error;

/// How far answers hang on the draws: what changes when the same rows are fitted with other seeds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Steadiness {
    /// Further seeds tried.
    pub seeds: usize,
    /// Sets of values asked.
    pub asked: usize,
    /// Of those, how many got another answer from at least one seed.
    pub ever_changed: usize,
    /// Of all answers, `seeds` times `asked`, how many were another.
    pub changed: usize,
}

/// Why it could not be said.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SteadinessError {
    /// No tree.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// Values that cannot be asked.
    #[error(transparent)]
    Walk(#[from] WalkError),
}

impl Steadiness {
    /// Asks the tree of `settings`, then as many trees of the seeds after it.
    pub fn of(
        training: &Training,
        settings: &Settings,
        seeds: usize,
        asked: &[Vec<Option<f64>>],
    ) -> Result<Self, SteadinessError> {
        let answers = |seed| -> Result<Vec<usize>, SteadinessError> {
            let tree = fit(training, &Settings { seed, ..settings.clone() })?;
            asked.iter().map(|values| Ok(tree.walk(values)?.answer())).collect()
        };
        let first = answers(settings.seed)?;
        let mut changes = vec![0; asked.len()];
        for further in 1..=seeds {
            let now = answers(settings.seed.wrapping_add(further as u64))?;
            for (change, (a, b)) in changes.iter_mut().zip(first.iter().zip(now)) {
                *change += usize::from(*a != b);
            }
        }
        let ever_changed = changes.iter().filter(|n| **n > 0).count();
        Ok(Self { seeds, asked: asked.len(), ever_changed, changed: changes.iter().sum() })
    }

    /// Share of all answers that were another, 0 to 1.
    pub fn share_changed(&self) -> f64 {
        self.changed as f64 / (self.seeds * self.asked).max(1) as f64
    }

    /// Share of the sets of values that ever got another answer, 0 to 1.
    pub fn share_ever_changed(&self) -> f64 {
        self.ever_changed as f64 / self.asked.max(1) as f64
    }
}
