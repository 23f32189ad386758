use std::fs::{self, File, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Writes a whole file or leaves what was there: to a neighbour first, flushed to disk, then renamed.
/// A link is followed. What is there and is no ordinary file, or may not be written, is left alone. A
/// file that is replaced keeps its permissions.
pub fn save(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let (path, old) = target(path)?;
    let mut file = builder(old).tempfile_in(folder_of(&path))?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path).map_err(|e| e.error)?;
    Ok(())
}

/// Writes a whole new file or nothing, and is done when it is on disk under its name. What is there is left alone:
/// [`io::ErrorKind::AlreadyExists`]. `part` begins the name of the neighbour.
pub(super) fn put(path: &Path, part: &str, bytes: &[u8]) -> io::Result<()> {
    put_with(path, part, |file| file.write_all(bytes))
}

/// The same; `write` fills the file.
pub(super) fn put_with(
    path: &Path,
    part: &str,
    write: impl FnOnce(&mut File) -> io::Result<()>,
) -> io::Result<()> {
    if path.symlink_metadata().is_ok() {
        return Err(io::ErrorKind::AlreadyExists.into());
    }
    let folder = folder_of(path);
    let mut file = builder(None).prefix(part).tempfile_in(folder)?;
    write(file.as_file_mut())?;
    file.as_file().sync_all()?;
    file.persist_noclobber(path).map_err(|e| e.error)?;
    sync_folder(folder)
}

/// Makes a folder with those above it, and is done when they are on disk.
pub(super) fn make_folders(path: &Path) -> io::Result<()> {
    if path.is_dir() {
        return Ok(());
    }
    fs::create_dir_all(path)?;
    path.ancestors().skip(1).take(2).filter(|p| p.is_dir()).try_for_each(sync_folder)
}

/// Waits until the names in a folder are on disk; nothing where a system knows no such thing.
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Where to write, with the permissions of what is there.
fn target(path: &Path) -> io::Result<(PathBuf, Option<Permissions>)> {
    let there = match fs::metadata(path) {
        Ok(there) => there,
        Err(e) if e.kind() == io::ErrorKind::NotFound => return Ok((path.to_path_buf(), None)),
        Err(e) => return Err(e),
    };
    if !there.is_file() {
        return Err(io::Error::other("there is a folder, a pipe or a device of that name"));
    }
    if there.permissions().readonly() {
        return Err(io::Error::other("the file of that name is read-only"));
    }
    Ok((fs::canonicalize(path)?, Some(there.permissions())))
}

#[cfg_attr(not(unix), allow(unused_variables))]
fn builder(old: Option<Permissions>) -> tempfile::Builder<'static, 'static> {
    #[allow(unused_mut)]
    let mut builder = tempfile::Builder::new();
    // as any file that a program makes; a temporary one would be its owner's alone
    #[cfg(unix)]
    builder.permissions(old.unwrap_or_else(|| std::os::unix::fs::PermissionsExt::from_mode(0o666)));
    builder
}

/// Whether two paths lead to the same file that is there.
pub fn same_file(a: &Path, b: &Path) -> bool {
    matches!((fs::canonicalize(a), fs::canonicalize(b)), (Ok(a), Ok(b)) if a == b)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn replaces_whole_and_follows_links() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.csv");
        save(&path, b"one").unwrap();
        save(&path, b"two").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"two");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "a neighbour was left behind");
        #[cfg(unix)]
        {
            let link = folder.path().join("link.csv");
            std::os::unix::fs::symlink(&path, &link).unwrap();
            save(&link, b"three").unwrap();
            assert_eq!(fs::read(&path).unwrap(), b"three");
            assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
            assert!(same_file(&link, &path));
        }
    }

    #[test]
    fn leaves_folders_and_read_only_files_alone() {
        let folder = tempfile::tempdir().unwrap();
        assert!(save(folder.path(), b"x").is_err());
        let path = folder.path().join("kept.csv");
        save(&path, b"kept").unwrap();
        let mut permissions = fs::metadata(&path).unwrap().permissions();
        permissions.set_readonly(true);
        fs::set_permissions(&path, permissions).unwrap();
        assert!(save(&path, b"lost").is_err());
        assert_eq!(fs::read(&path).unwrap(), b"kept");
    }
}
