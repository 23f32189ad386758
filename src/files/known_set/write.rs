use super::ToldFile;
use super::carbon::carbon_text;
use super::record::{VERSION, VERSION_KEY};
use crate::files::run_sheet::draft::quoted;
use crate::files::run_sheet::spark::state_word;
use crate::known::{KnownPhoto, KnownSteel, Seen};
use std::fmt::Write;

/// A record as a text that people can edit. What was told is kept as it was typed, so it comes from its file; `None`
/// where that is missing or cannot be written.
pub fn record_text(steel: &KnownSteel, told: Option<&ToldFile>) -> Option<String> {
    let mut out = format!("{VERSION_KEY} = {VERSION}\n");
    let mut field = |key: &str, value: &str| {
        // writing to a String cannot fail
        let _ = writeln!(out, "{key} = {}", quoted(value));
    };
    field("steel", &steel.name);
    field("carbon", &carbon_text(&steel.carbon));
    if steel.state.is_some() {
        field("state", state_word(steel.state));
    }
    field("rig", &steel.rig);
    field("session", &steel.session.to_string());
    if !steel.notes.is_empty() {
        field("notes", &steel.notes);
    }
    if steel.reference {
        out.push_str("reference = true\n");
    }
    match &steel.seen {
        Seen::Photos(photos) => photos.iter().for_each(|photo| write_photo(photo, &mut out)),
        Seen::Told(_) => {
            out.push('\n');
            out.push_str(&told?.section().ok()?);
        }
    }
    Some(out)
}

fn write_photo(photo: &KnownPhoto, out: &mut String) {
    let _ = writeln!(out, "\n[[photo]]\nname = {}\nsha256 = {}", quoted(&photo.name), quoted(&photo.hash));
    if let Some(touch) = photo.touch {
        let _ = writeln!(out, "touch = {touch}");
    }
    if let Some(link) = &photo.link {
        let _ = writeln!(out, "link = {}", quoted(link));
    }
}
