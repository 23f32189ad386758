//! Any lines as answers to any questions of `start`: a draft that reads back, or a problem, never a crash.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::Models;
use snapspark::files::run_sheet::{Draft, Given, Item};
use std::sync::LazyLock;

static MODELS: LazyLock<Models> = LazyLock::new(|| Models::shipped().expect("the shipped models load"));

/// The fields that one answer may go into.
const QUESTIONS: [&[Item]; 22] = [
    &[Item::Temperature, Item::Metal, Item::Colour],
    &[Item::Grade],
    &[Item::Thickness],
    &[Item::What],
    &[Item::EdgeThickness],
    &[Item::MetalOff],
    &[Item::Container],
    &[Item::Inside],
    &[Item::Compound],
    &[Item::TimeAtHeat],
    &[Item::Thermometer],
    &[Item::Sat],
    &[Item::Cooled],
    &[Item::SparkState],
    &[Item::StockState],
    &[Item::Compared],
    &[Item::OverTime],
    &[Item::QuenchedIn],
    &[Item::Rim],
    &[Item::RimDepth],
    &[Item::Skin],
    &[Item::FileResult],
];

fuzz_target!(|lines: &str| {
    let mut draft = Draft::default();
    for line in lines.lines().take(QUESTIONS.len()) {
        let Some(first) = line.chars().next() else { continue };
        let items = QUESTIONS[first as usize % QUESTIONS.len()];
        let answer = &line[first.len_utf8()..];
        match draft.with_answer(items, answer, &MODELS) {
            Ok(answered) => draft = answered,
            Err(problem) => {
                assert!(!problem.message.is_empty());
                draft.keep(items[0], Given::LeftOut);
            }
        }
        assert_eq!(Draft::of_text(&draft.text()).as_ref(), Some(&draft));
        assert!(draft.read_so_far("run.toml", &MODELS).is_ok());
    }
});
