use super::add::not_kept;
use super::photo_source::{bytes, hash_of, put_photo};
use super::write::record_text;
use super::{KnownSet, Layout};
use crate::files::problem::Problem;
use crate::files::save::{make_folders, put, put_with, sync_folder};
use crate::known::{KnownPhoto, KnownSteel, Seen};
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::Path;

/// One record as it is carried: the name of its file inside, and its text.
type Text = (String, Vec<u8>);

impl KnownSet {
    /// Writes all readable records with their photos into a new tar file, if the name ends so, or a new folder. Linked
    /// photos are taken along. Gives how many photos there are.
    pub fn export(&self, to: &Path) -> Result<usize, Vec<Problem>> {
        let shown = to.to_string_lossy();
        if to.symlink_metadata().is_ok() {
            let help = "nothing is written over: choose another name";
            return Err(vec![Problem::error(&shown, "there is something of that name").help(help)]);
        }
        let texts = self.texts()?;
        let photos: BTreeMap<String, &KnownPhoto> = self
            .records
            .iter()
            .flat_map(|(_, steel)| steel.seen.photos())
            .map(|photo| (format!("{}.{}", photo.hash, photo.ending()), photo))
            .collect();
        let ending = to.extension().map(std::ffi::OsStr::to_ascii_lowercase);
        let written = match ending.as_ref().and_then(|e| e.to_str()) {
            Some("tar") => put_with(to, Layout::PART, |file| self.tar(file, &texts, &photos)),
            Some("gz" | "zip" | "tgz" | "xz" | "zst" | "7z") => {
                let help = "name a .tar file or a folder; photos do not get smaller";
                return Err(vec![Problem::error(&shown, "an archive is not compressed").help(help)]);
            }
            _ => self.folder_out(to, &texts, &photos),
        };
        written.map(|()| photos.len()).map_err(|e| vec![not_kept(&shown, &e)])
    }

    /// Records as they stand on disk; those with links as they are without.
    fn texts(&self) -> Result<Vec<Text>, Vec<Problem>> {
        let mut texts = Vec::new();
        let mut problems = Vec::new();
        for (name, steel) in &self.records {
            let path = self.layout.record(name);
            let linked = steel.seen.photos().iter().any(|p| p.link.is_some());
            let text = if linked {
                record_text(&unlinked(steel), None)
                    .map(String::into_bytes)
                    .ok_or_else(|| io::ErrorKind::Other.into())
            } else {
                fs::read(&path)
            };
            match text {
                Ok(text) => texts.push((format!("{}/{name}.toml", Layout::RECORDS), text)),
                Err(e) => problems.push(not_kept(&path.to_string_lossy(), &e)),
            }
            problems.extend(steel.seen.photos().iter().filter_map(|photo| self.missing(name, photo)));
        }
        for (name, _) in &self.faces {
            let path = self.layout.record(name);
            match fs::read(&path) {
                Ok(text) => texts.push((format!("{}/{name}.toml", Layout::RECORDS), text)),
                Err(e) => problems.push(not_kept(&path.to_string_lossy(), &e)),
            }
        }
        if problems.is_empty() { Ok(texts) } else { Err(problems) }
    }

    fn missing(&self, record: &str, photo: &KnownPhoto) -> Option<Problem> {
        let path = self.layout.photo(photo);
        if path.is_file() {
            return None;
        }
        let help = format!("bring it back, or `snapspark known remove {record}`");
        Some(
            Problem::error(&path.to_string_lossy(), format!("the photo {} is missing", photo.name))
                .help(help),
        )
    }

    fn tar(&self, file: &mut File, texts: &[Text], photos: &BTreeMap<String, &KnownPhoto>) -> io::Result<()> {
        let mut tar = tar::Builder::new(BufWriter::new(file));
        let head = |path: &str, size: u64| {
            let mut head = tar::Header::new_ustar();
            head.set_path(path)?;
            head.set_size(size);
            head.set_mode(0o644);
            head.set_mtime(0);
            head.set_entry_type(tar::EntryType::Regular);
            head.set_cksum();
            io::Result::Ok(head)
        };
        let set = fs::read(self.folder().join(Layout::SET))?;
        tar.append(&head(Layout::SET, set.len() as u64)?, &set[..])?;
        for (name, photo) in photos {
            let photo_bytes = bytes(&self.layout.photo(photo))?;
            if hash_of(&photo_bytes) != photo.hash {
                return Err(io::Error::other(format!(
                    "the photo {} is not the one that was added",
                    photo.name
                )));
            }
            let path = format!("{}/{name}", Layout::PHOTOS);
            tar.append(&head(&path, photo_bytes.len() as u64)?, &photo_bytes[..])?;
        }
        for (path, text) in texts {
            tar.append(&head(path, text.len() as u64)?, &text[..])?;
        }
        tar.into_inner()?.flush()
    }

    /// Into a folder beside its place, which is then renamed.
    fn folder_out(
        &self,
        to: &Path,
        texts: &[Text],
        photos: &BTreeMap<String, &KnownPhoto>,
    ) -> io::Result<()> {
        let beside = to.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let part = tempfile::Builder::new().prefix(Layout::PART).tempdir_in(beside)?;
        for inner in [Layout::PHOTOS, Layout::RECORDS] {
            make_folders(&part.path().join(inner))?;
        }
        put(&part.path().join(Layout::SET), Layout::PART, &fs::read(self.folder().join(Layout::SET))?)?;
        for (name, photo) in photos {
            let mut from = File::open(self.layout.photo(photo))?;
            put_photo(&part.path().join(Layout::PHOTOS).join(name), Layout::PART, &photo.hash, &mut from)?;
        }
        for (path, text) in texts {
            put(&part.path().join(path), Layout::PART, text)?;
        }
        open_to_all(part.path())?;
        fs::rename(part.path(), to)?;
        sync_folder(beside)
    }
}

/// A record whose photos are where the set's own are.
fn unlinked(steel: &KnownSteel) -> KnownSteel {
    let photos = steel.seen.photos().iter().map(|p| KnownPhoto { link: None, ..p.clone() }).collect();
    KnownSteel { seen: Seen::Photos(photos), ..steel.clone() }
}

/// A folder as any that a program makes; a temporary one is its owner's alone.
#[cfg_attr(not(unix), allow(unused_variables, clippy::unnecessary_wraps))]
fn open_to_all(folder: &Path) -> io::Result<()> {
    #[cfg(unix)]
    fs::set_permissions(folder, std::os::unix::fs::PermissionsExt::from_mode(0o755))?;
    Ok(())
}
