use super::drawings::Drawings;
use crate::files::{self, LookedFace, PhotoProgress};
use crate::fracture::{FaceKnown, FaceModel, UnusableFace, measure_face};
use crate::photo::Limits;
use crate::report;
use std::path::Path;

/// Looks at photos of faces one after the other; draws what was found, if that is wanted, and says how far it is.
pub(super) struct FaceLooking {
    done: usize,
    progress: PhotoProgress,
    overlays: Drawings,
    masks: Drawings,
    model: Result<FaceModel, files::FaceModelError>,
}

impl FaceLooking {
    /// At `all` photos; overlays and masks go where they are wanted.
    pub(super) fn new(all: usize, overlay: Option<&Path>, mask: Option<&Path>) -> Self {
        let [overlays, masks] = [overlay, mask].map(|to| Drawings::new(to, all));
        Self { done: 0, progress: PhotoProgress::new(all), overlays, masks, model: files::face_model() }
    }

    /// One photo; its picture is let go of before the next.
    pub(super) fn look(&mut self, path: &Path, known: &FaceKnown) -> Result<LookedFace, UnusableFace> {
        self.done += 1;
        self.progress.show(self.done, &path.to_string_lossy());
        let photo = files::read_photo(path, &Limits::default())
            .map_err(|p| UnusableFace::NotRead { message: p.message, help: p.help.unwrap_or_default() })?;
        let model = self.model.as_ref().map_err(|e| UnusableFace::NotRead {
            message: format!("models/{e}"),
            help: "build the program with the models that ship".into(),
        })?;
        let picture = &photo.picture;
        let mut remarks: Vec<String> = photo.notes.iter().map(ToString::to_string).collect();
        let mut known = known.clone();
        if let Some(Err(e)) = known.marks.map(|marks| marks.on(picture.width(), picture.height())) {
            remarks.push(format!("the scale was left out: {e}; {}", e.help()));
            known.marks = None;
        }
        let found =
            known.on(picture.width(), picture.height()).and_then(|()| measure_face(picture, &known, model));
        self.overlays.save(self.done, || report::face_overlay(picture, found.as_ref(), report::LONGEST_SIDE));
        if let Ok(found) = &found {
            self.masks.save(self.done, || report::face_mask([picture.width(), picture.height()], found));
        }
        found.map(|photo| LookedFace { photo, remarks }).map_err(UnusableFace::Refused)
    }

    /// Overlays and masks, to be judged before anything is drawn.
    pub(super) fn drawings(&self) -> [(&'static str, &Drawings); 2] {
        [("--overlay", &self.overlays), ("--mask", &self.masks)]
    }

    /// What could not be drawn, ready to be shown.
    pub(super) fn finish(self) -> Result<(), String> {
        self.overlays.finish()?;
        self.masks.finish()
    }
}
