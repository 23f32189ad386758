//! Photos of broken faces: pictures drawn with known truth.

mod dump;
mod maker;
