//! Any bytes as a table of labels: rows that stay inside the folder, or problems, never a crash. The first byte says
//! whether a good header comes before the rest.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::known_set::{LabelDefaults, Labels};
use snapspark::files::{Models, ProblemList};
use std::sync::LazyLock;

static MODELS: LazyLock<Models> = LazyLock::new(|| Models::shipped().expect("the shipped models load"));
const HEADS: [&[u8]; 3] =
    [b"", b"photo,steel\n", b"photo;steel;carbon;state;rig;session;touch;notes;reference\n"];

fuzz_target!(|bytes: &[u8]| {
    let Some((which, rest)) = bytes.split_first() else { return };
    let bytes = [HEADS[usize::from(*which) % HEADS.len()], rest].concat();
    let defaults = LabelDefaults { rig: Some("bench".into()), ..LabelDefaults::default() };
    match Labels::read(&bytes, "labels.csv", &defaults, &MODELS) {
        Ok(labels) => {
            for row in labels.rows {
                assert!(!row.photo.starts_with('/') && row.photo.split('/').all(|part| part != ".."));
            }
        }
        Err(problems) => assert!(!ProblemList(&problems).to_string().is_empty()),
    }
});
