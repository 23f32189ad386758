use crate::support::models;
use proptest::prelude::*;
use snapspark::files::log_csv::{self, LogUnits};
use snapspark::files::problem::ProblemList;
use snapspark::files::run_sheet::RunSheet;
use std::io;

const FULL: &str = include_str!("full.toml");
const LOG: &str = "time_min;temp_C;stage\n0;20,5;soak\n# made up\n20;925;\n95;925;cool\n1:50;25;air\n";
const BITS: [&str; 22] = [
    "\"",
    "[",
    "]",
    "{",
    "}",
    "=",
    "\n",
    ",",
    ";",
    "#",
    "\\",
    "\u{0}",
    "é",
    "°",
    "9999",
    "-",
    "nan",
    ":",
    "%",
    "unknown",
    "\"\"\"",
    "[[soak.witness]]\n",
];

/// `text` with some stretches cut out and some bits put in.
fn mutate(text: &str, changes: &[(usize, usize, usize)]) -> String {
    let mut chars: Vec<char> = text.chars().collect();
    for &(at, cut, bit) in changes {
        let at = at % (chars.len() + 1);
        let end = (at + cut).min(chars.len());
        chars.splice(at..end, BITS[bit % BITS.len()].chars());
    }
    chars.into_iter().collect()
}

fn changes() -> impl Strategy<Value = Vec<(usize, usize, usize)>> {
    proptest::collection::vec((0..10_000_usize, 0..6_usize, 0..100_usize), 1..8)
}

fn read_sheet(text: &str) {
    let folder = |_: &str| Ok::<_, io::Error>(LOG.as_bytes().to_vec());
    match RunSheet::read(text, "run.toml", &folder, models()) {
        Ok(sheet) => assert!(sheet.warnings.iter().all(|w| !w.message.is_empty())),
        Err(problems) => {
            assert!(!problems.is_empty());
            assert!(ProblemList(&problems).to_string().lines().count() > 1);
            let lines: Vec<_> =
                problems.iter().filter(|p| p.file == "run.toml").filter_map(|p| p.line).collect();
            assert!(lines.is_sorted(), "{lines:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, ..ProptestConfig::default() })]

    #[test]
    fn mutated_sheets_never_panic(changes in changes()) {
        read_sheet(&mutate(FULL, &changes));
    }

    #[test]
    fn any_text_is_no_panic(text in "\\PC{0,80}") {
        read_sheet(&text);
        read_sheet(&format!("run-sheet = 1\n[soak]\nlog = \"a\"\n{text}"));
    }

    #[test]
    fn mutated_logs_never_panic(changes in changes()) {
        let _ = log_csv::read(mutate(LOG, &changes).as_bytes(), "soak.csv", LogUnits::default());
    }

    #[test]
    fn any_bytes_are_no_panic(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        let _ = log_csv::read(&bytes, "soak.csv", LogUnits::default());
        let after_header = [b"time_min,temp_C\n", &bytes[..]].concat();
        let _ = log_csv::read(&after_header, "soak.csv", LogUnits::default());
    }

    /// What is read rises in time and stays inside the possible, whatever the bytes.
    #[test]
    fn a_log_that_is_read_is_sound(rows in proptest::collection::vec((0.0..50.0_f64, -100.0..1500.0_f64), 2..20)) {
        let rows: Vec<_> = rows.iter().map(|(t, c)| format!("{t:.2},{c:.1}\n")).collect();
        let rows = rows.concat();
        if let Ok((log, _)) = log_csv::read(format!("time_min,temp_C\n{rows}").as_bytes(), "soak.csv", LogUnits::default()) {
            prop_assert!(log.points().is_sorted_by(|a, b| a.time < b.time));
            prop_assert!(log.points().iter().all(|p| (-50.0..=1400.0).contains(&p.temperature.celsius())));
        }
    }
}

/// Deep nesting and long lines end in a message, not in a crash or a long wait.
#[test]
fn nasty_sheets_are_quick() {
    let start = std::time::Instant::now();
    for text in [
        "[".repeat(200_000),
        format!("a = {}", "[".repeat(200_000)),
        format!("a = {}", "{b=".repeat(100_000)),
        format!("run-sheet = 1\n{} = 1\n", "k".repeat(900_000)),
        format!(
            "run-sheet = 1\n[stock]\n{}",
            (0..90_000).map(|i| format!("k{i}=1\n")).collect::<Vec<_>>().concat()
        ),
        format!("run-sheet = 1\n[stock]\ngrade = \"{}\"\n", "é".repeat(400_000)),
        format!("run-sheet = 1\n[soak]\nsteps = [{}]\n", "\"x\",".repeat(200_000)),
        format!("run-sheet = 1\n{}", "a.".repeat(400_000)),
    ] {
        read_sheet(&text);
    }
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
}
