//! How good a rig's known steels make its answers: days and steels left out of the fit, and read by what is left.

mod advise;
mod folds;
mod left_out;
mod rig_audit;

pub use advise::{Advice, Pick, advise};
pub use folds::{Folds, LeftOut};
pub use left_out::{Answered, Bench, JudgeError, Judged, judge, scores, train};
pub use rig_audit::{Left, Marks, Odd, RigAudit, StatedSets, audit};
