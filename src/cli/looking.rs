use crate::files::problem::harmless;
use crate::files::{self, Looked, PhotoProgress};
use crate::photo::circle::{self, RimHint};
use crate::photo::{Exposure, Limits, Picture};
use crate::report;
use crate::spark::{self, Exposed, Refusal, Stream, StreamPhoto, Unusable};
use crate::stats::NINE_IN_TEN;
use crate::units::{Depth, Interval, Time};
use std::path::{Path, PathBuf};

/// Looks at photos one after the other; draws what was found, if that is wanted, and says how far it is.
pub(super) struct Looking {
    all: usize,
    done: usize,
    progress: PhotoProgress,
    overlay: Option<PathBuf>,
    rim: bool,
    failed: Option<String>,
}

impl Looking {
    /// At `all` photos; `overlay` is where drawings go, `rim` whether the wheel's rim is looked for.
    pub(super) fn new(all: usize, overlay: Option<&Path>, rim: bool) -> Self {
        let progress = PhotoProgress::new(all);
        Self { all, done: 0, progress, overlay: overlay.map(Path::to_path_buf), rim, failed: None }
    }

    /// One photo; its picture is let go of before the next.
    pub(super) fn look(&mut self, path: &Path) -> Result<Looked, Unusable> {
        self.done += 1;
        self.progress.show(self.done, &path.to_string_lossy());
        let photo = files::read_photo(path, &Limits::default())
            .map_err(|p| Unusable::NotRead { message: p.message, help: p.help.unwrap_or_default() })?;
        let found = spark::measure(&photo.picture, exposed(&photo.exposure));
        self.draw(&photo.picture, found.as_ref());
        let remarks = photo.notes.iter().map(ToString::to_string).collect();
        let rim =
            found.as_ref().ok().filter(|_| self.rim).and_then(|found| rim(&photo.picture, &found.stream));
        found.map(|photo| Looked { photo, rim, remarks }).map_err(Unusable::Refused)
    }

    /// Every file that would be drawn for `overlay`.
    pub(super) fn drawings(&self, overlay: &Path) -> Vec<PathBuf> {
        (1..=self.all).map(|number| numbered(overlay, number, self.all)).collect()
    }

    /// What could not be drawn, ready to be shown.
    pub(super) fn finish(self) -> Result<(), String> {
        self.failed.map_or(Ok(()), Err)
    }

    fn draw(&mut self, picture: &Picture, found: Result<&StreamPhoto, &Refusal>) {
        let Some(to) = &self.overlay else { return };
        let to = numbered(to, self.done, self.all);
        let drawing = report::overlay(picture, found, report::LONGEST_SIDE);
        if let Err(e) = files::save_picture(&to, drawing.width(), drawing.height(), drawing.rgb()) {
            let at = harmless(&to.display().to_string());
            self.failed.get_or_insert(format!(
                "error: {at}: the picture of what was found cannot be written: {e}\n help: check that the folder \
                 exists and may be written to, or choose another name"
            ));
        }
    }
}

/// The wheel's rim goes past the contact at no more than this share of the picture's longer side (judgement).
const RIM_WITHIN: f64 = 0.05;

/// Diameter of the wheel's rim, px, nine times in ten.
fn rim(picture: &Picture, stream: &Stream) -> Option<Interval<f64>> {
    let within = RIM_WITHIN * picture.width().max(picture.height()) as f64 + NINE_IN_TEN * stream.contact_sd;
    let rim = circle::find(picture, Some(RimHint { at: stream.contact, within })).ok()?;
    let off = 2.0 * NINE_IN_TEN * rim.radius_sd;
    let across = 2.0 * rim.radius;
    Interval::new(across - off, across, across + off)
}

fn exposed(exposure: &Exposure) -> Exposed {
    Exposed {
        seconds: exposure.time.map(Time::seconds),
        f_number: exposure.f_number,
        iso: exposure.iso,
        focal_mm: exposure.focal_length.map(Depth::millimetres),
        taken: exposure.taken_at.clone(),
    }
}

/// `out.png` for one photo, else `out-1.png` and so on.
fn numbered(path: &Path, number: usize, of: usize) -> PathBuf {
    if of < 2 {
        return path.to_path_buf();
    }
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let ending = path.extension().map_or(String::new(), |e| format!(".{}", e.to_string_lossy()));
    path.with_file_name(format!("{stem}-{number}{ending}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drawings_of_several_photos_are_numbered() {
        assert_eq!(numbered(Path::new("a/out.png"), 1, 1), Path::new("a/out.png"));
        assert_eq!(numbered(Path::new("a/out.png"), 12, 20), Path::new("a/out-12.png"));
        assert_eq!(numbered(Path::new("out"), 2, 2), Path::new("out-2"));
    }
}
