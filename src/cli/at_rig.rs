use super::told_run::ToldRun;
use crate::estimate::TrainedRig;
use crate::files::known_set::PublishedTrend;
use crate::files::run_sheet::Named;
use crate::files::{KnownSet, Models, Problem, ProblemList};
use crate::known::{LearnedEdge, rig_name};
use std::path::{Path, PathBuf};

/// The rig whose known steels sparks are read by, and where it is kept.
#[derive(Debug, Default, clap::Args)]
pub(super) struct RigArgs {
    /// Read the sparks by the known steels of this rig, as `train` left them.
    #[arg(long, value_name = "NAME", value_parser = rig)]
    pub(super) rig: Option<String>,

    #[command(flatten)]
    pub(super) set: EdgeArgs,
}

/// The set whose coupons tell where a rim ends.
#[derive(Debug, Default, clap::Args)]
pub(super) struct EdgeArgs {
    /// Folder of the known steels; without it, one in the platform's folder for data.
    #[arg(long, value_name = "DIR")]
    pub(super) set: Option<PathBuf>,
}

/// A rig's name.
pub(super) fn rig(text: &str) -> Result<String, String> {
    rig_name(text).map_err(|e| format!("{e}; {}", e.help()))
}

/// Known steels that an answer rests on: named on the command line, or else in the run sheet.
#[derive(Debug, Default)]
pub(super) struct KnownSteels {
    rig: Option<String>,
    folder: Option<PathBuf>,
    /// The sheet, and which of its lines named the rig or else the set.
    told: Option<(String, &'static str, usize)>,
}

impl RigArgs {
    /// What the command line alone names.
    pub(super) fn named(&self) -> Result<KnownSteels, String> {
        if self.rig.is_none() && self.set.set.is_some() {
            return Err("error: --set: no rig of that set is named\n help: name one with --rig".into());
        }
        KnownSteels::of(self.rig.clone(), self.set.set.clone(), None)
    }

    /// What the command line names, or else the sheet.
    pub(super) fn or(&self, told: &ToldRun) -> Result<KnownSteels, String> {
        let place = &told.sheet.known;
        let line = |named: &Option<Named>, key| named.as_ref().map(|n| (told.name.clone(), key, n.line));
        let told_rig = line(&place.rig, "spark.rig").filter(|_| self.rig.is_none());
        let told_set = line(&place.set, "spark.set").filter(|_| self.set.set.is_none());
        let rig = self.rig.clone().or_else(|| place.rig.as_ref().map(|n| n.text.clone()));
        KnownSteels::of(rig, self.set.or(told), told_rig.or(told_set))
    }
}

impl EdgeArgs {
    fn or(&self, told: &ToldRun) -> Option<PathBuf> {
        self.set.clone().or_else(|| Some(told.folder().join(&told.sheet.known.set.as_ref()?.text)))
    }

    /// The set that the command line names, or else the sheet.
    pub(super) fn set_or(&self, told: &ToldRun) -> Result<KnownSteels, String> {
        let named = told.sheet.known.set.as_ref().filter(|_| self.set.is_none());
        KnownSteels::of(None, self.or(told), named.map(|n| (told.name.clone(), "spark.set", n.line)))
    }
}

impl KnownSteels {
    fn of(
        rig: Option<String>,
        folder: Option<PathBuf>,
        told: Option<(String, &'static str, usize)>,
    ) -> Result<Self, String> {
        let folder = match (&rig, folder) {
            (None, None) => None,
            (_, folder) => Some(known_folder(folder.as_ref())?),
        };
        Ok(Self { rig, folder, told })
    }

    /// The rig as it was trained, if one was named. The error is ready to be shown.
    pub(super) fn trained(&self) -> Result<Option<TrainedRig>, String> {
        let Some((rig, folder)) = self.rig.as_ref().zip(self.folder.as_deref()) else { return Ok(None) };
        let models = Models::shared().map_err(|e| format!("error: {e}"))?;
        let published = PublishedTrend::shipped(models).map_err(|e| format!("error: {e}"))?;
        let trained = KnownSet::trained_rig(folder, rig, &published, models);
        trained.map(Some).map_err(|p| self.said(p))
    }

    /// What the coupons of the set say of the visible edge. The error is ready to be shown.
    pub(super) fn learned_edge(&self) -> Result<Vec<LearnedEdge>, String> {
        let Some(folder) = self.folder.as_deref() else { return Ok(Vec::new()) };
        let models = Models::shared().map_err(|e| format!("error: {e}"))?;
        KnownSet::learned_edge(folder, models).map_err(|p| self.said(p))
    }

    /// Problems of a set, told where the sheet names it.
    fn said(&self, problems: Vec<Problem>) -> String {
        let at_sheet = |problem: Problem| match &self.told {
            Some((sheet, field, line)) => {
                let message = format!("{}: {}", problem.file, problem.message);
                let at = Problem::error(sheet, message).at_line(*line).in_field(field);
                at.help(problem.help.unwrap_or_default())
            }
            None => problem,
        };
        ProblemList(&problems.into_iter().map(at_sheet).collect::<Vec<_>>()).to_string()
    }
}

/// The folder that was named, or that of the platform.
pub(super) fn known_folder(named: Option<&PathBuf>) -> Result<PathBuf, String> {
    named.map(|path| Path::new(path).to_path_buf()).or_else(KnownSet::default_folder).ok_or_else(|| {
        "error: --set: this system does not say where a program keeps its data\n help: name a folder with --set"
            .into()
    })
}
