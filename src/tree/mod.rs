//! Decision trees over named numbers: fitted once, kept as data, walked with reasons. Knows no steel.
//!
//! # Who does what
//!
//! linfa-trees finds every split. Used as it is, it misses splits where values repeat, lets chance decide
//! equal scores when there are three classes or more, cannot tell values that differ by less than 1e-5,
//! can abort on NaN, merges leaves that lean the same way and keeps no votes. Here it cannot:
//!
//! - **One node, one question.** [`fit`] grows the tree itself and gives the engine the rows of one node,
//!   for one cut. No row of another node stands between two neighbours, so every cut is tried, and equal
//!   values are safely equal. The cut is read even where the engine merged the two sides afterwards.
//! - **Whole numbers.** Each value is replaced by the number of allowed thresholds at or below it, each
//!   weight by whole units of which all together are fewer than 2^24. Sums are then exact in the engine's
//!   `f32`, in any order, and no scale is too small. Thresholds are midpoints between distinct values of
//!   the node's rows that leave at least `min_leaf` rows on each side; there are no others to choose.
//! - **Two classes.** The engine is asked only questions with two answers: lower classes or higher ones,
//!   one class in the middle or another. Then its hash maps have nothing to decide, and equal scores go to
//!   the first feature and the lowest cut: no row needs a weight of its own to tell scores apart. Of the
//!   cuts it finds, the best by the Gini impurity over all classes is taken. With two classes that is the
//!   best there is; with three to six, an exact search finds a better one in less than 1 node of 100.
//! - **Rows in an order of their own**, numbers checked before anything is fitted, votes counted from the
//!   rows by the one comparison of [`Side::of`]; ties of votes go to the lower class.
//!
//! A value often stands for a range: a word for all that it may mean, a reading for its error. With
//! [`Settings::dither`] each row is drawn several times inside its ranges, so that a cut counts which draws
//! fall on either side of it; rows go down the tree undrawn. [`Steadiness`] fits again with other seeds and
//! says how many answers that changes. Where ranges do not meet, the draws change nothing.
//!
//! # How good it is
//!
//! Against scikit-learn 1.9.1 on the same rows and folds (5 folds, 10 times), right answers in %; *alone*
//! is linfa-trees 0.8.1 as it is, once; *ord5* is each feature cut to five levels. `tests/reference/tree.rs`
//! holds ours within 1.5 points, and keeps further figures with draws as a snapshot; `tree_peers.rs` beside it
//! compares the votes too, with small leaves held back.
//!
//! | data, depth | scikit-learn | ours | alone |
//! | --- | --- | --- | --- |
//! | iris 3 / 5 | 94.5 / 94.5 | 94.3 / 93.5 | 93.5 / 93.1 |
//! | iris ord5 3 / 5 | 89.9 / 90.7 | 89.5 / 90.4 | 85.6 / 87.4 |
//! | wine 3 / 5 | 90.9 / 91.6 | 90.5 / 91.7 | 90.8 / 91.0 |
//! | wine ord5 3 / 5 | 90.8 / 90.7 | 91.0 / 91.3 | 86.4 / 87.0 |
//! | cancer 3 / 5 | 92.6 / 93.3 | 92.4 / 93.0 | 92.7 / 93.0 |
//! | cancer ord5 3 / 5 | 92.5 / 93.9 | 92.5 / 93.8 | 90.1 / 90.2 |
//!
//! # What it does not do
//!
//! A split that gains nothing by itself is not taken, so two features that tell only together (exclusive
//! or) are not found. Training rows have no missing values; questions may. Nothing is pruned: `max_depth`
//! and `min_leaf` hold a tree back.

mod coded;
mod draws;
mod engine;
#[cfg(test)]
mod exact;
mod fit;
mod fitted;
mod node;
mod settings;
mod side;
mod steadiness;
mod training;
mod walk;

pub use fit::fit;
pub use fitted::{Tree, TreeError};
pub use node::Node;
pub use settings::Settings;
pub use side::Side;
pub use steadiness::{Steadiness, SteadinessError};
pub use training::{FitError, Row, Training};
pub use walk::{Step, Turn, Walk, WalkError};

#[cfg(test)]
mod tests;
