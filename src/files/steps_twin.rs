//! The JSON form of what was done to a set of known steels; documented on [`super::Answer`].

use super::known_set::{Added, Imported, Skipped};
use serde::Serialize;

/// One thing that was done to a set.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SetStep {
    done: &'static str,
    name: String,
    /// Why it was skipped.
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<&'static str>,
    /// The record that stands against it.
    #[serde(skip_serializing_if = "Option::is_none")]
    record: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    left_out: Vec<LeftOutTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    records: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    photos: Option<usize>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct LeftOutTwin {
    photo: String,
    record: String,
}

impl SetStep {
    fn of(done: &'static str, name: &str) -> Self {
        let name = name.to_string();
        Self { done, name, why: None, record: None, left_out: Vec::new(), records: None, photos: None }
    }

    /// A record that was to be added.
    pub fn added(added: &Added) -> Self {
        match added {
            Added::There(name) => Self::of("there", name),
            Added::New { name, left_out } => {
                let each = |(photo, record): &(String, String)| LeftOutTwin {
                    photo: photo.clone(),
                    record: record.clone(),
                };
                Self { left_out: left_out.iter().map(each).collect(), ..Self::of("added", name) }
            }
        }
    }

    /// A photo of a folder that no label names.
    pub fn unlisted(photo: &str) -> Self {
        Self::of("unlisted", photo)
    }

    /// A record that was put aside.
    pub fn removed(name: &str) -> Self {
        Self::of("removed", name)
    }

    /// A record that was brought back.
    pub fn brought_back(name: &str) -> Self {
        Self::of("brought_back", name)
    }

    /// An archive that was written, with so many records and photos.
    pub fn exported(to: &str, records: usize, photos: usize) -> Self {
        Self { records: Some(records), photos: Some(photos), ..Self::of("exported", to) }
    }

    /// What became of the records of an archive.
    pub fn imported(imported: &Imported) -> Vec<Self> {
        let new = imported.new.iter().map(|name| Self::of("imported", name));
        let there = imported.there.iter().map(|name| Self::of("there", name));
        let skipped = imported.skipped.iter().map(|(name, why)| {
            let (why, record) = match why {
                Skipped::OtherContent => ("other_content", None),
                Skipped::OtherLabel(record) => ("other_label", Some(record.clone())),
                Skipped::SamePhotos(record) => ("same_photos", Some(record.clone())),
            };
            Self { why: Some(why), record, ..Self::of("skipped", name) }
        });
        new.chain(there).chain(skipped).collect()
    }
}
