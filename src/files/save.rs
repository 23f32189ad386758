use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Writes a whole file or leaves what was there: to a neighbour first, flushed to disk, then renamed.
pub fn save(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path).map_err(|e| e.error)?;
    Ok(())
}

/// Renames a file to `NAME.bak`, `NAME.bak2` and so on, the first that is free, and tells which.
pub fn set_aside(path: &Path) -> io::Result<PathBuf> {
    const MOST: usize = 99;
    for number in 1..=MOST {
        let mut name = path.as_os_str().to_os_string();
        name.push(if number == 1 { ".bak".to_string() } else { format!(".bak{number}") });
        let aside = PathBuf::from(name);
        if aside.symlink_metadata().is_err_and(|e| e.kind() == io::ErrorKind::NotFound) {
            std::fs::rename(path, &aside)?;
            return Ok(aside);
        }
    }
    Err(io::Error::other(format!("{MOST} old ones stand beside it already")))
}
