//! Every format on disk. The only part that reads files or knows how a value is written.

pub mod log_csv;
pub mod problem;
pub mod run_sheet;
mod words;
