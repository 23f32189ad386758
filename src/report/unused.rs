//! Photos that were not used: why, and what to do.

use super::page::Page;
use crate::photo::{Unusable, UnusedPhoto};
use crate::spark::Refusal;
use std::fmt::Display;

/// A measured reason that can be helped.
pub(super) trait Remedy: Display {
    /// What to do about it.
    fn remedy(&self) -> String;
}

/// One photo that was not used, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnusedLine {
    /// The photo and the measured reason.
    pub why: String,
    /// What to do.
    pub do_this: String,
}

/// All of them; what to do stands once where it is the same for the next.
pub(super) fn unused<R: Remedy>(photos: &[UnusedPhoto<R>]) -> Vec<UnusedLine> {
    let line = |photo: &UnusedPhoto<R>| {
        let (why, do_this) = match &photo.why {
            Unusable::Refused(refusal) => (refusal.to_string(), refusal.remedy()),
            Unusable::NotRead { message, help } => (message.clone(), help.clone()),
        };
        UnusedLine { why: format!("{}: {why}.", photo.name), do_this }
    };
    photos.iter().map(line).collect()
}

pub(super) fn write(page: &mut Page, lines: &[UnusedLine]) {
    if lines.is_empty() {
        return;
    }
    page.heading("Photos that were not used");
    let mut before = "";
    for line in lines {
        page.paragraph("  - ", "    ", &line.why);
        if line.do_this != before {
            page.paragraph("    What to do: ", "    ", &line.do_this);
        }
        before = &line.do_this;
    }
}

impl Remedy for Refusal {
    fn remedy(&self) -> String {
        of_sparks(self).into()
    }
}

fn of_sparks(refusal: &Refusal) -> &'static str {
    match refusal {
        Refusal::NoSparks { .. } => {
            "Take the photo while the piece is ground, from the side, the whole stream in the picture before a dark \
             background, flash off."
        }
        Refusal::NoStream { .. } => {
            "Take the stream of one wheel alone, from the side and square to it, with the lamps and shiny things \
             behind it covered or turned off."
        }
        Refusal::UnlikeSparks { .. } => {
            "Sparks are thin bright lines with dark between them: take the stream before a dark background, without \
             flames, leaves or lamps in the picture, from nearer by."
        }
        Refusal::SideBySide { .. } => {
            "Cover what is striped behind the stream, and hold still: a moved camera draws every light as a stripe. Take \
             the wheel and the first part of the stream into the picture."
        }
        Refusal::AllRound { .. } => {
            "Hold the piece against the wheel's face so that the sparks leave in one direction, and take them from \
             the side, not from the front."
        }
        Refusal::TooDark { .. } => {
            "Open the aperture or raise ISO (400 to 800 is usual), step closer, and leave the shutter as it is: a \
             longer one does not make moving sparks brighter."
        }
        Refusal::BlownOut { .. } => {
            "Lower ISO or set exposure compensation to -1 or -2, and keep lamps out of the picture; single carriers \
             must not be white over their whole width."
        }
        Refusal::Blurred { .. } => {
            "Focus on a rule held where the stream will be, lock the focus, and stand the phone on something firm; \
             wipe the lens."
        }
        Refusal::TooFew { .. } => {
            "Take several frames of the same touch and give them together, press a little more, or step closer so \
             that carriers are longer in the picture."
        }
        Refusal::NotSeparable { .. } => {
            "Press less, shorten the shutter (1/250 s), or step closer to the outer half of the stream, where sparks \
             lie apart."
        }
    }
}
