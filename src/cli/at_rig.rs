use crate::estimate::TrainedRig;
use crate::files::known_set::PublishedTrend;
use crate::files::{KnownSet, Models, ProblemList};
use crate::known::rig_name;
use std::path::PathBuf;

/// The rig whose known steels sparks are read by.
#[derive(Debug, Default, clap::Args)]
pub(super) struct RigArgs {
    /// Read the sparks by the known steels of this rig, as `train` left them.
    #[arg(long, value_name = "NAME", value_parser = rig)]
    pub(super) rig: Option<String>,

    /// Folder of the known steels; without it, one in the platform's folder for data.
    #[arg(long, value_name = "DIR", requires = "rig")]
    pub(super) set: Option<PathBuf>,
}

/// A rig's name.
pub(super) fn rig(text: &str) -> Result<String, String> {
    rig_name(text).map_err(|e| format!("{e}; {}", e.help()))
}

impl RigArgs {
    /// The rig as it was trained, if one was named. The error is ready to be shown.
    pub(super) fn trained(&self) -> Result<Option<TrainedRig>, String> {
        let Some(rig) = &self.rig else { return Ok(None) };
        let folder = known_folder(self.set.as_ref())?;
        let set = KnownSet::open(&folder).map_err(|p| ProblemList(&p).to_string())?;
        let published = PublishedTrend::shipped(Models::shared().map_err(|e| format!("error: {e}"))?)
            .map_err(|e| format!("error: {e}"))?;
        set.trained_rig(rig, &published).map(Some).map_err(|p| ProblemList(&[*p]).to_string())
    }
}

/// The folder that was named, or that of the platform.
pub(super) fn known_folder(named: Option<&PathBuf>) -> Result<PathBuf, String> {
    named.cloned().or_else(KnownSet::default_folder).ok_or_else(|| {
        "error: --set: this system does not say where a program keeps its data\n help: name a folder with --set"
            .into()
    })
}
