use super::node::most;
use super::{Node, Side, Tree};
use thiserror::Error;

/// The way of one set of values through a tree.
///
/// A missing value goes both ways, each in proportion to the votes on that side (the fractional instances
/// of J. R. Quinlan, C4.5: Programs for Machine Learning, 1993; from memory, not seen).
#[derive(Debug, Clone, PartialEq)]
pub struct Walk {
    /// Share of each class; together 1.
    pub shares: Vec<f64>,
    /// Every question on the way, in order; after a [`Turn::Both`] first those below, then those above.
    pub steps: Vec<Step>,
}

/// One question on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Number of the feature.
    pub feature: usize,
    /// What was compared with it.
    pub threshold: f64,
    /// The part of the values that came here: 1 unless a value before was missing.
    pub part: f64,
    /// How it went on.
    pub turn: Turn,
}

/// How it went on from a question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Turn {
    /// To the side of the value.
    To {
        /// The value.
        value: f64,
        /// Its side.
        side: Side,
    },
    /// The value is missing: to both sides.
    Both {
        /// The part of what came here that went below.
        below: f64,
    },
}

/// Values that cannot be asked.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum WalkError {
    /// Not one for each feature.
    #[error("{got} values; allowed: one for each of the {allowed} features, missing ones marked as missing")]
    Width {
        /// How many.
        got: usize,
        /// Features of the tree.
        allowed: usize,
    },
    /// Not a number.
    #[error("`{feature}` is {got}; allowed: a finite number, or missing")]
    NotFinite {
        /// Name of the feature.
        feature: String,
        /// The value.
        got: f64,
    },
}

impl Tree {
    /// Takes the values, in the order of the features, from the first node to the leaves.
    pub fn walk(&self, values: &[Option<f64>]) -> Result<Walk, WalkError> {
        if values.len() != self.features().len() {
            return Err(WalkError::Width { got: values.len(), allowed: self.features().len() });
        }
        for (feature, value) in self.features().iter().zip(values) {
            if let Some(got) = value.filter(|v| !v.is_finite()) {
                return Err(WalkError::NotFinite { feature: feature.clone(), got });
            }
        }
        let mut walk = Walk { shares: vec![0.0; self.classes()], steps: Vec::new() };
        walk.go(self.root(), values, 1.0);
        Ok(walk)
    }
}

impl Tree {
    /// The votes of the leaf that values lead to, none of them missing: for whoever asks many times and needs no way.
    /// A value that is not a number is above every threshold.
    pub fn leaf(&self, values: &[f64]) -> &[f64] {
        let mut node = self.root();
        while let Node::Split { feature, threshold, below, above, .. } = node {
            let value = values.get(*feature).copied().unwrap_or(f64::INFINITY);
            node = if Side::of(value, *threshold) == Side::Below { below } else { above };
        }
        node.votes()
    }
}

impl Walk {
    /// The class with the largest share; a tie goes to the lower class.
    pub fn answer(&self) -> usize {
        most(&self.shares)
    }

    fn go(&mut self, node: &Node, values: &[Option<f64>], part: f64) {
        let Node::Split { feature, threshold, below, above, .. } = node else {
            let weight = node.weight();
            for (share, vote) in self.shares.iter_mut().zip(node.votes()) {
                *share += part * (vote / weight);
            }
            return;
        };
        let (feature, threshold) = (*feature, *threshold);
        let mut step = |turn| self.steps.push(Step { feature, threshold, part, turn });
        if let Some(value) = values[feature] {
            let side = Side::of(value, threshold);
            step(Turn::To { value, side });
            self.go(if side == Side::Below { below } else { above }, values, part);
        } else {
            let share = below.weight() / (below.weight() + above.weight());
            step(Turn::Both { below: share });
            self.go(below, values, part * share);
            self.go(above, values, part * (1.0 - share));
        }
    }
}
