use super::label;
use crate::known::{KnownSteel, Measured};
use crate::report::sparks::{figures, plural};
use crate::report::{Page, Tone, unused};
use crate::spark::UnusedPhoto;

/// What became of one record.
#[derive(Debug)]
pub struct AddedRecord<'a> {
    /// Its name.
    pub name: &'a str,
    /// Whether it was added now; else it was there, and nothing was changed.
    pub new: bool,
    /// The record.
    pub steel: &'a KnownSteel,
    /// Photos that another record of the same label has: photo and record.
    pub left_out: &'a [(String, String)],
    /// What its photos show.
    pub measured: Option<&'a Measured>,
    /// Those that cannot be used.
    pub unused: &'a [UnusedPhoto],
}

/// How many figures of a photo are told.
const FIGURES: usize = 3;

/// Lays out what was added; `unlisted` are photos of the folder that no label is of.
pub fn added_page(records: &[AddedRecord<'_>], unlisted: &[String]) -> Page {
    let mut page = Page::default();
    for record in records {
        let (what, tone) = if record.new { ("Added", Tone::Good) } else { ("There already", Tone::Middling) };
        page.headline(what, record.name, tone, &format!("{}.", label(record.steel)));
        for (photo, name) in record.left_out.iter().filter(|_| record.new) {
            page.paragraph("  ", "  ", &format!("{photo} was left out: the record {name} has it."));
        }
        if let Some(measured) = record.measured {
            page.paragraph("  ", "  ", &read(measured));
        }
        unused::write(&mut page, &unused::unused(record.unused));
    }
    let unlisted: Vec<String> =
        unlisted.iter().map(|photo| format!("{photo}: no row of the labels names it.")).collect();
    page.list("Photos without a label, left alone", &unlisted);
    page
}

fn read(measured: &Measured) -> String {
    let of = measured.photos.len();
    let Some(figures) = &measured.figures else {
        return format!("Nothing can be read on {}; kept all the same.", plural(of, "photo"));
    };
    let told =
        figures::of_one(figures).into_iter().take(FIGURES).map(|[what, value]| format!("{what} {value}"));
    let told = told.collect::<Vec<_>>().join("; ");
    format!("Read on {} of {}: {told}.", measured.used, plural(of, "photo"))
}
