use crate::files::Models;
use crate::files::problem::Problem;
use crate::files::run_sheet::kind::Kind;
use crate::files::run_sheet::read::{cannot_read, read_up_to};
use crate::files::save::{make_folders, put};
use crate::known::KnownPhoto;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

/// Longest file of a set but for photos, bytes: far more than any record.
pub(super) const MOST_BYTES: u64 = 256 * 1024;

const VERSION_KEY: &str = "known-steels";
const VERSION: i64 = 1;
static SET: Kind = Kind {
    one: "a set of known steels",
    noun: "set",
    version: Some((VERSION_KEY, VERSION)),
    flat: true,
    typed: false,
    shorter: "it holds one line: known-steels = 1",
};

/// Checks the bytes of a `set.toml`, which is called `name` in messages.
pub(super) fn check_version(bytes: Vec<u8>, name: &str, models: &Models) -> Result<(), Vec<Problem>> {
    let text = SET.text(name, bytes).map_err(|p| vec![*p])?;
    SET.read_whole(&text, name, models, |_| ()).map(|_| ())
}

/// Where things are in the folder of a set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layout {
    folder: PathBuf,
}

impl Layout {
    pub(super) const RECORDS: &'static str = "records";
    pub(super) const PHOTOS: &'static str = "photos";
    pub(super) const REMOVED: &'static str = "removed";
    pub(super) const MEASURED: &'static str = "measured";
    pub(super) const TREES: &'static str = "trees";
    pub(super) const SET: &'static str = "set.toml";
    pub(super) const EDGE: &'static str = "edge.toml";
    /// How the names of unfinished files begin.
    pub(super) const PART: &'static str = ".part-";
    /// How the names of unfinished files begin that replace others.
    const REPLACING: &'static str = ".tmp";
    /// An unfinished file so old was left by a program that was stopped.
    const STALE: Duration = Duration::from_secs(24 * 3600);

    /// Of the set in `folder`.
    pub fn of(folder: &Path) -> Self {
        Self { folder: folder.to_path_buf() }
    }

    /// The set's folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Folder of the records.
    pub fn records(&self) -> PathBuf {
        self.folder.join(Self::RECORDS)
    }

    /// Folder of the photos.
    pub fn photos(&self) -> PathBuf {
        self.folder.join(Self::PHOTOS)
    }

    /// The file of a record.
    pub fn record(&self, name: &str) -> PathBuf {
        self.records().join(format!("{name}.toml"))
    }

    /// The file of a record that was removed.
    pub fn removed(&self, name: &str) -> PathBuf {
        self.folder.join(Self::REMOVED).join(format!("{name}.toml"))
    }

    /// The file of what a record's photos show.
    pub fn measured(&self, name: &str) -> PathBuf {
        self.folder.join(Self::MEASURED).join(format!("{name}.toml"))
    }

    /// The file of a rig that was trained.
    pub fn tree(&self, rig: &str) -> PathBuf {
        self.folder.join(Self::TREES).join(format!("{rig}.toml"))
    }

    /// The file of the visible edge as it was learned.
    pub fn edge(&self) -> PathBuf {
        self.folder.join(Self::EDGE)
    }

    /// Where a photo is: as linked, under its hash and ending, or under its hash with another ending if its name in the
    /// record was changed.
    pub fn photo(&self, photo: &KnownPhoto) -> PathBuf {
        if let Some(link) = &photo.link {
            return PathBuf::from(link);
        }
        let there = self.photos().join(format!("{}.{}", photo.hash, photo.ending()));
        if there.exists() {
            return there;
        }
        let entries = fs::read_dir(self.photos()).into_iter().flatten().flatten();
        let mut same =
            entries.map(|e| e.path()).filter(|p| p.file_stem().is_some_and(|s| s == photo.hash.as_str()));
        same.next().unwrap_or(there)
    }

    /// Checks that the folder is a set of a version that is understood.
    pub(super) fn check(&self, models: &Models) -> Result<(), Vec<Problem>> {
        let path = self.folder.join(Self::SET);
        let name = path.display().to_string();
        let folder = self.folder.display().to_string();
        let bytes = read_up_to(&path, MOST_BYTES + 1).map_err(|e| {
            let none = e.kind() == io::ErrorKind::NotFound;
            let problem = match (none, self.folder.is_dir()) {
                (true, true) => Problem::error(&folder, "no set of known steels: it holds no set.toml").help(format!(
                    "name the folder of a set; if it is one, write `{VERSION_KEY} = {VERSION}` into {name}"
                )),
                (true, false) => Problem::error(&folder, "there is no such folder yet")
                    .help("`snapspark known add` makes it; --set says where"),
                _ => Problem::error(&name, cannot_read(&e)).help("check that you may read it"),
            };
            vec![problem]
        })?;
        check_version(bytes, &name, models)
    }

    /// Makes the folder a set if it is none yet, and clears what was left half done long ago.
    pub(super) fn prepare(&self, models: &Models) -> Result<(), Vec<Problem>> {
        let cannot = |e: io::Error| {
            let folder = self.folder.display().to_string();
            vec![
                Problem::error(&folder, format!("no set can be made there: {e}"))
                    .help("check that the folder may be written to, or choose another with --set"),
            ]
        };
        let set = self.folder.join(Self::SET);
        if !set.exists() {
            self.refuse_other_files()?;
        }
        for inner in [Self::RECORDS, Self::PHOTOS, Self::REMOVED, Self::MEASURED] {
            make_folders(&self.folder.join(inner)).map_err(cannot)?;
        }
        match put(&set, Self::PART, format!("{VERSION_KEY} = {VERSION}\n").as_bytes()) {
            Ok(()) => {}
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => {}
            Err(e) => return Err(cannot(e)),
        }
        self.clear_parts();
        self.check(models)
    }

    /// A new set is made in an empty folder, not among other files.
    fn refuse_other_files(&self) -> Result<(), Vec<Problem>> {
        let ours = [Self::RECORDS, Self::PHOTOS, Self::REMOVED, Self::MEASURED, Self::TREES, Self::EDGE];
        let entries = fs::read_dir(&self.folder).into_iter().flatten().flatten();
        let mut other = entries
            .map(|e| e.file_name().to_string_lossy().into_owned())
            .filter(|name| !ours.contains(&name.as_str()) && !name.starts_with(Self::PART));
        match other.next() {
            None => Ok(()),
            Some(name) => {
                let folder = self.folder.display().to_string();
                let message = format!("no set of known steels, and it holds other files ({name})");
                let help = "name the folder of a set, or an empty or new one with --set";
                Err(vec![Problem::error(&folder, message).help(help)])
            }
        }
    }

    fn clear_parts(&self) {
        let inner = [Self::RECORDS, Self::PHOTOS, Self::REMOVED, Self::MEASURED, ""];
        let entries =
            inner.iter().flat_map(|i| fs::read_dir(self.folder.join(i)).into_iter().flatten().flatten());
        let unfinished = |name: &str| name.starts_with(Self::PART) || name.starts_with(Self::REPLACING);
        for entry in entries.filter(|e| unfinished(&e.file_name().to_string_lossy())) {
            let changed = entry.metadata().and_then(|m| m.modified());
            let age = changed.ok().and_then(|at| SystemTime::now().duration_since(at).ok());
            if age.is_some_and(|age| age > Self::STALE) {
                // what cannot be cleared now is cleared another time
                let _ = fs::remove_file(entry.path());
            }
        }
    }
}
