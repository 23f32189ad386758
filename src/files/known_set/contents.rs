use super::Kept;
use super::entry::Place;
use super::layout::{MOST_BYTES, check_version};
use super::photo_source::copy_hashed;
use crate::files::Models;
use crate::files::problem::{Problem, shown};
use crate::photo::Limits;
use std::collections::BTreeMap;
use std::io::{self, Read};

/// What an archive holds, checked: every record can be read, every photo has the bytes that its name says.
#[derive(Debug)]
pub struct Contents {
    file: String,
    set: bool,
    entries: usize,
    text_bytes: u64,
    pub(super) records: BTreeMap<String, (Vec<u8>, Kept)>,
    /// Names of the files of photos, by hash.
    pub(super) photos: BTreeMap<String, String>,
    problems: Vec<Problem>,
}

impl Contents {
    /// Most files of an archive: judgement, ten times a set of 10,000 records of three photos.
    const MOST_ENTRIES: usize = 400_000;
    /// Most bytes of all records together: they are held in memory.
    const MOST_TEXT: u64 = 128 << 20;
    /// Broken records are counted up to here; nobody reads more.
    const MOST_PROBLEMS: usize = 1000;

    /// Nothing yet, of the archive called `file`.
    pub(super) fn new(file: &str) -> Self {
        Self {
            file: file.to_string(),
            set: false,
            entries: 0,
            text_bytes: 0,
            records: BTreeMap::new(),
            photos: BTreeMap::new(),
            problems: Vec::new(),
        }
    }

    /// How many records it holds.
    pub fn records(&self) -> usize {
        self.records.len()
    }

    /// How many photos it holds.
    pub fn photos(&self) -> usize {
        self.photos.len()
    }

    /// Takes in one file of `size` bytes. An error ends the reading: the archive as a whole is not to be trusted.
    pub(super) fn take(
        &mut self,
        path: &str,
        folder: bool,
        size: u64,
        from: &mut dyn Read,
        models: &Models,
    ) -> Result<(), Box<Problem>> {
        self.entries += 1;
        if self.entries > Self::MOST_ENTRIES {
            return Err(self.refused(&format!("more than {} files", Self::MOST_ENTRIES)));
        }
        let Some(place) = Place::of(path, folder) else {
            return Err(self.refused(&format!("`{}` is no place inside a set", shown(path))));
        };
        let most = match place {
            Place::Photo(..) => Limits::default().most_bytes,
            _ => MOST_BYTES,
        };
        if size > most && place != Place::Left {
            return Err(
                self.refused(&format!("`{}` is of {size} bytes, at most {most} are allowed", shown(path)))
            );
        }
        let name = format!("{}: {path}", self.file);
        let damaged = |e: &io::Error| damaged(&self.file, e);
        match place {
            Place::Left => {}
            Place::Set => {
                let bytes = whole(from, size).map_err(|e| damaged(&e))?;
                check_version(bytes, &name, models).map_err(first)?;
                self.set = true;
            }
            Place::Record(record) => {
                self.text_bytes += size;
                if self.text_bytes > Self::MOST_TEXT {
                    return Err(self.refused(&format!("records of more than {} MiB", Self::MOST_TEXT >> 20)));
                }
                let bytes = whole(from, size).map_err(|e| damaged(&e))?;
                match Kept::read_bytes(bytes.clone(), &name, models) {
                    Ok(kept) => self.take_record(record, &name, bytes, kept),
                    Err(problems) if self.problems.len() < Self::MOST_PROBLEMS => {
                        self.problems.extend(problems);
                    }
                    Err(_) => {}
                }
            }
            Place::Photo(hash, file) => {
                let got = copy_hashed(from, &mut io::sink(), size).map_err(|e| damaged(&e))?;
                if got != hash {
                    return Err(
                        self.refused(&format!("the photo `{file}` does not hold the bytes of its name"))
                    );
                }
                self.photos.insert(hash, file);
            }
        }
        Ok(())
    }

    fn take_record(&mut self, record: String, name: &str, bytes: Vec<u8>, kept: Kept) {
        if kept.photos().iter().any(|photo| photo.link.is_some()) {
            let help = "export the set again: that takes linked photos along";
            self.problems
                .push(Problem::error(name, "a photo that is linked from outside the archive").help(help));
        }
        if self.records.insert(record, (bytes, kept)).is_some() {
            self.problems
                .push(Problem::error(name, "the record is there twice").help("export the set again"));
        }
    }

    /// The whole, if nothing is wrong or missing.
    pub(super) fn finish(mut self) -> Result<Self, Vec<Problem>> {
        if !self.set {
            let message = "no archive of known steels: it holds no set.toml";
            let help = "give what `snapspark known export` wrote";
            return Err(vec![Problem::error(&self.file, message).help(help)]);
        }
        for (name, (_, kept)) in &self.records {
            let missing = kept.photos().iter().filter(|p| !self.photos.contains_key(&p.hash)).count();
            if missing > 0 && self.problems.len() < Self::MOST_PROBLEMS {
                let message = format!("photos of the record {name} are not in the archive: {missing}");
                self.problems.push(Problem::error(&self.file, message).help("export the set again"));
            }
        }
        if self.problems.is_empty() { Ok(self) } else { Err(self.problems) }
    }

    pub(super) fn refused(&self, message: &str) -> Box<Problem> {
        Box::new(Problem::error(&self.file, message).help("nothing was imported; export the set again"))
    }
}

/// An archive that ends too early or is no archive.
pub(super) fn damaged(file: &str, e: &io::Error) -> Box<Problem> {
    let why: String = e.to_string().chars().filter(|c| !c.is_control()).collect();
    let message = format!("the archive is cut short or damaged: {}", shown(&why));
    Box::new(Problem::error(file, message).help("nothing was imported; copy or export it again"))
}

fn first(problems: Vec<Problem>) -> Box<Problem> {
    let none = || Problem::error("set.toml", "the set cannot be read");
    Box::new(problems.into_iter().next().unwrap_or_else(none))
}

/// All bytes of a file whose size was checked.
fn whole(from: &mut dyn Read, size: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(size).read_to_end(&mut bytes)?;
    if bytes.len() as u64 == size { Ok(bytes) } else { Err(io::ErrorKind::UnexpectedEof.into()) }
}
