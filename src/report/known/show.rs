use super::label;
use crate::known::{KnownPhoto, KnownSteel, Measured};
use crate::report::sparks::{figures, plural};
use crate::report::{Page, Tone};

/// One record to be shown.
#[derive(Debug)]
pub struct ShownRecord<'a> {
    /// Its name.
    pub name: &'a str,
    /// The record.
    pub steel: &'a KnownSteel,
    /// Its file.
    pub file: String,
    /// Its photos: where each is, and whether it is there.
    pub photos: Vec<(String, bool)>,
    /// What was measured, and whether that is up to date.
    pub measured: Option<(&'a Measured, bool)>,
}

/// Digits of a hash that tell photos apart.
const DIGITS: usize = 8;
/// Columns of the figures, characters.
const FIGURES: [usize; 2] = [26, 30];

/// Lays out one record.
pub fn show_page(record: &ShownRecord<'_>) -> Page {
    let mut page = Page::default();
    page.headline("Known steel", record.name, Tone::Plain, &format!("{}.", label(record.steel)));
    if !record.steel.notes.is_empty() {
        page.paragraph("  ", "  ", &record.steel.notes);
    }
    page.paragraph("  ", "    ", &format!("Kept in {}", record.file));
    let photos = record.steel.seen.photos().iter().zip(&record.photos);
    page.list("Photos", &photos.map(|(photo, (at, there))| line(photo, at, *there)).collect::<Vec<_>>());
    match record.measured {
        Some((measured, up_to_date)) => write_measured(&mut page, measured, up_to_date),
        None if record.photos.is_empty() => {}
        None => page.paragraph("  ", "  ", "Its photos were not measured yet."),
    }
    page
}

fn line(photo: &KnownPhoto, at: &str, there: bool) -> String {
    let touch = photo.touch.map(|touch| format!(", touch {touch}")).unwrap_or_default();
    let place = match (there, &photo.link) {
        (false, _) => format!("; missing: {at}"),
        (true, Some(_)) => format!("; linked: {at}"),
        (true, None) => String::new(),
    };
    format!("{} ({}){touch}{place}", photo.name, photo.hash.get(..DIGITS).unwrap_or_default())
}

fn write_measured(page: &mut Page, measured: &Measured, up_to_date: bool) {
    let of = plural(measured.photos.len(), "photo");
    page.heading(&format!(
        "What its photos show, by {} of {of}: best value (range that holds nine in ten)",
        measured.used
    ));
    match &measured.figures {
        Some(figures) => page.table(FIGURES, &figures::of_one(figures)),
        None => page.paragraph("  ", "  ", "None of them can be used."),
    }
    if !up_to_date {
        let words = "This is of other photos, or of an older way of measuring; it is made anew when trees are fitted.";
        page.paragraph("  ", "  ", words);
    }
    let unused = measured.unused.iter().map(|(photo, code)| format!("{photo}: {}", code.replace('_', " ")));
    page.list("Not used", &unused.collect::<Vec<_>>());
}
