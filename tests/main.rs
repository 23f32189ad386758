//! All tests that look at the program from outside, in one binary.

/// Run sheets and temperature logs: what is read, and what a bad one is told.
mod run_sheet;
