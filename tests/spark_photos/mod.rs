//! Photos of sparks: pictures drawn with known truth, the score of what is found in them, and the way from what was
//! measured to an answer.

mod answers;
mod coverage;
mod drag;
mod dump;
mod maker;
mod measured;
mod pooling;
mod rows;
mod score;
mod smiths;
