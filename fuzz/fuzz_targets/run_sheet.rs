//! Any text as a run sheet, its log included: a sheet or problems, never a crash.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::{Models, ProblemList, RunSheet};
use std::io;
use std::sync::LazyLock;

static MODELS: LazyLock<Models> = LazyLock::new(|| Models::shipped().expect("the shipped models load"));

fuzz_target!(|text: &str| {
    let log = |_: &str| Ok::<_, io::Error>(b"time_min,temp_C\n0,20\n20,925\n".to_vec());
    match RunSheet::read(text, "run.toml", &log, &MODELS) {
        Ok(sheet) => assert!(sheet.typed.iter().count() > 0),
        Err(problems) => assert!(!ProblemList(&problems).to_string().is_empty()),
    }
});
