use super::pieces::rig_pieces;
use super::rig_toml::{read_rig, write_rig};
use super::set::toml_names;
use super::{KnownReading, KnownSet, Layout};
use crate::audit::{Bench, JudgeError, train};
use crate::estimate::{Rig, TrainedRig};
use crate::files::problem::Problem;
use crate::files::save::make_folders;
use crate::files::{Models, TrainError, save, spark_rows};
use crate::known::{By, Exposures, Piece, RigPieces, Trend, TrendRows};
use crate::spark::MEASURING;
use std::io;
use std::path::{Path, PathBuf};

/// The published trend as a fit needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct PublishedTrend {
    /// Its rows.
    pub rows: TrendRows,
    /// What is typical.
    pub trend: Trend,
    /// How exposures are compared.
    pub exposures: Exposures,
}

impl PublishedTrend {
    /// From the training data that ships.
    pub fn shipped(models: &Models) -> Result<Self, TrainError> {
        let rows = spark_rows()?;
        let exposures = Exposures::judged(&models.photo_reading);
        Ok(Self { trend: Trend::of(&rows, models.photo_lines.value), rows, exposures })
    }

    /// To fit and judge by photos or words.
    pub fn bench(&self, by: By) -> Bench<'_> {
        Bench { trend: &self.trend, rows: &self.rows, by, exposures: &self.exposures }
    }
}

impl KnownSet {
    /// Names of the rigs that records are of, in order.
    pub fn rigs(&self) -> Vec<String> {
        let mut rigs: Vec<String> = self.records.iter().map(|(_, steel)| steel.rig.clone()).collect();
        rigs.sort();
        rigs.dedup();
        rigs
    }

    /// The rigs that are meant: the one that is named, or all.
    pub fn rigs_meant(&self, named: Option<&str>) -> Result<Vec<String>, Box<Problem>> {
        let all = self.rigs();
        let Some(named) = named else { return Ok(all) };
        if all.iter().any(|rig| rig == named) {
            return Ok(vec![named.to_string()]);
        }
        let there = if all.is_empty() { "none".to_string() } else { all.join(", ") };
        let problem = Problem::error("--rig", format!("no record is of rig `{named}`"));
        Err(Box::new(problem.help(format!("rigs of this set: {there}"))))
    }

    /// What the records of a rig are to a fit.
    pub fn pieces(&self, readings: &[KnownReading<'_>], rig: &str) -> RigPieces {
        rig_pieces(readings, rig, self.models)
    }

    /// Fits a rig on its records.
    pub fn train_rig(
        &self,
        rig: &str,
        readings: &[KnownReading<'_>],
        published: &PublishedTrend,
    ) -> Result<(TrainedRig, RigPieces), JudgeError> {
        let known = self.pieces(readings, rig);
        let by = |by: By| -> Result<Option<Rig>, JudgeError> {
            let pieces: Vec<&Piece> = known.pieces.iter().filter(|p| p.shown.by() == by).collect();
            // stock alone, of which nobody knows the carbon, fits nothing
            if !pieces.iter().any(|p| p.judges()) {
                return Ok(None);
            }
            train(&published.bench(by), &pieces).map(Some)
        };
        let (photos, words) = (by(By::Photos)?, by(By::Words)?);
        let records = known.pieces.len();
        Ok((TrainedRig { name: rig.to_string(), measuring: MEASURING, records, photos, words }, known))
    }

    /// Keeps a rig in place of what was kept before.
    pub fn save_rig(&self, rig: &TrainedRig) -> Result<PathBuf, Box<Problem>> {
        let path = self.layout.tree(&rig.name);
        let shown = path.to_string_lossy();
        let cannot = |why: String| {
            let problem = Problem::error(&shown, format!("the rig cannot be written: {why}"));
            Box::new(problem.help("check that the set may be written to"))
        };
        let text = write_rig(rig).map_err(|e| cannot(e.to_string()))?;
        let folder = self.folder().join(Layout::TREES);
        make_folders(&folder).map_err(|e| cannot(e.to_string()))?;
        save(&path, text.as_bytes()).map_err(|e| cannot(e.to_string()))?;
        Ok(path)
    }

    /// A rig that was trained in the set in `folder`.
    pub fn trained_rig(
        folder: &Path,
        rig: &str,
        published: &PublishedTrend,
        models: &Models,
    ) -> Result<TrainedRig, Vec<Problem>> {
        let layout = Layout::of(folder);
        layout.check(models)?;
        let path = layout.tree(rig);
        let shown = path.to_string_lossy();
        let again = "`snapspark train --set` fits it on the records of the set";
        let text = std::fs::read_to_string(&path).map_err(|e| {
            let trained = toml_names(&folder.join(Layout::TREES)).unwrap_or_default();
            let there = if trained.is_empty() { "none".to_string() } else { trained.join(", ") };
            let message = match e.kind() {
                io::ErrorKind::NotFound => format!("rig `{rig}` was not trained; trained: {there}"),
                _ => format!("cannot be read: {e}"),
            };
            vec![Problem::error(&shown, message).help(again)]
        })?;
        read_rig(&text, &published.trend, &published.exposures)
            .map_err(|e| vec![Problem::error(&shown, e.to_string()).help(again)])
    }
}
