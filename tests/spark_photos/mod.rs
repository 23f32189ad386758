//! Drawn spark pictures, and the score of what a measurer finds in them.

mod drag;
mod dump;
mod maker;
mod score;
