use super::args::AuditArgs;
use super::broken;
use super::of_rig::OfRig;
use crate::audit::{self, JudgeError, RigAudit};
use crate::cli::{Answer, Exit, paint};
use crate::files::{self, Models};
use crate::known::Piece;
use crate::report;

/// `snapspark known audit`. The error is ready to be shown.
pub(super) fn audit(args: &AuditArgs) -> Result<Answer, String> {
    let models = Models::shared().map_err(|e| format!("error: {e}"))?;
    let set = args.set.open()?;
    let (rigs, published, problems) = OfRig::all(&set, args.rig.as_deref(), models)?;
    let mut audits: Vec<(String, RigAudit, Vec<Piece>)> = Vec::new();
    for OfRig { rig, by, pieces, .. } in rigs {
        match audit::audit(&published.bench(by), &models.spark_tree, &pieces.iter().collect::<Vec<_>>()) {
            Ok(judged) => audits.push((rig, judged, pieces)),
            Err(JudgeError::TooFew) => {}
            Err(e) => return Err(format!("error: rig {rig}: {e}")),
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
    Ok(Answer { text, remarks: broken(&set) + &problems, exit })
}
