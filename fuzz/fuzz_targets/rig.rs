//! Any text as the file of a trained rig or of the visible edge: read and written the same, or refused, never a crash.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::Models;
use snapspark::files::known_set::{PublishedTrend, read_edge, read_rig, write_rig};
use std::sync::LazyLock;

static PUBLISHED: LazyLock<PublishedTrend> = LazyLock::new(|| {
    let models = Models::shipped().expect("the shipped models load");
    PublishedTrend::shipped(&models).expect("the training data loads")
});

fuzz_target!(|text: &str| {
    let read = |text: &str| read_rig(text, &PUBLISHED.trend, &PUBLISHED.exposures);
    match read(text) {
        Ok(rig) => {
            let again = write_rig(&rig).expect("what was read can be written");
            assert_eq!(read(&again).ok(), Some(rig));
        }
        Err(problem) => assert!(!problem.to_string().is_empty()),
    }
    if let Err(why) = read_edge(text) {
        assert!(!why.is_empty());
    }
});
