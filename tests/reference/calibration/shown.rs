//! The tables as DEVELOPERS.md prints them.

use super::alarms::{Alarms, WHATS};
use super::coverage::{Coverage, READINGS};
use super::ranks::Ranks;
use super::wrong::Wrong;

fn line(cells: impl IntoIterator<Item = String>) -> String {
    format!("| {} |\n", cells.into_iter().collect::<Vec<_>>().join(" | "))
}

fn percent(share: f64) -> String {
    format!("{:.1}", 100.0 * share)
}

/// One line for each kind of truth: share held by ranges of nine in ten and of a half, percent, and the score of the
/// first; then the mean width of those.
pub(super) fn coverage(rows: &[Coverage]) -> String {
    let of = |wrong: Wrong, cell: &dyn Fn(&Coverage) -> String| {
        let cells = READINGS.map(|(_, name)| {
            rows.iter().find(|r| r.truth == wrong.name() && r.reading == name).map_or(String::new(), cell)
        });
        cells.to_vec()
    };
    let held = |r: &Coverage| format!("{}, {}; {:.2}", percent(r.held_90), percent(r.held_50), r.score_90);
    let width = |r: &Coverage| format!("{:.2}", r.width_90);
    let mut text: String = Wrong::ALL
        .map(|wrong| line(std::iter::once(wrong.name().to_string()).chain(of(wrong, &held))))
        .concat();
    text += &line(std::iter::once("mean width".to_string()).chain(of(Wrong::Nothing, &width)));
    text
}

/// One line for each number, and what the weighed runs are worth.
pub(super) fn ranks(rows: &[Ranks]) -> String {
    let row = |r: &Ranks| {
        line([
            format!("{}, {}", r.number, r.sheets),
            format!("{:.1}", r.chi_square),
            format!("{:.3}", r.mean),
            percent(r.low),
            percent(r.high),
            percent(r.worth_05),
            percent(r.worth_50),
        ])
    };
    rows.iter().map(row).collect()
}

/// One line for each thing that may lie outside: percent that do, quick and drawn, with slips and without, and what
/// is stated by either way.
pub(super) fn alarms(rows: &[Alarms]) -> String {
    let row = |what: &str| {
        let cells = rows.iter().filter(|r| r.what == what).map(|r| percent(r.share()));
        let of = |quick: bool| rows.iter().find(|r| r.what == what && (r.way == "quick") == quick);
        let stated = [true, false].map(|quick| percent(of(quick).map_or(0.0, |r| r.stated)));
        line([what.to_string()].into_iter().chain(cells).chain(stated))
    };
    WHATS.iter().map(|what| row(what)).collect()
}
