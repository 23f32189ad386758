//! What the logged soak should have given, as profiles and depths with intervals.

mod aim;
mod choice;
mod criteria;

pub use aim::{Aim, DepthCriterion, Use};
pub use choice::{ModelChoice, PotentialChoice, SurfaceChoice};
pub use criteria::Criteria;
