//! One binary for all tests that look at the crate from outside.
//!
//! - `reference`: numbers of the outside world, each with its source
mod reference;
mod support;
