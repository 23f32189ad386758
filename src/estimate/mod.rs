//! What the coupon shows, from observations alone.
//!
//! Nothing here knows the soak, the pack or the aim: the prediction is held against this later, and
//! must not agree with itself.

mod at_rig;
mod case;
mod fracture;
mod not_steel;
mod spark;
mod spark_doubt;
mod spark_reader;
mod stated;

pub use at_rig::{Rig, TrainedRig, read_sparks_at};
pub use case::{CaseAnswer, CaseClass, CaseDoubt, CaseEstimate, CaseReason, DepthBand};
pub use fracture::read_fracture;
pub use not_steel::{NotSteel, not_plain_carbon};
pub use spark::{Reason, SparkAnswer, SparkEstimate, read_sparks};
pub use spark_doubt::SparkDoubt;
pub use spark_reader::SparkReader;
pub use stated::{KnownBehind, Stated};
