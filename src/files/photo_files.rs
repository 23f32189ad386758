//! Photos on disk: which ones are meant, and reading them one at a time.

mod natural;
mod progress;

use super::problem::Problem;
use crate::photo::{Format, Limits, Photo, PhotoError, PhotoNote, decode};
use natural::natural;
use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

pub use progress::PhotoProgress;

/// Most photos of one command: judgement.
const MOST_PHOTOS: usize = 10_000;

/// The photos that a command's arguments name, in order, each once.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PhotoFiles {
    paths: Vec<PathBuf>,
    seen: BTreeSet<PathBuf>,
    notes: Vec<Problem>,
}

impl PhotoFiles {
    /// Files as given, the photos in folders (not in folders within), and what patterns such as `shop/*.jpg`
    /// match. Within a folder or pattern `img2` comes before `img10`. Nothing is opened. Gives all errors.
    pub fn named<S: AsRef<str>>(arguments: &[S]) -> Result<Self, Vec<Problem>> {
        let mut files = Self::default();
        let mut errors = Vec::new();
        for argument in arguments {
            if let Err(problem) = files.add(argument.as_ref()) {
                errors.push(*problem);
            }
        }
        if errors.is_empty() { Ok(files) } else { Err(errors) }
    }

    /// Where they are.
    pub fn paths(&self) -> &[PathBuf] {
        &self.paths
    }

    /// What should be known about the arguments: photos given twice.
    pub fn notes(&self) -> &[Problem] {
        &self.notes
    }

    /// Reads them one after the other, each when it is asked for: the memory of one is enough.
    pub fn photos<'f>(
        &'f self,
        limits: &'f Limits,
    ) -> impl Iterator<Item = (&'f Path, Result<Photo, Box<Problem>>)> + 'f {
        self.paths.iter().map(|path| (path.as_path(), read_photo(path, limits)))
    }

    fn add(&mut self, argument: &str) -> Result<(), Box<Problem>> {
        let found = match fs::metadata(argument) {
            Ok(there) if there.is_dir() => in_folder(argument)?,
            Ok(_) => vec![PathBuf::from(argument)],
            Err(e) if e.kind() == io::ErrorKind::NotFound && argument.contains(['*', '?', '[']) => {
                matching(argument)?
            }
            Err(e) => return Err(unreadable(argument, &e)),
        };
        for path in found {
            ordinary(&path)?;
            if self.paths.len() >= MOST_PHOTOS {
                let message = format!("more than {MOST_PHOTOS} photos");
                return Err(refused(argument, message, "name fewer at a time"));
            }
            let one = fs::canonicalize(&path).unwrap_or_else(|_| path.clone());
            if self.seen.insert(one) {
                self.paths.push(path);
            } else {
                self.notes.push(Problem::warning(&path.to_string_lossy(), "named twice; read once"));
            }
        }
        Ok(())
    }
}

/// The photos of a folder by their names' endings, without hidden files.
fn in_folder(folder: &str) -> Result<Vec<PathBuf>, Box<Problem>> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).map_err(|e| unreadable(folder, &e))? {
        let path = entry.map_err(|e| unreadable(folder, &e))?.path();
        let hidden = path.file_name().is_some_and(|name| name.as_encoded_bytes().starts_with(b"."));
        if !hidden && promised(&path).is_some() && !path.is_dir() {
            found.push(path);
        }
        if found.len() > MOST_PHOTOS {
            break;
        }
    }
    let endings: Vec<_> = Format::ALL.iter().map(|f| format!(".{}", f.extensions()[0])).collect();
    let help = format!(
        "name a folder that holds photos ({}), or the photos themselves; folders within it are not looked into",
        endings.join(" ")
    );
    sorted(found).ok_or_else(|| refused(folder, "the folder holds no photo", &help))
}

/// What a pattern matches, without folders.
fn matching(pattern: &str) -> Result<Vec<PathBuf>, Box<Problem>> {
    if pattern.contains("**") {
        let help = "write one pattern for each folder, such as \"shop/*.jpg\"";
        return Err(refused(pattern, "`**` would look into every folder below", help));
    }
    let bad = |e: glob::PatternError| {
        let help = "`*` stands for any letters, `?` for one, `[ab]` for a or b";
        refused(pattern, format!("not a pattern: {}", e.msg), help)
    };
    let mut found = Vec::new();
    for path in glob::glob(pattern).map_err(bad)?.take(MOST_PHOTOS + 1) {
        let path = path.map_err(|e| unreadable(&e.path().to_string_lossy(), e.error()))?;
        if !path.is_dir() {
            found.push(path);
        }
    }
    sorted(found).ok_or_else(|| refused(pattern, "no file matches", "check the folder and the letters"))
}

/// In the order people expect; `None` if there is none.
fn sorted(mut paths: Vec<PathBuf>) -> Option<Vec<PathBuf>> {
    paths.sort_by(|a, b| natural(&a.to_string_lossy(), &b.to_string_lossy()));
    (!paths.is_empty()).then_some(paths)
}

/// The format that the ending of a name promises.
fn promised(path: &Path) -> Option<Format> {
    let ending = path.extension()?.to_str()?.to_ascii_lowercase();
    Format::ALL.into_iter().find(|format| format.extensions().contains(&ending.as_str()))
}

/// Refuses what is no ordinary file, before anything is opened: a pipe would never end.
fn ordinary(path: &Path) -> Result<fs::Metadata, Box<Problem>> {
    let name = path.to_string_lossy();
    let there = fs::metadata(path).map_err(|e| unreadable(&name, &e))?;
    let other = if there.is_dir() { "a folder" } else { "a pipe, a socket or a device" };
    if there.is_file() {
        Ok(there)
    } else {
        Err(refused(&name, format!("{other}, not a file"), "name a photo that is stored on disk"))
    }
}

fn unreadable(name: &str, e: &io::Error) -> Box<Problem> {
    refused(name, format!("cannot be read: {e}"), "check the name, and that you may read it")
}

fn refused(name: &str, message: impl Into<String>, help: &str) -> Box<Problem> {
    Box::new(Problem::error(name, message).help(help))
}

/// Reads one photo. Its size is checked before it is read, and no more than that is ever read.
pub fn read_photo(path: &Path, limits: &Limits) -> Result<Photo, Box<Problem>> {
    let name = path.to_string_lossy();
    let unusable = |e: PhotoError| refused(&name, e.to_string(), &e.help());
    limits.check_bytes(ordinary(path)?.len()).map_err(unusable)?;
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(limits.most_bytes.saturating_add(1)).read_to_end(&mut bytes))
        .map_err(|e| unreadable(&name, &e))?;
    let mut photo = decode(&bytes, limits).map_err(unusable)?;
    if let (Some(extension), false) = (path.extension(), promised(path) == Some(photo.format)) {
        let extension = extension.to_string_lossy().into_owned();
        photo.notes.insert(0, PhotoNote::Mislabelled { extension, format: photo.format });
    }
    Ok(photo)
}

/// The notes of a photo as warnings about its file.
pub fn photo_warnings(path: &Path, photo: &Photo) -> Vec<Problem> {
    let name = path.to_string_lossy();
    photo.notes.iter().map(|note| Problem::warning(&name, note.to_string())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(files: &PhotoFiles) -> Vec<String> {
        files.paths().iter().filter_map(|p| Some(p.file_name()?.to_string_lossy().into_owned())).collect()
    }

    /// A folder with these files in it, each holding one byte.
    fn folder(files: &[&str]) -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        for file in files {
            fs::write(folder.path().join(file), b"x").unwrap();
        }
        folder
    }

    #[test]
    fn expands_folders_and_patterns_in_the_order_of_numbers() {
        let folder = folder(&["img10.JPG", "img2.jpg", "img1.png", "notes.txt", ".hidden.jpg", "a[1].jpg"]);
        fs::create_dir(folder.path().join("within.jpg")).unwrap();
        let at = |name: &str| format!("{}/{name}", folder.path().display());
        let files = PhotoFiles::named(&[at("")]).unwrap();
        assert_eq!(names(&files), ["a[1].jpg", "img1.png", "img2.jpg", "img10.JPG"]);
        let files = PhotoFiles::named(&[at("img*"), at("a[1].jpg"), at("./img2.jpg")]).unwrap();
        assert_eq!(names(&files), ["img1.png", "img2.jpg", "img10.JPG", "a[1].jpg"]);
        assert_eq!(files.notes().len(), 1, "{:?}", files.notes());
    }

    #[test]
    fn says_what_cannot_be_meant() {
        let folder = folder(&["notes.txt"]);
        let at = |name: &str| format!("{}/{name}", folder.path().display());
        let arguments = [at(""), at("*.jpg"), at("**/x.jpg"), at("[.jpg"), at("none.jpg")];
        let errors = PhotoFiles::named(&arguments).unwrap_err();
        let said: Vec<String> = errors.iter().map(ToString::to_string).collect();
        let said = said.join("\n").replace(&folder.path().display().to_string(), "FOLDER");
        insta::assert_snapshot!(said);
    }

    #[cfg(unix)]
    #[test]
    fn refuses_loops_and_devices_without_waiting() {
        let folder = folder(&[]);
        let link = folder.path().join("loop.jpg");
        std::os::unix::fs::symlink(&link, &link).unwrap();
        let link = link.to_string_lossy().into_owned();
        assert!(PhotoFiles::named(&[link.as_str()]).is_err());
        assert!(PhotoFiles::named(&["/dev/zero"]).is_err());
        assert!(read_photo(Path::new("/dev/zero"), &Limits::default()).is_err());
        assert!(PhotoFiles::named(&[folder.path().to_string_lossy()]).is_err(), "a loop in a folder");
    }
}
