//! Published and computed numbers, and what this crate makes of them.

mod tables;
