use super::coupon::write_learned;
use crate::estimate::{Rig, TrainedRig};
use crate::known::{RigPieces, SparkMeasure, UnusedRecord, VisibleEdge};
use crate::report::Page;

/// A rig that was fitted, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct TrainedReport {
    /// Its name.
    pub rig: String,
    /// Whether anything came of it.
    pub kept: bool,
    /// Sentences.
    pub words: Vec<String>,
}

/// Words how a rig was fitted; `to` is the file that it was kept in.
pub fn trained(rig: &TrainedRig, known: &RigPieces, to: Option<&str>) -> TrainedReport {
    let mut words = Vec::new();
    for (by, fitted) in [("By photos", &rig.photos), ("By what was told", &rig.words)] {
        words.extend(fitted.as_ref().map(|fitted| fit(by, fitted)));
    }
    match to {
        Some(to) => words.push(format!("Kept in {to}; `spark --rig` and `check --rig` read by it.")),
        None => words
            .push("No steel of known carbon yet: nothing was fitted, and what was kept before stays.".into()),
    }
    words.extend(unused(known));
    TrainedReport { rig: rig.name.clone(), kept: to.is_some(), words }
}

fn fit(by: &str, rig: &Rig) -> String {
    let scores = &rig.scores;
    let measures: Vec<&str> = rig.personal.measures().iter().map(|m| measure(*m)).collect();
    let stated = if scores.votes_stated().is_some() {
        "enough to state a set of bands that holds nine in ten: measured, no guarantee"
    } else {
        "too few to state a set of bands with confidence: nine are the least"
    };
    format!(
        "{by}, from {}. {} left out with their session: {} came out in their band; {stated}.",
        measures.join(", "),
        steel_sessions(scores.judged()),
        scores.right,
    )
}

/// "12 steel-sessions".
pub(super) fn steel_sessions(number: usize) -> String {
    if number == 1 { "1 steel-session".into() } else { format!("{number} steel-sessions") }
}

fn unused(known: &RigPieces) -> Option<String> {
    let why = |why: UnusedRecord| match why {
        UnusedRecord::Hardened => "sparked hardened, which throws more than its carbon says",
        UnusedRecord::NoPhoto => "no photo of it can be used",
        UnusedRecord::NothingTold => "nothing that tells carbon",
    };
    let each: Vec<String> = known.unused.iter().map(|(name, w)| format!("{name} ({})", why(*w))).collect();
    (!each.is_empty()).then(|| format!("Left out: {}.", each.join("; ")))
}

/// A measure in words.
pub(super) fn measure(measure: SparkMeasure) -> &'static str {
    match measure {
        SparkMeasure::Share => "share that bursts",
        SparkMeasure::Rays => "rays",
        SparkMeasure::Tiers => "tiers",
        SparkMeasure::Onset => "onset",
        SparkMeasure::Bursts => "bursts",
        SparkMeasure::Carriers => "carriers",
        SparkMeasure::Length => "length",
        SparkMeasure::Fine => "fine sparking",
    }
}

/// Lays out what was fitted, and what coupons say of the visible edge, `kept` in that file.
pub fn trained_page(rigs: &[TrainedReport], edge: &VisibleEdge, kept: Option<&str>) -> Page {
    let mut page = Page::default();
    if rigs.is_empty() {
        page.paragraph("", "  ", "No known steels yet: `snapspark known add` keeps them.");
    }
    for (i, report) in rigs.iter().enumerate() {
        if i > 0 {
            page.blank();
        }
        let used = if report.kept { "fitted" } else { "not fitted" };
        page.paragraph("", "  ", &format!("Rig {}: {used}", report.rig));
        for words in &report.words {
            page.paragraph("  ", "  ", words);
        }
    }
    write_learned(&mut page, edge, kept);
    page
}
