//! Photos of broken faces: drawn with known truth and measured, and the answers made of them.

mod answers;
mod dump;
mod grained;
mod maker;
mod pictures;
mod rows;
mod scored;
mod told;
