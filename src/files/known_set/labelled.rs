use super::{Labels, NewRecord, PhotoSource};
use crate::files::PhotoFiles;
use crate::files::problem::Problem;
use crate::known::{KnownSteel, Session};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Photos of a folder put together by their labels.
#[derive(Debug, Clone, Default)]
pub struct Labelled {
    /// One record for each steel, state, rig and session, in the order of the table.
    pub records: Vec<NewRecord>,
    /// Photos of the folder that the table does not list.
    pub unlisted: Vec<String>,
}

impl Labels {
    /// Reads the photos that the rows name from `folder`; `file` is the table's name. Gives all that is wrong.
    pub fn photos(&self, folder: &Path, file: &str, link: bool) -> Result<Labelled, Vec<Problem>> {
        let mut found = Labelled::default();
        let mut problems = Vec::new();
        let mut listed = BTreeSet::new();
        for row in &self.rows {
            let path = folder.join(&row.photo);
            let at = |problem: Problem| Problem { line: Some(row.line), file: file.to_string(), ..problem };
            match PhotoSource::read(&path, row.touch, link) {
                Err(p) => {
                    let message = format!("the photo {}: {}", row.photo, p.message);
                    problems.push(at(Problem { message, ..*p }.in_field("photo")));
                }
                Ok(source) => {
                    listed.insert(canonical(&path));
                    match row.session.clone().or_else(|| source.taken.clone()) {
                        Some(session) => {
                            found.put(row.label.on(session), source, row.line, file, &mut problems);
                        }
                        None => problems.push(at(no_day(&row.photo).in_field("session"))),
                    }
                }
            }
        }
        // a folder without a photo was told above
        let all = PhotoFiles::named(&[folder.to_string_lossy()]).unwrap_or_default();
        let unlisted = all.paths().iter().filter(|path| !listed.contains(&canonical(path)));
        found.unlisted =
            unlisted.filter_map(|p| Some(p.file_name()?.to_string_lossy().into_owned())).collect();
        if problems.is_empty() { Ok(found) } else { Err(problems) }
    }
}

fn canonical(path: &Path) -> PathBuf {
    std::fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf())
}

/// A photo of which nobody says when it was taken.
fn no_day(photo: &str) -> Problem {
    Problem::error(photo, "nothing says when it was taken")
        .help("add a column session, or say --session for all of them, such as 2026-03-14")
}

impl Labelled {
    fn put(
        &mut self,
        steel: KnownSteel,
        source: PhotoSource,
        line: usize,
        file: &str,
        problems: &mut Vec<Problem>,
    ) {
        let same = |r: &&mut NewRecord| {
            let known = &r.steel;
            let kind = |s: &KnownSteel| (s.name.to_lowercase(), s.state, s.reference);
            kind(known) == kind(&steel) && known.same_sitting(&steel)
        };
        match self.records.iter_mut().find(same) {
            Some(record) if record.steel.carbon != steel.carbon => {
                let message = format!("{} has another carbon here than in a row above", steel.name);
                let help = "write the same carbon, or another name for another piece";
                problems.push(Problem::error(file, message).at_line(line).in_field("carbon").help(help));
            }
            Some(record) => {
                record.photos.push(source);
                if record.steel.notes.is_empty() {
                    record.steel.notes = steel.notes;
                }
            }
            None => self.records.push(NewRecord { steel, photos: vec![source], told: None }),
        }
    }
}

/// The day on which all photos were taken; the error tells why there is none.
pub fn session_of(photos: &[PhotoSource]) -> Result<Session, Box<Problem>> {
    let help = "say --session, such as --session 2026-03-14";
    let mut days = photos.iter().map(|p| (&p.photo.name, p.taken.as_ref()));
    let Some((first, Some(day))) = days.next() else {
        return Err(Box::new(Problem::error("--session", "nothing says when it was").help(help)));
    };
    for (name, other) in days {
        if other != Some(day) {
            let other = other.map_or("no day".to_string(), ToString::to_string);
            let message = format!("the photos are not of one day: {first} says {day}, {name} says {other}");
            return Err(Box::new(Problem::error("--session", message).help(help)));
        }
    }
    Ok(day.clone())
}
