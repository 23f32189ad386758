use crate::files;
use crate::files::problem::harmless;
use crate::report::Drawing;
use std::path::{Path, PathBuf};

/// Pictures that a command draws, one a photo.
pub(super) struct Drawings {
    to: Option<PathBuf>,
    /// Photos in all.
    all: usize,
    failed: Option<String>,
}

impl Drawings {
    /// Of `all` photos, to `to` or nowhere.
    pub(super) fn new(to: Option<&Path>, all: usize) -> Self {
        Self { to: to.map(Path::to_path_buf), all, failed: None }
    }

    /// Draws that of photo `number`, from 1, if it is wanted.
    pub(super) fn save(&mut self, number: usize, draw: impl FnOnce() -> Drawing) {
        let Some(to) = &self.to else { return };
        let to = numbered(to, number, self.all);
        let drawing = draw();
        if let Err(e) = files::save_picture(&to, drawing.width(), drawing.height(), drawing.rgb()) {
            let at = harmless(&to.display().to_string());
            self.failed.get_or_insert(format!(
                "error: {at}: the picture of what was found cannot be written: {e}\n help: check that the folder \
                 exists and may be written to, or choose another name"
            ));
        }
    }

    /// Every file that would be written.
    pub(super) fn files(&self) -> Vec<PathBuf> {
        let to = self.to.iter();
        to.flat_map(|to| (1..=self.all).map(|number| numbered(to, number, self.all))).collect()
    }

    /// Refuses to draw over one of the photos; `option` is what names the place.
    pub(super) fn keep<'p>(
        &self,
        option: &str,
        mut photos: impl Iterator<Item = &'p str>,
    ) -> Result<(), String> {
        let drawn = self.files();
        match photos.find_map(|photo| drawn.iter().find(|to| files::same_file(Path::new(photo), to))) {
            Some(to) => Err(format!(
                "error: {option}: the drawing would overwrite the photo {}\n help: choose another name",
                harmless(&to.display().to_string())
            )),
            None => Ok(()),
        }
    }

    /// What could not be drawn, ready to be shown.
    pub(super) fn finish(self) -> Result<(), String> {
        self.failed.map_or(Ok(()), Err)
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
