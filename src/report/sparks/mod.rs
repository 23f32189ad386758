//! What spark photos show, in words.

pub(super) mod figures;
mod note;

use super::check::{GRINDER, read_sparks};
use super::page::{Page, Tone};
use super::unused::{self, UnusedLine};
use crate::estimate::SparkAnswer;
use crate::report::number::of_100;
use crate::spark::LookedAt;

/// The answer of `snapspark spark`, ready to be laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct SparkReport {
    /// The answer.
    pub answer: String,
    /// Its tone.
    pub tone: Tone,
    /// What it means.
    pub words: String,
    /// Figures: what, coupon, stock, coupon over stock.
    pub figures: Vec<[String; 4]>,
    /// Touch by touch, if there are several.
    pub touches: Vec<[String; 4]>,
    /// Photo by photo.
    pub photos: Vec<[String; 4]>,
    /// Photos that were not used.
    pub unused: Vec<UnusedLine>,
    /// How carbon was read from it.
    pub read: Vec<String>,
    /// What to know.
    pub notes: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// Words what photos show and what that says.
pub fn sparks(photos: &LookedAt, answer: &SparkAnswer) -> SparkReport {
    let seen = photos.sparks.as_ref();
    let (headline, tone, words) = headline(photos, answer);
    let remarks = photos.remarks.iter().map(|(photo, remark)| format!("{photo}: {remark}."));
    SparkReport {
        answer: headline,
        tone,
        words,
        figures: seen.map(figures::table).unwrap_or_default(),
        touches: seen.map(figures::touches).unwrap_or_default(),
        photos: seen.map(figures::photos).unwrap_or_default(),
        unused: unused::unused(&photos.unused),
        read: seen.map(|_| read_sparks::words(answer)).into_iter().collect(),
        notes: seen.iter().flat_map(|s| &s.notes).map(note::note).chain(remarks).collect(),
        cautions: vec![GRINDER.into(), CAMERA.into(), AID.into()],
    }
}

const CAMERA: &str = "Phone on a stand out of the stream, timer or a helper: both hands on the work.";
const AID: &str = "Local codes and licensed practice come first. This is an aid to judgement, not a certificate. Figures \
                   come from photos; the tree that reads carbon from them is fitted on drawn rows, so votes are no \
                   measured probabilities.";

fn headline(photos: &LookedAt, answer: &SparkAnswer) -> (String, Tone, String) {
    let Some(seen) = &photos.sparks else {
        return ("CANNOT TELL".into(), Tone::Middling, "No photo of the coupon can be used.".into());
    };
    let coupon = &seen.coupon;
    let by = format!(
        "By {}{}.",
        plural(coupon.pooled.photos, "photo"),
        if coupon.touches.len() > 1 {
            format!(" of {}", plural(coupon.surface, "touch"))
        } else {
            String::new()
        }
    );
    match answer {
        SparkAnswer::Bands(estimate) => {
            let stated = estimate.known.as_ref().and_then(|known| known.stated.as_ref());
            let (low, high) = stated.map_or(estimate.likely, |stated| stated.bands);
            let votes = of_100(estimate.votes[estimate.band.index()]);
            let band = super::check::bands(estimate.band, estimate.band);
            let known = estimate.known.as_ref().map(super::known::behind).unwrap_or_default();
            (
                super::check::bands(low, high),
                Tone::Good,
                format!("{by} Likeliest {band}, with {votes} votes.{known}"),
            )
        }
        SparkAnswer::NotPlainCarbon(_) => ("NO PLAIN CARBON STEEL".into(), Tone::Bad, by),
        SparkAnswer::Unlike { .. } | SparkAnswer::CannotTell { .. } => {
            ("CANNOT TELL".into(), Tone::Middling, by)
        }
    }
}

/// What `check` says of photos: what they show in a sentence, those that were not used, what to know.
pub(super) fn summary(photos: &LookedAt) -> Vec<String> {
    let mut list: Vec<String> = photos.sparks.iter().map(figures::sentence).collect();
    if list.is_empty() {
        list.push("No photo of the coupon's sparks can be used.".into());
    }
    list.extend(
        unused::unused(&photos.unused).into_iter().map(|line| format!("{} {}", line.why, line.do_this)),
    );
    list.extend(photos.sparks.iter().flat_map(|s| &s.notes).map(note::note));
    list.extend(photos.remarks.iter().map(|(photo, remark)| format!("{photo}: {remark}.")));
    list
}

/// "1 photo", "3 touches".
pub(super) fn plural(number: usize, what: &str) -> String {
    match (number, what) {
        (1, _) => format!("1 {what}"),
        (n, "touch") => format!("{n} touches"),
        (n, _) => format!("{n} {what}s"),
    }
}

/// Lays out what photos show: the answer first.
pub fn spark_page(report: &SparkReport) -> Page {
    let mut page = Page::default();
    page.headline("Carbon by sparks", &report.answer, report.tone, &report.words);
    unused::write(&mut page, &report.unused);
    let tables = [
        ("What the photos show: best value (range that holds nine in ten)", &report.figures, FIGURES),
        ("Touch by touch, each deeper", &report.touches, TOUCHES),
        ("Photo by photo, what was traced", &report.photos, PHOTOS),
    ];
    for (heading, rows, widths) in tables {
        if !rows.is_empty() {
            page.heading(heading);
            page.table(widths, rows);
            if widths == FIGURES {
                page.paragraph("  ", "  ", figures::LEGEND);
            }
        }
    }
    page.list("How it was read", &report.read);
    page.list("To know", &report.notes);
    page.list("Cautions", &report.cautions);
    page
}

/// Columns of the tables, characters.
const FIGURES: [usize; 4] = [21, 19, 19, 16];
const TOUCHES: [usize; 4] = [20, 19, 19, 17];
const PHOTOS: [usize; 4] = [32, 13, 13, 17];
