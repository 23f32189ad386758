use super::args::TrainArgs;
use super::at_rig::known_folder;
use super::looking::Looking;
use super::{Answer, Exit, paint};
use crate::estimate::TrainedRig;
use crate::files::known_set::PublishedTrend;
use crate::files::problem::harmless;
use crate::files::{self, KnownSet, Models, ProblemList};
use crate::known::RigPieces;
use crate::report;
use std::path::PathBuf;

/// `snapspark train --set`: fits the rigs of the known steels. The error is ready to be shown.
pub(super) fn train(args: &TrainArgs, named: &PathBuf) -> Result<Answer, String> {
    let named = Some(named).filter(|path| !path.as_os_str().is_empty());
    let models = Models::shared().map_err(|e| format!("error: {e}"))?;
    let set = KnownSet::open(&known_folder(named)?).map_err(|p| ProblemList(&p).to_string())?;
    let published = PublishedTrend::shipped(models).map_err(|e| format!("error: {e}"))?;
    let mut looking = Looking::new(KnownSet::unmeasured(&set.readings()), None, false);
    let (readings, mut problems) = set.measured(&mut |path| looking.look(path));
    problems.extend(set.broken().iter().cloned());
    let rigs = set.rigs_meant(args.rig.as_deref()).map_err(|p| ProblemList(&[*p]).to_string())?;
    let mut fitted = Vec::new();
    for rig in &rigs {
        let trained = set.train_rig(rig, &readings, &published);
        let (trained, known) = trained.map_err(|e| format!("error: rig {rig}: {e}"))?;
        let any = trained.photos.is_some() || trained.words.is_some();
        let path = if any {
            Some(set.save_rig(&trained).map_err(|p| ProblemList(&[*p]).to_string())?)
        } else {
            None
        };
        fitted.push((trained, known, path.map(|path| path.display().to_string())));
    }
    let edge = set.visible_edge();
    let kept = set.save_edge(&edge).map_err(|p| ProblemList(&[*p]).to_string())?;
    let kept = kept.map(|path| harmless(&path.display().to_string()));
    let exit = if fitted.iter().any(|(.., kept)| kept.is_some()) || !edge.learned.is_empty() {
        Exit::Done
    } else {
        Exit::CannotTell
    };
    let text = if args.json {
        files::Answer::trained(&set, &fitted, &edge).json().map_err(|e| format!("error: {e}"))?
    } else {
        let words = |(rig, known, kept): &(TrainedRig, RigPieces, Option<String>)| {
            report::trained(rig, known, kept.as_deref().map(harmless).as_deref())
        };
        let rigs: Vec<_> = fitted.iter().map(words).collect();
        paint::paint(&report::trained_page(&rigs, &edge, kept.as_deref()))
    };
    let remarks = if problems.is_empty() { String::new() } else { format!("{}\n", ProblemList(&problems)) };
    Ok(Answer { text, remarks, exit })
}
