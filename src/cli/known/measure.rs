use crate::cli::looking::Looking;
use crate::files::known_set::{Added, KnownReading};
use crate::files::{self, KnownSet, SetStep};
use crate::known::{KnownSteel, Measured};
use crate::report::{AddedRecord, Page, added_page};
use crate::spark::UnusedPhoto;

/// A record that was added, with what its photos show.
struct Done {
    added: Added,
    steel: KnownSteel,
    measured: Option<Measured>,
    unused: Vec<UnusedPhoto>,
}

impl Done {
    fn reading(&self) -> KnownReading<'_> {
        let measured = self.measured.clone();
        KnownReading { name: self.added.name(), steel: &self.steel, measured, fresh: true }
    }
}

/// Records that were added, to be told. They are on disk before anything is measured.
#[derive(Default)]
pub(super) struct Report {
    done: Vec<Done>,
    remarks: String,
}

impl Report {
    /// Measures the photos of new records, and keeps what they show.
    pub(super) fn of(set: &KnownSet, added: Vec<Added>) -> Self {
        let new = |added: &Added| matches!(added, Added::New { .. });
        let record = |added: &Added| set.record(added.name()).cloned();
        let photos = added.iter().filter(|a| new(a)).filter_map(record).map(|s| s.seen.photos().len()).sum();
        let mut looking = Looking::new(photos, None, false);
        let mut report = Self::default();
        for added in added {
            let Some(steel) = record(&added) else { continue };
            let (mut measured, mut unused) = (None, Vec::new());
            if new(&added) && !steel.seen.photos().is_empty() {
                let (shows, not_used) = set.measure_record(&steel, &mut |path| looking.look(path));
                if let Err(problem) = set.keep(added.name(), &shows) {
                    report.remarks.extend([problem.to_string().as_str(), "\n"]);
                }
                (measured, unused) = (Some(shows), not_used);
            }
            report.done.push(Done { added, steel, measured, unused });
        }
        report
    }

    /// What is to be said beside the answer.
    pub(super) fn remarks(&self) -> &str {
        &self.remarks
    }

    /// The answer as data.
    pub(super) fn json(&self, set: &KnownSet, unlisted: &[String]) -> Result<String, String> {
        let steps = self.done.iter().map(|done| SetStep::added(&done.added));
        let steps = steps.chain(unlisted.iter().map(|photo| SetStep::unlisted(photo))).collect();
        let readings: Vec<KnownReading<'_>> = self.done.iter().map(Done::reading).collect();
        files::Answer::added(set, steps, &readings, &[]).json().map_err(|e| format!("error: {e}"))
    }

    /// The answer; `unlisted` are photos of a folder that no label is of.
    pub(super) fn page(&self, unlisted: &[String]) -> Page {
        let records: Vec<AddedRecord<'_>> = self.done.iter().map(told).collect();
        added_page(&records, unlisted)
    }
}

fn told(done: &Done) -> AddedRecord<'_> {
    let (new, left_out) = match &done.added {
        Added::New { left_out, .. } => (true, left_out.as_slice()),
        Added::There(_) => (false, [].as_slice()),
    };
    AddedRecord {
        name: done.added.name(),
        new,
        steel: &done.steel,
        left_out,
        measured: done.measured.as_ref(),
        unused: &done.unused,
    }
}
