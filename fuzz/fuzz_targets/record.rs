//! Any text as a record of known steel, a description, or kept figures: read, or problems, never a crash. A record that
//! was read is written and read back the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::known_set::{FaceFile, Kept, ToldFile, read_measured, read_record, record_text};
use snapspark::files::{Models, ProblemList};
use std::sync::LazyLock;

static MODELS: LazyLock<Models> = LazyLock::new(|| Models::shipped().expect("the shipped models load"));

fuzz_target!(|text: &str| {
    match read_record(text, "a.toml", &MODELS) {
        Ok(steel) => {
            if let Some(again) = record_text(&steel, None) {
                assert_eq!(read_record(&again, "a.toml", &MODELS), Ok(steel));
            }
        }
        Err(problems) => assert!(!ProblemList(&problems).to_string().is_empty()),
    }
    if let Err(problems) = Kept::read(text, "a.toml", &MODELS) {
        assert!(!ProblemList(&problems).to_string().is_empty());
    }
    let _ = FaceFile::read(text, "coupon.toml", &MODELS);
    let _ = ToldFile::read(text, "seen.toml", &MODELS);
    let _ = read_measured(text);
});
