use super::PhotoFiles;
use crate::photo::{Unusable, UnusedPhoto};
use std::path::{Path, PathBuf};

/// The photos that paths of a sheet mean, from `folder`: folders and patterns become the photos in them. Paths that mean
/// none go to `unused`.
pub(super) fn named_photos<R>(
    paths: &[String],
    folder: &Path,
    unused: &mut Vec<UnusedPhoto<R>>,
) -> Vec<String> {
    paths.iter().flat_map(|path| named(path, folder, unused)).collect()
}

fn named<R>(path: &str, folder: &Path, unused: &mut Vec<UnusedPhoto<R>>) -> Vec<String> {
    let there = folder.join(path);
    let several = there.is_dir() || (path.contains(['*', '?', '[']) && !there.exists());
    if !several {
        return vec![path.to_string()];
    }
    match PhotoFiles::named(&[there.to_string_lossy()]) {
        Ok(files) => {
            let inside =
                |path: &PathBuf| path.strip_prefix(folder).unwrap_or(path).to_string_lossy().into_owned();
            files.paths().iter().map(inside).collect()
        }
        Err(problems) => {
            unused.extend(problems.into_iter().map(|p| UnusedPhoto {
                name: path.to_string(),
                why: Unusable::NotRead { message: p.message, help: p.help.unwrap_or_default() },
            }));
            Vec::new()
        }
    }
}
