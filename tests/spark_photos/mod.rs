//! Photos of sparks, from what was measured on each to an answer.

mod answers;
mod coverage;
mod pooling;
