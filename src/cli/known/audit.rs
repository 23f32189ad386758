use super::args::AuditArgs;
use super::{broken, said};
use crate::audit::{self, JudgeError, RigAudit};
use crate::cli::looking::Looking;
use crate::cli::{Answer, Exit, paint};
use crate::files::known_set::PublishedTrend;
use crate::files::{self, KnownSet, Models, ProblemList};
use crate::known::{By, Piece};
use crate::report;

/// `snapspark known audit`. The error is ready to be shown.
pub(super) fn audit(args: &AuditArgs) -> Result<Answer, String> {
    let models = Models::shared().map_err(|e| format!("error: {e}"))?;
    let set = args.set.open()?;
    let rigs = set.rigs_meant(args.rig.as_deref().map(str::trim)).map_err(|p| said(&[*p]))?;
    let published = PublishedTrend::shipped(models).map_err(|e| format!("error: {e}"))?;
    let mut looking = Looking::new(KnownSet::unmeasured(&set.readings()), None, false);
    let (readings, problems) = set.measured(&mut |path| looking.look(path));
    let mut audits: Vec<(String, RigAudit, Vec<Piece>)> = Vec::new();
    for rig in rigs {
        let known = set.pieces(&readings, &rig);
        for by in [By::Photos, By::Words] {
            let pieces: Vec<&Piece> = known.pieces.iter().filter(|p| p.shown.by() == by).collect();
            let bench = published.bench(by);
            let judged = match audit::audit(&bench, &models.spark_tree, &pieces) {
                Ok(judged) => judged,
                Err(JudgeError::TooFew) => continue,
                Err(e) => return Err(format!("error: rig {rig}: {e}")),
            };
            audits.push((rig.clone(), judged, pieces.into_iter().cloned().collect()));
        }
    }
    let edge = set.visible_edge();
    let exit = if audits.is_empty() && edge.learned.is_empty() { Exit::CannotTell } else { Exit::Done };
    let text = if args.json {
        files::Answer::audit(&set, &audits, &edge).json().map_err(|e| format!("error: {e}"))?
    } else {
        let word = |(rig, judged, pieces): &(String, RigAudit, Vec<Piece>)| {
            report::audit(rig, judged, &pieces.iter().collect::<Vec<_>>())
        };
        paint::paint(&report::audit_page(&audits.iter().map(word).collect::<Vec<_>>(), &edge))
    };
    let problems = if problems.is_empty() { String::new() } else { format!("{}\n", ProblemList(&problems)) };
    Ok(Answer { text, remarks: broken(&set) + &problems, exit })
}
