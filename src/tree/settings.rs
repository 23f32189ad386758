use super::{FitError, Tree};

/// How a tree is fitted.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Most questions on the way to a leaf, 1 to [`Tree::MOST_DEPTH`].
    pub max_depth: usize,
    /// Least number of training rows in a leaf, from 1 up.
    pub min_leaf: usize,
    /// Seed of the draws.
    pub seed: u64,
    /// Half-width of the range that each feature's values stand for, in the unit of the feature: how far
    /// the same thing might have been described or measured differently. One per feature; 0: exact.
    pub dither: Vec<f64>,
    /// How often each row is drawn inside its ranges; without any dither once is enough, and is done.
    pub draws: usize,
}

impl Settings {
    /// Least weight of a row.
    pub const LEAST_WEIGHT: f64 = 1e-3;
    /// Most weight of a row.
    pub const MOST_WEIGHT: f64 = 1e3;
    /// Most draws of a row.
    pub const MOST_DRAWS: usize = 64;
    /// Most draws of all rows together.
    pub const MOST_DRAWS_IN_ALL: usize = 1 << 20;

    /// These features taken as exact, every leaf with at least this many rows.
    pub fn exact(features: usize, max_depth: usize, min_leaf: usize) -> Self {
        Self { max_depth, min_leaf, seed: 0, dither: vec![0.0; features], draws: 1 }
    }

    /// Draws of each row that make a difference.
    pub(super) fn draws_used(&self) -> usize {
        if self.dither.iter().all(|half| *half == 0.0) { 1 } else { self.draws }
    }

    pub(super) fn check(&self, features: usize) -> Result<(), FitError> {
        let wrong = |setting, got: String, allowed: String| Err(FitError::Setting { setting, got, allowed });
        if !(1..=Tree::MOST_DEPTH).contains(&self.max_depth) {
            return wrong("max_depth", self.max_depth.to_string(), format!("1 to {}", Tree::MOST_DEPTH));
        }
        if self.min_leaf == 0 {
            return wrong("min_leaf", "0".to_owned(), "1 row or more".to_owned());
        }
        if !(1..=Self::MOST_DRAWS).contains(&self.draws) {
            return wrong("draws", self.draws.to_string(), format!("1 to {}", Self::MOST_DRAWS));
        }
        if self.dither.len() != features {
            let got = format!("{} numbers", self.dither.len());
            return wrong("dither", got, format!("one for each of the {features} features"));
        }
        match self.dither.iter().find(|half| !half.is_finite() || **half < 0.0) {
            Some(half) => wrong("dither", half.to_string(), "finite numbers from 0 up".to_owned()),
            None => Ok(()),
        }
    }
}
