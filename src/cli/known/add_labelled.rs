use super::args::AddArgs;
use super::measure::Report;
use super::{broken, said, wrong};
use crate::cli::{Answer, Exit, paint};
use crate::files::Models;
use crate::files::known_set::{LabelDefaults, Labels};
use crate::known::rig_name;
use std::path::Path;

/// `snapspark known add` of a folder with labels: all of it is checked before anything is written. The error is ready
/// to be shown.
pub(super) fn add(args: &AddArgs) -> Result<Answer, String> {
    let models = Models::shared().map_err(|e| format!("error: {e}"))?;
    let folder = args.dir.as_deref().unwrap_or(Path::new("."));
    let table = args.labels.as_deref().unwrap_or(Path::new("labels.csv"));
    let rig = args
        .rig
        .as_deref()
        .map(rig_name)
        .transpose()
        .map_err(|e| wrong("--rig", &(e.to_string(), e.help())))?;
    let defaults = LabelDefaults { rig, session: args.session.clone(), state: args.state };
    let labels = Labels::read_file(table, &defaults, models).map_err(|p| said(&p))?;
    let found = labels.photos(folder, &table.to_string_lossy(), args.link).map_err(|p| said(&p))?;
    let mut set = args.set.open_or_make()?;
    let contradictions = set.contradictions(&found.records);
    if !contradictions.is_empty() {
        return Err(said(&contradictions));
    }
    let mut added = Vec::new();
    for record in found.records {
        added.push(set.add(record).map_err(|p| said(&p))?);
    }
    let report = Report::of(&set, added);
    let unlisted = &found.unlisted;
    let text = if args.json { report.json(&set, unlisted)? } else { paint::paint(&report.page(unlisted)) };
    Ok(Answer { text, remarks: broken(&set) + report.remarks(), exit: Exit::Done })
}
