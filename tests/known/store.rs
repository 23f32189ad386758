//! A set in a folder of its own, and what is put into it.

use crate::commands::{Said, run, snapspark};
use snapspark::files::KnownSet;
use snapspark::known::KnownSteel;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A folder with a set in `set`, and photos and descriptions beside it.
pub(super) struct Store {
    folder: TempDir,
}

impl Store {
    pub(super) fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    pub(super) fn folder(&self) -> &Path {
        self.folder.path()
    }

    pub(super) fn set(&self) -> PathBuf {
        self.folder().join("set")
    }

    /// `snapspark known` with these arguments and this set, in the folder.
    pub(super) fn known(&self, args: &[&str]) -> Said {
        self.known_in("set", args)
    }

    pub(super) fn known_in(&self, set: &str, args: &[&str]) -> Said {
        run(snapspark().current_dir(self.folder()).arg("known").args(args).args(["--set", set]))
    }

    /// Writes a file and gives its name.
    pub(super) fn write<'n>(&self, name: &'n str, text: &str) -> &'n str {
        let path = self.folder().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
        name
    }

    /// A picture too small to measure, each shade other bytes; gives its name.
    pub(super) fn photo<'n>(&self, name: &'n str, shade: u8) -> &'n str {
        let path = self.folder().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        image::GrayImage::from_pixel(40, 30, image::Luma([shade])).save(path).unwrap();
        name
    }

    pub(super) fn open(&self) -> KnownSet {
        open(&self.set())
    }

    /// What is said, without the folder's own name.
    pub(super) fn plain(&self, text: &str) -> String {
        text.replace(&self.folder().display().to_string(), "FOLDER")
    }
}

pub(super) fn open(set: &Path) -> KnownSet {
    KnownSet::open(set).unwrap_or_else(|p| panic!("{p:?}"))
}

/// The records alone, by name.
pub(super) fn records(set: &Path) -> Vec<(String, KnownSteel)> {
    open(set).records().to_vec()
}

/// Everything in a set is whole: records, and photos as their names say.
pub(super) fn whole(set: &KnownSet) {
    assert_eq!(set.broken(), [], "a record is damaged");
    for (name, steel) in set.records() {
        for photo in steel.seen.photos() {
            let path = set.layout().photo(photo);
            let bytes = std::fs::read(&path).unwrap_or_else(|e| panic!("{name}: {}: {e}", path.display()));
            assert_eq!(sha256(&bytes), photo.hash, "{name}: {}", path.display());
        }
    }
}

pub(super) fn sha256(bytes: &[u8]) -> String {
    use sha2::Digest;
    sha2::Sha256::digest(bytes).iter().map(|b| format!("{b:02x}")).collect::<Vec<_>>().concat()
}

/// FIPS 180-4 (NIST, Secure Hash Standard, 2015), the example of its first message: `abc`. From memory.
#[test]
fn photos_are_called_by_their_sha_256() {
    assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    let store = Store::new();
    let photo = store.photo("a.PNG", 7);
    let said = store.known(&["add", "--steel", "1095", "--rig", "bench", "--session", "2026-03-14", photo]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    let hash = sha256(&std::fs::read(store.folder().join(photo)).unwrap());
    assert!(store.set().join(format!("photos/{hash}.png")).is_file());
}
