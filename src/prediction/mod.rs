//! What the logged soak should have given, as profiles and depths with intervals.

mod criteria;

pub use criteria::Criteria;
