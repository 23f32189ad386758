use crate::files::problem::Problem;
use crate::files::run_sheet::read::cannot_read;
use crate::files::words::is_dont_know;
use crate::known::{KnownPhoto, Session};
use crate::photo::{Exposure, FileKind, Limits};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;
use std::fs::File;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

/// A photo on disk that is to become part of a set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhotoSource {
    /// Where it is.
    pub path: PathBuf,
    /// What the record says of it.
    pub photo: KnownPhoto,
    /// The day that the camera wrote.
    pub taken: Option<Session>,
}

impl PhotoSource {
    /// Reads a photo's bytes once: its hash, and the day in it. What is no photo is refused.
    pub fn read(path: &Path, touch: Option<u32>, link: bool) -> Result<Self, Box<Problem>> {
        let shown = path.to_string_lossy().into_owned();
        let refused = |message: String, help: &str| Box::new(Problem::error(&shown, message).help(help));
        let unreadable = |e: io::Error| refused(cannot_read(&e), "check the name, and that you may read it");
        let bytes = bytes(path).map_err(unreadable)?;
        Limits::default().check_bytes(bytes.len() as u64).map_err(|e| refused(e.to_string(), &e.help()))?;
        if !matches!(FileKind::of(&bytes), FileKind::Photo(_)) {
            return Err(refused("it is no photo that can be read".into(), "give JPEG, PNG, TIFF or WebP"));
        }
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let name: String = name.chars().map(|c| if c.is_control() || c == '\\' { '_' } else { c }).collect();
        // a record would take such a word for an answer that nobody has
        let name = if name.is_empty() || is_dont_know(&name) { format!("{name}_") } else { name };
        let link = if link {
            let whole = std::fs::canonicalize(path).map_err(unreadable)?;
            let whole = whole.into_os_string().into_string();
            Some(
                whole
                    .map_err(|_| refused("its path is no plain text".into(), "copy it: leave --link out"))?,
            )
        } else {
            None
        };
        let taken = Exposure::of_file(&bytes).0.taken_at;
        let hash = hash_of(&bytes);
        Ok(Self {
            path: path.to_path_buf(),
            photo: KnownPhoto { name, hash, touch, link },
            taken: taken.as_deref().and_then(Session::of_camera),
        })
    }
}

/// The bytes of an ordinary file, no more than one too many of what a photo may have.
pub(super) fn bytes(path: &Path) -> io::Result<Vec<u8>> {
    crate::files::run_sheet::read::read_up_to(path, Limits::default().most_bytes.saturating_add(1))
}

/// SHA-256 in hexadecimal.
pub(super) fn hash_of(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

pub(super) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::with_capacity(2 * bytes.len()), |mut out, byte| {
        // writing to a String cannot fail
        let _ = write!(out, "{byte:02x}");
        out
    })
}

/// Copies what `from` gives, at most `most` bytes; gives its SHA-256.
pub(super) fn copy_hashed(from: &mut dyn Read, to: &mut dyn Write, most: u64) -> io::Result<String> {
    const PIECE: usize = 64 * 1024;
    let mut hash = Sha256::new();
    let mut piece = vec![0; PIECE];
    let mut left = most;
    loop {
        let read = match from.read(&mut piece) {
            Ok(0) => return Ok(hex(&hash.finalize())),
            Ok(read) => read,
            Err(e) if e.kind() == io::ErrorKind::Interrupted => continue,
            Err(e) => return Err(e),
        };
        left = left
            .checked_sub(read as u64)
            .ok_or_else(|| io::Error::other("it is longer than a photo may be"))?;
        hash.update(&piece[..read]);
        to.write_all(&piece[..read])?;
    }
}

/// Writes `from` as the photo of that hash; one that is there is kept. Bytes that are others are not kept.
pub(super) fn put_photo(to: &Path, part: &str, hash: &str, from: &mut dyn Read) -> io::Result<()> {
    let put = crate::files::save::put_with(to, part, |file: &mut File| {
        let got = copy_hashed(from, file, Limits::default().most_bytes)?;
        if got == hash { Ok(()) } else { Err(io::Error::other("it changed while it was read")) }
    });
    match put {
        Err(e) if e.kind() == io::ErrorKind::AlreadyExists => Ok(()),
        other => other,
    }
}
