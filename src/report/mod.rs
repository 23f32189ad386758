//! Answers as ready strings: everything is rounded and worded here, and nowhere else.

mod chart;
mod note;
mod number;
mod soak;
mod text;

pub use chart::Chart;
pub use soak::{Line, Section, SoakReport, soak};
pub use text::text;
