use super::archive::CheckedArchive;
use super::conflict::Holders;
use super::entry::Place;
use super::photo_source::put_photo;
use super::{Added, Archive, Kept, KnownSet, Layout};
use crate::files::problem::Problem;
use crate::known::KnownSteel;
use std::collections::{BTreeSet, HashMap};
use std::io::Read;

/// What became of an archive.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Imported {
    /// Names of the records that are new.
    pub new: Vec<String>,
    /// Names of those that were there, the same.
    pub there: Vec<String>,
    /// Those that were not taken over.
    pub skipped: Vec<(String, Skipped)>,
}

/// Why a record was not taken over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Skipped {
    /// A record of that name with other content is there.
    OtherContent,
    /// One of its photos is in this record, under another label.
    OtherLabel(String),
    /// One of its photos is in this record already, under the same label.
    SamePhotos(String),
}

impl KnownSet {
    /// Takes over the records of an archive with their photos. What is there is never changed.
    pub fn import(&mut self, checked: CheckedArchive) -> Result<Imported, Vec<Problem>> {
        let CheckedArchive { archive, contents } = checked;
        let mut imported = Imported::default();
        let mut new = Vec::new();
        let there: HashMap<&str, &KnownSteel> = self.records.iter().map(|(n, s)| (n.as_str(), s)).collect();
        let holders = Holders::of(self);
        for (name, (bytes, kept)) in contents.records {
            match self.stands_against(&name, &kept, &there, &holders) {
                Ok(true) => imported.there.push(name),
                Ok(false) => new.push((name, bytes, kept)),
                Err(why) => imported.skipped.push((name, why)),
            }
        }
        let photos = new.iter().flat_map(|(_, _, kept)| kept.photos());
        let wanted: BTreeSet<String> = photos.map(|p| p.hash.clone()).collect();
        self.put_photos(&archive, &wanted)?;
        for (name, bytes, kept) in new {
            // its text was read as a record before
            let text = String::from_utf8_lossy(&bytes).into_owned();
            match self.put_record(&name, kept, &text, Vec::new())? {
                Added::New { name, .. } => imported.new.push(name),
                Added::There(name) => imported.skipped.push((name, Skipped::OtherContent)),
            }
        }
        Ok(imported)
    }

    /// Whether the same record is there; the error says what other one is.
    fn stands_against(
        &self,
        name: &str,
        kept: &Kept,
        there: &HashMap<&str, &KnownSteel>,
        holders: &Holders<'_>,
    ) -> Result<bool, Skipped> {
        let same = match kept {
            Kept::Steel(steel) => there.get(name).map(|there| same(there, steel)),
            Kept::Face(face) => self.face(name).map(|there| *there == **face),
        };
        if let Some(same) = same {
            return if same { Ok(true) } else { Err(Skipped::OtherContent) };
        }
        if self.layout.record(name).exists() {
            return Err(Skipped::OtherContent);
        }
        let Kept::Steel(steel) = kept else { return Ok(false) };
        for photo in steel.seen.photos() {
            if let Some((holder, other)) = holders.holder(photo) {
                let holder = holder.clone();
                return Err(if other.same_label(steel) {
                    Skipped::SamePhotos(holder)
                } else {
                    Skipped::OtherLabel(holder)
                });
            }
        }
        Ok(false)
    }

    fn put_photos(&self, archive: &Archive, wanted: &BTreeSet<String>) -> Result<(), Vec<Problem>> {
        let to = self.layout.photos();
        let mut take = |path: &str, folder: bool, _: u64, from: &mut dyn Read| match Place::of(path, folder) {
            Some(Place::Photo(hash, file)) if wanted.contains(&hash) => {
                let put = put_photo(&to.join(&file), Layout::PART, &hash, from);
                put.map_err(|e| Box::new(super::add::not_kept(path, &e)))
            }
            _ => Ok(()),
        };
        archive.each(&mut take).map_err(|p| vec![*p])
    }
}

/// Whether two records say the same, wherever their photos are.
fn same(a: &KnownSteel, b: &KnownSteel) -> bool {
    let photos = |s: &KnownSteel| -> Vec<_> {
        s.seen.photos().iter().map(|p| (p.name.clone(), p.hash.clone(), p.touch)).collect()
    };
    let told = a.seen.photos().is_empty() && b.seen.photos().is_empty();
    a.same_label(b) && a.notes == b.notes && if told { a.seen == b.seen } else { photos(a) == photos(b) }
}
