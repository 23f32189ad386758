//! Photos of sparks, from what was measured on each to an answer.

mod coverage;
mod pooling;
