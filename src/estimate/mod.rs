//! What the coupon shows, from observations alone.
//!
//! Nothing here knows the soak, the pack or the aim: the prediction is held against this later, and
//! must not agree with itself.

mod spark;

pub use spark::{NotSteel, Reason, SparkAnswer, SparkDoubt, SparkEstimate, read_sparks};
