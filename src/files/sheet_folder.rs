use super::Problem;
use super::run_sheet::MOST_BYTES;
use super::run_sheet::read::read_up_to;
use sha2::{Digest, Sha256};
use std::fs;
use std::path::{Path, PathBuf};

/// Most sheets that are taken from a folder: each is solved in many drawn runs (judgement).
const MOST: usize = 200;

/// A run sheet that lies in a folder.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct SheetFile {
    /// Its name in the folder, for messages.
    pub name: String,
    /// Where it lies.
    pub path: PathBuf,
}

impl SheetFile {
    /// What tells its bytes from others. `None`: it cannot be read.
    pub fn hash(path: &Path) -> Option<Vec<u8>> {
        Some(Sha256::digest(read_up_to(path, MOST_BYTES).ok()?).to_vec())
    }
}

/// All `*.toml` in `folder` and in the folders that lie in it, by name; links to folders are not followed.
pub fn sheets_in(folder: &Path) -> Result<Vec<SheetFile>, Box<Problem>> {
    let name = folder.display().to_string();
    let error = |message: String, help: &str| Box::new(Problem::error(&name, message).help(help));
    let cannot = |e: std::io::Error| {
        let message = match e.kind() {
            std::io::ErrorKind::NotFound => "no such folder".to_string(),
            std::io::ErrorKind::NotADirectory => "it is a file, not a folder".to_string(),
            _ => format!("the folder cannot be read: {e}"),
        };
        error(message, "name the folder in which the sheets of earlier runs lie, such as --history runs")
    };
    let mut found = Vec::new();
    let mut folders = vec![(folder.to_path_buf(), String::new())];
    let mut inner = Vec::new();
    for depth in 0..2 {
        for (folder, before) in std::mem::take(&mut folders) {
            let entries = match fs::read_dir(&folder) {
                Ok(entries) => entries,
                Err(e) if depth == 0 => return Err(cannot(e)),
                // a folder in it that may not be read holds nothing that can be used
                Err(_) => continue,
            };
            for entry in entries.flatten() {
                let name = entry.file_name().to_string_lossy().into_owned();
                let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
                if is_folder {
                    inner.push((entry.path(), format!("{name}/")));
                } else if is_sheet(&name) {
                    found.push(SheetFile { name: format!("{before}{name}"), path: entry.path() });
                }
                if found.len() > MOST {
                    return Err(error(
                        format!("more than {MOST} run sheets"),
                        "put those of this furnace into a folder of their own",
                    ));
                }
            }
        }
        folders.append(&mut inner);
    }
    if found.is_empty() {
        return Err(error(
            "no run sheet (*.toml) in this folder or in one in it".into(),
            "put the sheets of earlier runs there, or leave --history out",
        ));
    }
    found.sort();
    Ok(found)
}

fn is_sheet(name: &str) -> bool {
    let ending = Path::new(name).extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"));
    ending && !name.starts_with('.')
}
