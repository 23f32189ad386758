//! Answers as ready strings: everything is rounded and worded here, and nowhere else.

mod chart;
mod check;
mod note;
mod number;
mod overlay;
mod page;
mod soak;
mod text;

pub use chart::Chart;
pub use check::{CauseLine, CauseList, CheckReport, Compared, Headline, check};
pub use overlay::{Drawing, LONGEST_SIDE, overlay};
pub use page::{Comparison, Page, Span, Tone};
pub use soak::{Line, Section, SoakReport, soak};
pub use text::{check_page, soak_page};
