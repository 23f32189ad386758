use super::Layout;
use super::contents::{Contents, damaged};
use super::entry::Place;
use super::set::models;
use crate::files::Models;
use crate::files::problem::{Problem, shown};
use crate::files::run_sheet::read::cannot_read;
use std::fs::{self, File};
use std::io::{self, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};
use tar::EntryType;

/// A set of known steels to carry about: one tar file, or a folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Archive {
    /// A tar file without compression.
    Tar(PathBuf),
    /// A folder laid out as a set.
    Folder(PathBuf),
}

/// An archive that was read and checked as a whole.
#[derive(Debug)]
pub struct CheckedArchive {
    pub(super) archive: Archive,
    pub(super) contents: Contents,
}

/// What is done with one file: its path inside the archive, whether it is a folder, its size, its bytes.
type Take<'t> = &'t mut dyn FnMut(&str, bool, u64, &mut dyn Read) -> Result<(), Box<Problem>>;

impl Archive {
    /// The archive at `path`, which is there.
    pub fn at(path: &Path) -> Result<Self, Box<Problem>> {
        let there = fs::metadata(path).map_err(|e| unreadable(path, &e))?;
        if there.is_dir() {
            return Ok(Self::Folder(path.to_path_buf()));
        }
        if there.is_file() {
            return Ok(Self::Tar(path.to_path_buf()));
        }
        let message = "a pipe, a socket or a device, not a file";
        Err(Box::new(Problem::error(&path.to_string_lossy(), message).help("name a tar file or a folder")))
    }

    /// Reads and checks all of it; nothing is written.
    pub fn check(self) -> Result<CheckedArchive, Vec<Problem>> {
        let models = models()?;
        let mut contents = Contents::new(&self.path().to_string_lossy());
        let mut take = |path: &str, folder: bool, size, from: &mut dyn Read| {
            contents.take(path, folder, size, from, models)
        };
        self.each(&mut take).map_err(|p| vec![*p])?;
        Ok(CheckedArchive { contents: contents.finish()?, archive: self })
    }

    /// Reads and checks the bytes of a tar file, which is called `file` in messages.
    pub fn contents_of(bytes: &[u8], file: &str, models: &Models) -> Result<Contents, Vec<Problem>> {
        let mut contents = Contents::new(file);
        let mut from = io::Cursor::new(bytes);
        let mut take = |path: &str, folder: bool, size, from: &mut dyn Read| {
            contents.take(path, folder, size, from, models)
        };
        each_of_tar(&mut from, file, &mut take).map_err(|p| vec![*p])?;
        contents.finish()
    }

    /// Hands over every file.
    pub(super) fn each(&self, take: Take<'_>) -> Result<(), Box<Problem>> {
        match self {
            Self::Tar(path) => {
                let mut file = File::open(path).map_err(|e| unreadable(path, &e))?;
                each_of_tar(&mut file, &path.to_string_lossy(), take)
            }
            Self::Folder(path) => each_of_folder(path, take),
        }
    }

    fn path(&self) -> &Path {
        match self {
            Self::Tar(path) | Self::Folder(path) => path,
        }
    }
}

fn unreadable(path: &Path, e: &io::Error) -> Box<Problem> {
    let problem = Problem::error(&path.to_string_lossy(), cannot_read(e));
    Box::new(problem.help("check the name, and that you may read it"))
}

/// Ordinary files and folders, read raw: no header may say that the next entry has another name or size.
fn each_of_tar<R: Read + Seek>(from: &mut R, file: &str, take: Take<'_>) -> Result<(), Box<Problem>> {
    whole(from).map_err(|e| damaged(file, &e))?;
    let mut archive = tar::Archive::new(from);
    let entries = archive.entries().map_err(|e| damaged(file, &e))?.raw(true);
    for entry in entries {
        let mut entry = entry.map_err(|e| damaged(file, &e))?;
        let size = entry.header().entry_size().map_err(|e| damaged(file, &e))?;
        let path = entry.header().path_bytes().into_owned();
        let refused = |message: String, help: &str| Box::new(Problem::error(file, message).help(help));
        let Ok(path) = String::from_utf8(path) else {
            return Err(refused("a name that is no text".into(), "export the set again"));
        };
        let folder = match entry.header().entry_type() {
            EntryType::Regular => false,
            EntryType::Directory => true,
            // the commit that some programs write into an archive
            EntryType::XGlobalHeader => continue,
            other => {
                let message = format!("`{}` is {}", shown(&path), what(other));
                let help = "nothing was imported; an archive holds ordinary files with short names, as \
                            `snapspark known export` writes it";
                return Err(refused(message, help));
            }
        };
        take(&path, folder, size, &mut entry)?;
    }
    Ok(())
}

fn what(kind: EntryType) -> &'static str {
    match kind {
        EntryType::Link | EntryType::Symlink => "a link",
        EntryType::Char | EntryType::Block | EntryType::Fifo => "a device or a pipe",
        EntryType::GNUSparse => "a file with holes",
        EntryType::GNULongName | EntryType::GNULongLink | EntryType::XHeader => {
            "a header that renames what follows"
        }
        _ => "no ordinary file",
    }
}

/// A tar file ends with two blocks of zeros; without them it was cut short, or is none.
fn whole<R: Read + Seek>(from: &mut R) -> io::Result<()> {
    const END: usize = 1024;
    let length = from.seek(SeekFrom::End(0))?;
    let too_short = || io::Error::other("it does not end as a tar file does");
    let end = length.checked_sub(END as u64).ok_or_else(too_short)?;
    from.seek(SeekFrom::Start(end))?;
    let mut bytes = [0; END];
    from.read_exact(&mut bytes)?;
    from.seek(SeekFrom::Start(0))?;
    if bytes == [0; END] { Ok(()) } else { Err(too_short()) }
}

/// The files of a folder that belong to a set; links are not followed.
fn each_of_folder(folder: &Path, take: Take<'_>) -> Result<(), Box<Problem>> {
    let mut one = |path: &Path, inside: &str| -> Result<(), Box<Problem>> {
        let there = path.symlink_metadata().map_err(|e| unreadable(path, &e))?;
        if !there.is_file() {
            let message = "a link, a folder or a device, not an ordinary file";
            return Err(Box::new(
                Problem::error(&path.to_string_lossy(), message).help("nothing was imported"),
            ));
        }
        let mut file = File::open(path).map_err(|e| unreadable(path, &e))?;
        take(inside, false, there.len(), &mut file)
    };
    let set = folder.join(Layout::SET);
    if set.symlink_metadata().is_ok() {
        one(&set, Layout::SET)?;
    }
    for inner in [Layout::PHOTOS, Layout::RECORDS] {
        let inside = folder.join(inner);
        let entries = match fs::read_dir(&inside) {
            Err(e) if e.kind() == io::ErrorKind::NotFound => continue,
            other => other.map_err(|e| unreadable(&inside, &e))?,
        };
        for entry in entries {
            let name = entry.map_err(|e| unreadable(&inside, &e))?.file_name().to_string_lossy().into_owned();
            let path = format!("{inner}/{name}");
            // what an editor or a file manager left there
            let hidden = name.starts_with('.');
            if !hidden && Place::of(&path, false) != Some(Place::Left) {
                one(&inside.join(&name), &path)?;
            }
        }
    }
    Ok(())
}
