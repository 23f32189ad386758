use super::layout::MOST_BYTES;
use super::name::is_name;
use super::{Kept, Layout};
use crate::files::Models;
use crate::files::problem::Problem;
use crate::files::run_sheet::read::{cannot_read, read_up_to};
use crate::files::words::closest;
use crate::known::{KnownFace, KnownSteel};
use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::thread;

/// A set of known steels, as it was on disk when it was opened.
#[derive(Debug)]
pub struct KnownSet {
    pub(super) layout: Layout,
    pub(super) models: &'static Models,
    pub(super) records: Vec<(String, KnownSteel)>,
    pub(super) faces: Vec<(String, KnownFace)>,
    broken: Vec<Problem>,
    broken_names: BTreeSet<String>,
}

/// A record's name with what its file holds; `None`: it is not there any more.
type ReadFile = (String, Option<Result<Kept, Vec<Problem>>>);

impl KnownSet {
    /// Most records of a set: judgement.
    const MOST: usize = 1_000_000;

    /// Opens a set and reads all its records; those that are broken are left out and told by [`Self::broken`].
    pub fn open(folder: &Path) -> Result<Self, Vec<Problem>> {
        let models = models()?;
        let layout = Layout::of(folder);
        layout.check(models)?;
        Self::read(layout, models)
    }

    /// The same, but makes the set if there is none, and clears what was left half done long ago.
    pub fn open_or_make(folder: &Path) -> Result<Self, Vec<Problem>> {
        let models = models()?;
        let layout = Layout::of(folder);
        layout.prepare(models)?;
        Self::read(layout, models)
    }

    /// Where a set is if no folder is named: `snapspark/known-steels` in the platform's folder for data. `None`: the
    /// platform does not say.
    pub fn default_folder() -> Option<PathBuf> {
        use etcetera::BaseStrategy;
        let base = etcetera::choose_base_strategy().ok()?;
        Some(base.data_dir().join("snapspark").join("known-steels"))
    }

    /// Its folder.
    pub fn folder(&self) -> &Path {
        self.layout.folder()
    }

    /// Where things are in it.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// The records with their names, by session and name.
    pub fn records(&self) -> &[(String, KnownSteel)] {
        &self.records
    }

    /// The coupons whose case was measured another way, with their names, by session and name.
    pub fn faces(&self) -> &[(String, KnownFace)] {
        &self.faces
    }

    /// The coupon of that name.
    pub fn face(&self, name: &str) -> Option<&KnownFace> {
        self.faces.iter().find(|(n, _)| n == name).map(|(_, face)| face)
    }

    /// What is wrong with records that cannot be read.
    pub fn broken(&self) -> &[Problem] {
        &self.broken
    }

    /// How many records cannot be read.
    pub fn broken_records(&self) -> usize {
        self.broken_names.len()
    }

    /// The record of that name.
    pub fn record(&self, name: &str) -> Option<&KnownSteel> {
        self.records.iter().find(|(n, _)| n == name).map(|(_, steel)| steel)
    }

    /// The one name that begins so, broken ones included.
    pub fn name_of(&self, beginning: &str) -> Result<&str, Box<Problem>> {
        let faces = || self.faces.iter().map(|(name, _)| name);
        let steels = || self.records.iter().map(|(name, _)| name);
        let all = || steels().chain(faces()).chain(&self.broken_names).map(String::as_str);
        one_of(beginning, all, "record", "`snapspark known list` lists all")
    }

    /// Names of the records that were removed, in order.
    pub fn removed(&self) -> Vec<String> {
        let mut names = toml_names(&self.folder().join(Layout::REMOVED)).unwrap_or_default();
        names.sort();
        names
    }

    fn read(layout: Layout, models: &'static Models) -> Result<Self, Vec<Problem>> {
        let folder = layout.records();
        let cannot = |message: String| {
            let shown = folder.display().to_string();
            vec![Problem::error(&shown, message).help("check the folder, and that you may read it")]
        };
        let names = match toml_names(&folder) {
            Err(e) if e.kind() == io::ErrorKind::NotFound => Vec::new(),
            other => other.map_err(|e| cannot(cannot_read(&e)))?,
        };
        if names.len() > Self::MOST {
            return Err(cannot(format!("more than {} records", Self::MOST)));
        }
        let mut set = Self {
            layout,
            models,
            records: Vec::new(),
            faces: Vec::new(),
            broken: Vec::new(),
            broken_names: BTreeSet::new(),
        };
        let mut files = in_parallel(&names, |name| set.read_file(name));
        files.sort_by(|a, b| a.0.cmp(&b.0));
        for (name, file) in files {
            match file {
                Some(Ok(kept)) => set.take(name, kept),
                Some(Err(problems)) => {
                    set.broken.extend(problems);
                    set.broken_names.insert(name);
                }
                None => {}
            }
        }
        set.sort();
        Ok(set)
    }

    /// Takes in what was read or added; [`Self::sort`] comes after the last.
    pub(super) fn take(&mut self, name: String, kept: Kept) {
        match kept {
            Kept::Steel(steel) => self.records.push((name, steel)),
            Kept::Face(face) => self.faces.push((name, *face)),
        }
    }

    pub(super) fn sort(&mut self) {
        self.records.sort_by(|(a, x), (b, y)| x.session.cmp(&y.session).then_with(|| a.cmp(b)));
        self.faces.sort_by(|(a, x), (b, y)| x.session.cmp(&y.session).then_with(|| a.cmp(b)));
    }

    fn read_file(&self, name: &str) -> ReadFile {
        let path = self.layout.record(name);
        let shown = path.to_string_lossy();
        let refused = |message: &str, help: &str| Some(Err(vec![Problem::error(&shown, message).help(help)]));
        let read = if is_name(name) {
            match read_up_to(&path, MOST_BYTES + 1) {
                Ok(bytes) if bytes.len() as u64 > MOST_BYTES => refused(
                    &format!("longer than {} KiB, so it is no record", MOST_BYTES / 1024),
                    "take it out",
                ),
                Ok(bytes) => Some(Kept::read_bytes(bytes, &shown, self.models)),
                Err(e) if e.kind() == io::ErrorKind::NotFound => None,
                Err(e) => refused(&cannot_read(&e), "check that you may read it"),
            }
        } else {
            refused("no name of a record", "rename it; allowed: up to 95 letters a-z, digits, -, _ and .")
        };
        (name.to_string(), read)
    }
}

pub(super) fn models() -> Result<&'static Models, Vec<Problem>> {
    Models::shared().map_err(|e| vec![Problem::error("models", e.to_string())])
}

/// Names of the TOML files of a folder, without their ending; hidden and unfinished ones are none.
pub(super) fn toml_names(folder: &Path) -> io::Result<Vec<String>> {
    let mut names = Vec::new();
    for entry in fs::read_dir(folder)? {
        let name = entry?.file_name().to_string_lossy().into_owned();
        if let Some(name) = name.strip_suffix(".toml").filter(|n| !n.starts_with('.')) {
            names.push(name.to_string());
        }
    }
    Ok(names)
}

/// Does the same for each of many, in the order given, on as many threads as there are processors, at least two: they
/// wait for the disk by turns.
pub(super) fn in_parallel<'i, I: Sync, T: Send>(items: &'i [I], work: impl Fn(&'i I) -> T + Sync) -> Vec<T> {
    /// Fewer are not worth a thread.
    const FEW: usize = 64;
    let threads = thread::available_parallelism().map_or(2, usize::from).max(2);
    if items.len() < FEW {
        return items.iter().map(work).collect();
    }
    let work = &work;
    thread::scope(|scope| {
        let parts = items.chunks(items.len().div_ceil(threads));
        let parts: Vec<_> =
            parts.map(|part| scope.spawn(move || part.iter().map(work).collect::<Vec<T>>())).collect();
        // a thread ends early only if it panics, which nothing here does
        parts.into_iter().filter_map(|part| part.join().ok()).flatten().collect()
    })
}

/// The one name of `all` that is or begins with `beginning`.
pub(super) fn one_of<'n, N: Iterator<Item = &'n str>>(
    beginning: &str,
    all: impl Fn() -> N,
    what: &str,
    where_listed: &str,
) -> Result<&'n str, Box<Problem>> {
    let beginning = beginning.trim().trim_end_matches(".toml");
    if let Some(exact) = all().find(|name| *name == beginning) {
        return Ok(exact);
    }
    let problem = |message: &str, help: String| Err(Box::new(Problem::error(beginning, message).help(help)));
    let mut starting = all().filter(|name| !beginning.is_empty() && name.starts_with(beginning));
    match (starting.next(), starting.next()) {
        (Some(one), None) => Ok(one),
        (Some(one), Some(other)) => {
            let more = starting.count();
            let more = if more > 0 { format!(" and {more} more") } else { String::new() };
            problem(
                &format!("several {what}s begin so"),
                format!("write more of the name: {one}, {other}{more}"),
            )
        }
        _ => {
            let near =
                closest(beginning, all()).map(|near| format!("did you mean {near}?\n")).unwrap_or_default();
            problem(&format!("there is no {what} of that name"), format!("{near}{where_listed}"))
        }
    }
}
