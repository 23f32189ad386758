//! Is a range that should hold nine in ten true to its word, are drawn runs weighed as they should be, and how often is a
//! run without fault called a mismatch?
//!
//! Sheets are drawn as in `faults/`; truths are drawn from the run's own prior with a plain pseudo-random generator, and
//! coupons are seen by the program's own likelihood. So nothing is said here of real coupons: only whether the arithmetic
//! of ranges, weights and alarms does what it says. The small versions run always; the long ones keep their figures in
//! tables (`WRITE=1 cargo test --release calibration -- --ignored`), and the tables are judged by the same
//! bounds. All bounds were written before the first run.

mod alarms;
mod coupon;
mod coverage;
mod drawn_run;
mod question;
mod ranks;
mod shown;
mod wrong;

use crate::support::{keep, project, rows};
use alarms::{Alarms, WHATS, Way, alarms};
use coverage::{Coverage, READINGS, coverage};
use ranks::{MOST_CHI_SQUARE, NUMBERS, Ranks, Sheets, ranks};
use wrong::Wrong;

/// Share held by ranges of nine in ten and of a half over 2,000 truths: three standard errors of a binomial share either
/// way, 0.02 and 0.035. Ranges that end at the whole section or at no case at all hold more, so only the low end is asked
/// of them.
const LONG: (f64, f64) = (0.02, 0.035);
/// The same over 300 truths of 15 sheets, of which twenty share one range: 0.06 and 0.10.
const SMALL: (f64, f64) = (0.06, 0.10);
/// Fewest truths of which a share is a figure.
const FEWEST: usize = 100;
/// Most sound runs that the quick way may call a mismatch, which knows no exact share: as in `faults.rs`.
const QUICK_ALARMS: f64 = 0.15;

const COVERAGE: &str = "calibration_coverage.csv";
const RANKS: &str = "calibration_ranks.csv";
const ALARMS: &str = "calibration_alarms.csv";

/// To a ten-thousandth: what a table holds.
fn rounded(x: f64) -> f64 {
    (x * 1e4).round() / 1e4
}

fn judge_coverage(rows: &[Coverage], (of_nine, of_half): (f64, f64)) {
    let row = |wrong: Wrong, name: &str| {
        rows.iter().find(|row| row.truth == wrong.name() && row.reading == name).unwrap()
    };
    for row in rows {
        println!("{row:?}");
    }
    for (which, name) in READINGS {
        let right = row(Wrong::Nothing, name);
        for wrong in Wrong::ALL {
            let row = row(wrong, name);
            if wrong.leaves().contains(&which) {
                assert!(row.held_90 >= 0.9 - of_nine, "{row:?}");
                assert!(row.held_50 >= 0.5 - of_half, "{row:?}");
                assert!(row.apart_90 < FEWEST || (row.held_apart_90 - 0.9).abs() <= of_nine, "{row:?}");
                assert!(row.apart_50 < FEWEST || (row.held_apart_50 - 0.5).abs() <= of_half, "{row:?}");
            }
            if wrong.moves().contains(&which) {
                assert!(row.held_90 < right.held_90 && row.score_90 > right.score_90, "{row:?} {right:?}");
            }
        }
    }
}

#[test]
fn ranges_hold_what_they_say() {
    judge_coverage(&coverage(41_000..41_015, 512, 20), SMALL);
}

#[test]
#[ignore = "some minutes; writes a table"]
fn calibration_of_ranges() {
    let rows = coverage(40_000..40_200, 1024, 10);
    let about = "# Made by calibration.rs: `WRITE=1 cargo test --release calibration_of_ranges -- --ignored`; \
                 seeds 40000 to 40199, 10 truths each, 1,024 draws.\n";
    keep(COVERAGE, about, &rows);
    judge_coverage(&rows, LONG);
}

#[test]
fn the_table_of_ranges_keeps_its_bounds() {
    judge_coverage(&rows(COVERAGE), LONG);
}

/// What a witness does to the heat is believed and not weighed, so nothing is asked of ranks beside one.
fn judge_ranks(rows: &[Ranks]) {
    for row in rows {
        println!("{row:?}");
    }
    for row in rows.iter().filter(|row| row.sheets == Sheets::Plain.name()) {
        assert!(row.chi_square <= MOST_CHI_SQUARE, "{row:?}");
    }
}

#[test]
fn truths_rank_evenly_among_weighed_runs() {
    judge_ranks(&ranks(Sheets::Plain, 51_000..51_030, 512, 8));
}

#[test]
#[ignore = "some minutes; writes a table"]
fn calibration_of_weights() {
    let rows =
        [ranks(Sheets::Plain, 45_000..45_500, 1024, 4), ranks(Sheets::WithBrass, 46_000..46_150, 1024, 4)]
            .concat();
    let about = "# Made by calibration.rs: `WRITE=1 cargo test --release calibration_of_weights -- --ignored`; \
                 seeds 45000 to 45499, with brass 46000 to 46149, 4 truths each, 1,024 draws.\n";
    keep(RANKS, about, &rows);
    judge_ranks(&rows);
}

#[test]
fn the_table_of_weights_keeps_its_bounds() {
    let rows = rows(RANKS);
    assert_eq!(rows.len(), 2 * NUMBERS.len());
    judge_ranks(&rows);
}

/// No more than stated and three standard errors of a binomial share; the quick way has a bound of its own for all
/// together, and none for each.
fn judge_alarms(rows: &[Alarms]) {
    for row in rows {
        println!("{row:?}");
    }
    for row in rows {
        let share = row.share();
        let most = |stated: f64| stated + 3.0 * (stated * (1.0 - stated) / row.seen as f64).sqrt();
        match (row.way.as_str(), row.what.as_str()) {
            ("quick", "all together") => assert!(share <= most(QUICK_ALARMS), "{row:?}"),
            ("quick", _) => {}
            _ => assert!(share <= most(row.stated), "{row:?}"),
        }
    }
}

#[test]
fn sound_runs_raise_no_more_alarms_than_stated() {
    judge_alarms(&alarms(55_000..55_100, Way::Quick, true));
    judge_alarms(&alarms(55_000..55_040, Way::Drawn(256), true));
}

#[test]
#[ignore = "some minutes; writes a table"]
fn calibration_of_alarms() {
    let ways = [Way::Quick, Way::Drawn(1024)];
    let rows: Vec<Alarms> = ways
        .into_iter()
        .flat_map(|way| [true, false].map(|slips| alarms(50_000..50_500, way, slips)))
        .flatten()
        .collect();
    let about = "# Made by calibration.rs: `WRITE=1 cargo test --release calibration_of_alarms -- --ignored`; \
                 seeds 50000 to 50499, seen by the program's own likelihood.\n";
    keep(ALARMS, about, &rows);
    judge_alarms(&rows);
}

#[test]
fn the_table_of_alarms_keeps_its_bounds() {
    let rows = rows(ALARMS);
    assert_eq!(rows.len(), 4 * WHATS.len());
    judge_alarms(&rows);
}

/// DEVELOPERS.md prints the figures of the tables.
#[test]
fn the_document_prints_the_tables() {
    let document = std::fs::read_to_string(project("DEVELOPERS.md")).unwrap();
    let tables = [shown::coverage(&rows(COVERAGE)), shown::ranks(&rows(RANKS)), shown::alarms(&rows(ALARMS))];
    println!("{}", tables.join("\n"));
    for table in tables {
        assert!(document.contains(&table), "DEVELOPERS.md should print\n{table}");
    }
}
