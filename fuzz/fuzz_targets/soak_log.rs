//! Any bytes as a temperature log: a log whose times rise, or problems, never a crash.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::log_csv::{self, LogUnits};
use snapspark::files::problem::ProblemList;

fuzz_target!(|bytes: &[u8]| {
    match log_csv::read(bytes, "soak.csv", LogUnits::default()) {
        Ok((log, _)) => assert!(log.points().is_sorted_by(|a, b| a.time < b.time)),
        Err(problems) => assert!(!ProblemList(&problems).to_string().is_empty()),
    }
});
