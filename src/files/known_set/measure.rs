use super::KnownSet;
use super::measured_toml::{read_measured, write_measured};
use super::photo_source::{bytes, hash_of};
use super::set::in_parallel;
use crate::files::photo_note_twin::unused_code;
use crate::files::problem::Problem;
use crate::files::spark_photos::{Look, look_at_photos};
use crate::files::{Looked, save};
use crate::known::{KnownPhoto, KnownSteel, Measured, MeasuredPhoto};
use crate::spark::{
    LookedAt, MEASURING, PhotoPaths, SparkObservation, StreamFigures, StreamObservation, Unusable,
    UnusedPhoto,
};
use std::collections::BTreeMap;
use std::path::Path;

/// A record with what its photos show.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownReading<'s> {
    /// The record's name.
    pub name: &'s str,
    /// The record.
    pub steel: &'s KnownSteel,
    /// What its photos show; `None`: it was told, or nothing was measured yet.
    pub measured: Option<Measured>,
    /// Whether that is of these photos, by the way of measuring that this program has.
    pub fresh: bool,
}

impl KnownSet {
    /// All records with the figures that were kept, whether of this way of measuring or of an older one.
    pub fn readings(&self) -> Vec<KnownReading<'_>> {
        in_parallel(&self.records, |(name, steel)| self.kept(name, steel))
    }

    /// One record with the figures that were kept.
    pub fn kept<'s>(&self, name: &'s str, steel: &'s KnownSteel) -> KnownReading<'s> {
        let photos = steel.seen.photos();
        if photos.is_empty() {
            return KnownReading { name, steel, measured: None, fresh: true };
        }
        // what cannot be read is measured again
        let text = std::fs::read_to_string(self.layout.measured(name)).ok();
        let measured = text.and_then(|text| read_measured(&text));
        let fresh = measured.as_ref().is_some_and(|m| m.fits(photos, MEASURING));
        KnownReading { name, steel, measured, fresh }
    }

    /// How many photos of these records have to be looked at.
    pub fn unmeasured(readings: &[KnownReading<'_>]) -> usize {
        readings.iter().filter(|r| !r.fresh).map(|r| r.steel.seen.photos().len()).sum()
    }

    /// All records with figures of this way of measuring: kept ones, or measured now and kept, record by record, so
    /// that it can be stopped and gone on with. Problems tell what could not be kept.
    pub fn measured(&self, look: Look<'_>) -> (Vec<KnownReading<'_>>, Vec<Problem>) {
        let mut readings = self.readings();
        let mut problems = Vec::new();
        for reading in readings.iter_mut().filter(|r| !r.fresh) {
            let (measured, _) = self.measure_record(reading.steel, look);
            problems.extend(self.keep(reading.name, &measured).err().map(|p| *p));
            reading.measured = Some(measured);
            reading.fresh = true;
        }
        (readings, problems)
    }

    /// Keeps what a record's photos show in place of what was kept before.
    pub fn keep(&self, name: &str, measured: &Measured) -> Result<(), Box<Problem>> {
        let path = self.layout.measured(name);
        let shown = path.to_string_lossy();
        let cannot = |why: String| {
            let problem = Problem::warning(&shown, format!("what was measured cannot be kept: {why}"));
            Box::new(problem.help("it is measured again the next time; check that the set may be written to"))
        };
        let text = write_measured(measured).map_err(|e| cannot(e.to_string()))?;
        save(&path, text.as_bytes()).map_err(|e| cannot(e.to_string()))
    }

    /// Measures the photos of a record as `spark` does; gives those that cannot be used as well, with the reason. A photo
    /// whose bytes are not those that were added is not used.
    pub fn measure_record(&self, steel: &KnownSteel, look: Look<'_>) -> (Measured, Vec<UnusedPhoto>) {
        let photos = steel.seen.photos();
        let files: Vec<(String, &KnownPhoto)> =
            photos.iter().map(|p| (self.layout.photo(p).to_string_lossy().into_owned(), p)).collect();
        let by_path: BTreeMap<&str, &KnownPhoto> =
            files.iter().map(|(path, p)| (path.as_str(), *p)).collect();
        let coupon = StreamObservation { photos: in_touches(&files), ..StreamObservation::default() };
        let told = SparkObservation { coupon, ..SparkObservation::default() };
        let mut checked = |path: &Path| -> Result<Looked, Unusable> {
            let photo = path.to_str().and_then(|path| by_path.get(path).copied());
            as_added(path, photo)?;
            look(path)
        };
        let seen = look_at_photos(&told, Path::new(""), self.models, &mut checked).unwrap_or_default();
        let name = |path: &str| by_path.get(path).map_or_else(|| path.to_string(), |p| p.name.clone());
        let unused: Vec<UnusedPhoto> =
            seen.unused.iter().map(|u| UnusedPhoto { name: name(&u.name), why: u.why.clone() }).collect();
        let photos = photos.iter().map(|p| MeasuredPhoto { hash: p.hash.clone(), touch: p.touch }).collect();
        (measured(&seen, photos, &unused), unused)
    }
}

fn measured(seen: &LookedAt, photos: Vec<MeasuredPhoto>, unused: &[UnusedPhoto]) -> Measured {
    let coupon = seen.sparks.as_ref().map(|s| &s.coupon);
    let first = coupon.and_then(|c| c.series.frames().next()).map(|f| &f.photo);
    Measured {
        measuring: MEASURING,
        used: photos.len() - unused.len().min(photos.len()),
        photos,
        unused: unused.iter().map(|u| (u.name.clone(), unused_code(&u.why).to_string())).collect(),
        picture_px: first.map(|p| p.size[0].max(p.size[1])),
        focal_mm: first.and_then(|p| p.exposed.focal_mm),
        figures: coupon.map(|c| StreamFigures { light: Vec::new(), ..c.pooled.clone() }),
    }
}

/// The photos by touch where all tell theirs, in their order otherwise.
fn in_touches(files: &[(String, &KnownPhoto)]) -> PhotoPaths {
    let mut touches: BTreeMap<u32, Vec<String>> = BTreeMap::new();
    for (path, photo) in files {
        let Some(touch) = photo.touch else {
            return PhotoPaths::Mixed(files.iter().map(|(path, _)| path.clone()).collect());
        };
        touches.entry(touch).or_default().push(path.clone());
    }
    PhotoPaths::ByTouch(touches.into_values().collect())
}

/// Whether a file holds the photo that was added.
fn as_added(path: &Path, photo: Option<&KnownPhoto>) -> Result<(), Unusable> {
    let not_read = |message: String, help: &str| Unusable::NotRead { message, help: help.to_string() };
    let Some(photo) = photo else { return Ok(()) };
    let back = "bring the file back, or remove the record and add the photos again";
    match bytes(path) {
        Err(e) => Err(not_read(format!("the photo cannot be read: {e}"), back)),
        Ok(bytes) if hash_of(&bytes) != photo.hash => {
            Err(not_read("the file is not the photo that was added: its bytes are others".into(), back))
        }
        Ok(_) => Ok(()),
    }
}
