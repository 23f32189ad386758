use super::conflict::Holders;
use super::name::{face_name, record_name};
use super::photo_source::put_photo;
use super::write::record_text;
use super::{FaceFile, Kept, KnownSet, Layout, PhotoSource, ToldFile, face_text};
use crate::files::problem::Problem;
use crate::files::save::put;
use crate::known::{KnownFace, KnownPhoto, KnownSteel, Seen};
use std::collections::HashMap;
use std::fs::File;
use std::io;

/// A record that is to be added.
#[derive(Debug, Clone)]
pub struct NewRecord {
    /// The label; photos are taken from `photos`, a description from `told`.
    pub steel: KnownSteel,
    /// Where its photos are; none for a description.
    pub photos: Vec<PhotoSource>,
    /// What was told.
    pub told: Option<ToldFile>,
}

/// What became of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Added {
    /// It is on disk under this name.
    New {
        /// Its name.
        name: String,
        /// Photos that were left out, as a record of the same label has them: photo and record.
        left_out: Vec<(String, String)>,
    },
    /// It was there already, in this record; nothing was changed.
    There(String),
}

impl Added {
    /// The record's name.
    pub fn name(&self) -> &str {
        match self {
            Self::New { name, .. } | Self::There(name) => name,
        }
    }
}

impl KnownSet {
    /// What stands against new records: pictures that are in the set, or among them, under two labels.
    pub fn contradictions<'r>(&self, new: &'r [NewRecord]) -> Vec<Problem> {
        let holders = Holders::of(self);
        let photos = new.iter().flat_map(|r| r.photos.iter().map(move |p| (&p.photo, &r.steel)));
        let mut first: HashMap<&'r str, &'r KnownSteel> = HashMap::new();
        let problem = |(photo, steel): (&'r KnownPhoto, &'r KnownSteel)| {
            let before = *first.entry(photo.hash.as_str()).or_insert(steel);
            holders.contradiction(photo, steel).or_else(|| two_labels(photo, before, steel))
        };
        photos.filter_map(problem).collect()
    }

    /// Adds a record: photos first, then the record, and then it is on disk. The same again changes nothing.
    pub fn add(&mut self, new: NewRecord) -> Result<Added, Vec<Problem>> {
        let contradictions = self.contradictions(std::slice::from_ref(&new));
        if !contradictions.is_empty() {
            return Err(contradictions);
        }
        let NewRecord { mut steel, mut photos, told } = new;
        let mut left_out = Vec::new();
        if told.is_none() {
            let before = photos.first().cloned();
            let holders = Holders::of(self);
            let mut seen = std::collections::BTreeSet::new();
            photos.retain(|source| {
                let holder = holders.holder(&source.photo).map(|(name, _)| name.clone());
                let first = seen.insert(source.photo.hash.clone());
                left_out.extend(holder.iter().map(|name| (source.photo.name.clone(), name.clone())));
                first && holder.is_none()
            });
            match (photos.is_empty(), before, left_out.first()) {
                (true, Some(_), Some((_, name))) => return Ok(Added::There(name.clone())),
                (true, ..) => return Err(vec![nothing(&steel)]),
                _ => steel.seen = Seen::Photos(photos.iter().map(|p| p.photo.clone()).collect()),
            }
        } else if let Some(told) = &told {
            steel.seen = Seen::Told(Box::new(told.says.clone()));
        }
        let name = record_name(&steel, told.as_ref());
        if self.record(&name).is_some() {
            return Ok(Added::There(name));
        }
        for source in photos.iter().filter(|source| source.photo.link.is_none()) {
            self.copy(source).map_err(|e| vec![not_kept(&source.path.to_string_lossy(), &e)])?;
        }
        let text = record_text(&steel, told.as_ref()).ok_or_else(|| vec![nothing(&steel)])?;
        self.put_record(&name, Kept::Steel(steel), &text, left_out)
    }

    /// Adds a coupon whose case was measured another way. The same again changes nothing.
    pub fn add_face(&mut self, face: KnownFace, told: &FaceFile) -> Result<Added, Vec<Problem>> {
        let name = face_name(&face, told);
        if self.face(&name).is_some() {
            return Ok(Added::There(name));
        }
        let text = face_text(&face, told);
        let text = text.ok_or_else(|| vec![Problem::error(&face.name, "the description cannot be kept")])?;
        self.put_record(&name, Kept::Face(Box::new(face)), &text, Vec::new())
    }

    /// Writes a record's file; one of that name that is there is kept.
    pub(super) fn put_record(
        &mut self,
        name: &str,
        kept: Kept,
        text: &str,
        left_out: Vec<(String, String)>,
    ) -> Result<Added, Vec<Problem>> {
        match put(&self.layout.record(name), Layout::PART, text.as_bytes()) {
            Ok(()) => {}
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => return Ok(Added::There(name.to_string())),
            Err(e) => return Err(vec![not_kept(name, &e)]),
        }
        self.take(name.to_string(), kept);
        self.sort();
        Ok(Added::New { name: name.to_string(), left_out })
    }

    fn copy(&self, source: &PhotoSource) -> io::Result<()> {
        let photo = &source.photo;
        let to = self.layout.photos().join(format!("{}.{}", photo.hash, photo.ending()));
        put_photo(&to, Layout::PART, &photo.hash, &mut File::open(&source.path)?)
    }
}

/// The same picture in two new records.
fn two_labels(photo: &KnownPhoto, one: &KnownSteel, other: &KnownSteel) -> Option<Problem> {
    let told = |s: &KnownSteel| format!("{} on rig {}, session {}", s.name, s.rig, s.session);
    let message = format!("the same picture is given as {} and as {}", told(one), told(other));
    let problem = Problem::error(&photo.name, message).help("one of the two labels is wrong: leave one out");
    (!one.same_label(other)).then_some(problem)
}

fn nothing(steel: &KnownSteel) -> Problem {
    Problem::error(&steel.name, "nothing tells what its sparks are like")
        .help("give photos of its sparks, or --told with a description")
}

/// What could not be written, and that nothing is half there.
pub(super) fn not_kept(what: &str, e: &io::Error) -> Problem {
    let help = match e.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded | io::ErrorKind::FileTooLarge => {
            "nothing was added; make room on that disk, or put the set elsewhere with --set"
        }
        _ => "nothing was added; check that the set may be written to, then do it again",
    };
    Problem::error(what, format!("it cannot be kept: {e}")).help(help)
}
