//! Any text as a run sheet, its log included: a sheet or problems, never a crash.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::problem::ProblemList;
use snapspark::files::run_sheet::RunSheet;
use std::io;

#[path = "../../tests/run_sheet/names_double.rs"]
mod names_double;

fuzz_target!(|text: &str| {
    let log = |_: &str| Ok::<_, io::Error>(b"time_min,temp_C\n0,20\n20,925\n".to_vec());
    match RunSheet::read(text, "run.toml", &log, &names_double::NamesDouble::new()) {
        Ok(sheet) => assert!(sheet.typed.iter().count() > 0),
        Err(problems) => assert!(!ProblemList(&problems).to_string().is_empty()),
    }
});
