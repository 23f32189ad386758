use super::{relative, rims, sight};
use crate::net::UNet;
use crate::stats::Additive;
use crate::tree::Tree;

/// What was learned from drawn faces: where a face ends, what case looks like beside core, how far round a rim runs.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceModel {
    /// What each place of a picture is: beside the face, core, case, or neither.
    pub net: UNet,
    /// Odds that a cell is case and not core, from [`FaceModel::patch_columns`].
    pub patches: Additive,
    /// The same by a small tree: class 0 is core, class 1 is case.
    pub patch_tree: Tree,
    /// Odds that a face has a border between case and core, from [`FaceModel::rim_columns`].
    pub border: Additive,
    /// Odds that a face with a border has case all round, from the same.
    pub all_round: Additive,
    /// Odds that a face without one is case all through and not core, from the same.
    pub through: Additive,
    /// Odds that a side has a case with a border, from [`FaceModel::side_columns`].
    pub side: Additive,
}

/// Votes that each answer has before any row: a leaf without a row against it is not certain (judgement).
const BEFORE: f64 = 2.0;

impl FaceModel {
    /// How many planes the network is shown, and how much it says of each place.
    pub fn net_shape() -> [usize; 2] {
        [sight::SHOWN, sight::SAID]
    }

    /// Names of the numbers of a cell that is case or core.
    pub fn patch_columns() -> Vec<String> {
        relative::columns()
    }

    /// Names of the numbers of a whole face.
    pub fn rim_columns() -> Vec<String> {
        rims::columns()
    }

    /// Names of the numbers of one side of a face.
    pub fn side_columns() -> Vec<String> {
        rims::side_columns()
    }

    /// Chances of none, partial, all round and through.
    pub(super) fn chances(&self, values: &[f64]) -> [f64; 4] {
        let [border, round, through] =
            [&self.border, &self.all_round, &self.through].map(|of| chance(of, values));
        [(1.0 - border) * (1.0 - through), border * (1.0 - round), border * round, (1.0 - border) * through]
    }

    /// Chance that a side has a case with a border.
    pub(super) fn side_chance(&self, values: &[f64]) -> f64 {
        chance(&self.side, values)
    }

    /// Natural logarithm of the odds of case: half by bent lines, which add up small hints, half by the tree, which sees
    /// what counts only together.
    pub(super) fn favours_case(&self, values: &[f64], most: f64) -> f64 {
        let votes = self.patch_tree.leaf(values);
        let tree = libm::log((votes[1] + BEFORE) / (votes[0] + BEFORE));
        f64::midpoint(self.patches.log_odds(values).clamp(-most, most), tree.clamp(-most, most))
    }
}

fn chance(of: &Additive, values: &[f64]) -> f64 {
    1.0 / (1.0 + libm::exp(-of.log_odds(values)))
}
