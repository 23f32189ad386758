use super::KnownSet;
use crate::files::problem::Problem;
use crate::known::{KnownPhoto, KnownSteel};
use std::collections::HashMap;

impl KnownSet {
    /// Pictures that two records hold under two labels, as an edit by hand may leave them: warnings.
    pub fn doubled(&self) -> Vec<Problem> {
        let mut first: HashMap<&str, &(String, KnownSteel)> = HashMap::new();
        let mut problems = Vec::new();
        for record in &self.records {
            for photo in record.1.seen.photos() {
                let before = *first.entry(&photo.hash).or_insert(record);
                if !before.1.same_label(&record.1) {
                    let told =
                        format!("the same picture {} is in {} under another label", photo.name, before.0);
                    let problem = Problem::warning(&record.0, told);
                    problems.push(
                        problem.help("one of the two is wrong: edit it, or `snapspark known remove` it"),
                    );
                }
            }
        }
        problems
    }
}

/// Photos of a set's records: which record each is in.
pub(super) struct Holders<'s>(HashMap<&'s str, &'s (String, KnownSteel)>);

impl<'s> Holders<'s> {
    pub(super) fn of(set: &'s KnownSet) -> Self {
        let photos =
            set.records.iter().flat_map(|r| r.1.seen.photos().iter().map(move |p| (p.hash.as_str(), r)));
        Self(photos.collect())
    }

    /// The record that holds a photo already.
    pub(super) fn holder(&self, photo: &KnownPhoto) -> Option<&'s (String, KnownSteel)> {
        self.0.get(photo.hash.as_str()).copied()
    }

    /// Photos of `steel` that another record holds under another label: the same picture cannot be of two steels.
    pub(super) fn contradictions(&self, steel: &KnownSteel) -> Vec<Problem> {
        steel.seen.photos().iter().filter_map(|photo| self.contradiction(photo, steel)).collect()
    }

    /// The same of one photo.
    pub(super) fn contradiction(&self, photo: &KnownPhoto, steel: &KnownSteel) -> Option<Problem> {
        let (name, holder) = self.holder(photo).filter(|(_, holder)| !holder.same_label(steel))?;
        let told = format!(
            "the same picture is in the record {name} as {} on rig {}, session {}",
            holder.name, holder.rig, holder.session
        );
        let help = format!(
            "one of the two labels is wrong: leave the photo out, or `snapspark known remove {name}` first"
        );
        Some(Problem::error(&photo.name, told).help(help))
    }
}
