//! What the coupon shows, from observations alone.
//!
//! Nothing here knows the soak, the pack or the aim: the prediction is held against this later, and
//! must not agree with itself.

mod case;
mod fracture;
mod spark;

pub use case::{CaseAnswer, CaseClass, CaseDoubt, CaseEstimate, CaseReason, DepthBand};
pub use fracture::read_fracture;
pub use spark::{NotSteel, Reason, SparkAnswer, SparkDoubt, SparkEstimate, read_sparks};
