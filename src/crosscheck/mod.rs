//! Where the soak and the coupon meet: does what was seen fit what should have been, what explains it,
//! did it take for its use, and what now.
//!
//! Each cause of `models/causes.toml` changes the inputs of the prediction. Every such story, and every
//! doubt of the best one at both its ends, says what should be seen; how well that fits what was seen
//! weighs it. Weights and chances are judgements: the shares rank causes, they are no measured
//! probabilities.

mod advice;
mod agreement;
mod alone;
mod bath;
mod cause;
mod cross_check;
mod demand;
mod drawn;
mod earlier;
mod earlier_runs;
mod expected;
mod eyes;
mod finish;
mod hardening;
mod hypothesis;
mod inference;
mod judge;
mod learned;
mod look;
mod need;
mod next_check;
mod normal;
mod observation;
mod power;
mod quenching;
mod seen;
mod sign;
mod sound;
mod telling;
mod took;
mod weighed;
mod weighed_run;

pub use advice::{Advice, Step};
pub use agreement::{Agreement, Fits, Side};
pub use alone::Alone;
pub use bath::Bath;
pub use cause::{Cause, Causes, Mistaken, Move};
pub use cross_check::{Blamed, CrossCheck, Question, cross_check};
pub use earlier::{Lesson, history, same_furnace, shared};
pub use earlier_runs::{EarlierRuns, LeftOut};
pub use expected::Expected;
pub use eyes::Eyes;
pub use finish::{AfterAir, CRACKS_MM, FinishedEdge, tempered};
pub use hardening::{Hard, Hardening};
pub use inference::Inference;
pub use learned::{Condition, Learned, Worth};
pub use look::Look;
pub use need::Need;
pub use next_check::{Check, Foreseen, NextCheck};
pub use normal::{Doubtful, Mixture};
pub use observation::Observation;
pub use power::{Found, Power};
pub use quenching::quenchant;
pub use seen::Seen;
pub use sign::{BySign, Chances, Sign, Signs};
pub use took::{Answer, DepthLeft, Part, Took};
pub use weighed_run::{WeighedRun, weighed_runs};
