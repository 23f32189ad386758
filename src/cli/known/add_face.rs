use super::args::AddArgs;
use super::{broken, said, wrong};
use crate::cli::{Answer, Exit, paint};
use crate::files::known_set::{Added, FaceFile, Label};
use crate::files::{self, Models, SetStep};
use crate::report;
use std::path::Path;

/// `snapspark known add --face`: a coupon whose case was measured another way. The error is ready to be shown.
pub(super) fn add(args: &AddArgs, told: &Path) -> Result<Answer, String> {
    let models = Models::shared().map_err(|e| format!("error: {e}"))?;
    let about = if args.carbon.is_some() { "--carbon" } else { "--steel" };
    let steel = Label::steel(args.steel.as_deref().unwrap_or_default(), args.carbon.as_deref(), models);
    let (name, core) = steel.map_err(|e| wrong(about, &e))?;
    let told = FaceFile::read_file(told, models).map_err(|p| said(&p))?;
    let session = args.session.clone().ok_or_else(|| {
        let help = "write the day that it was broken, such as --session 2026-03-14";
        wrong("--session", &("nothing tells the day of the coupon".into(), help.into()))
    })?;
    let notes = args.notes.clone().unwrap_or_default().trim().to_string();
    let face = told.face(name, core, session, notes);
    let mut set = args.set.open_or_make()?;
    let added = set.add_face(face.clone(), &told).map_err(|p| said(&p))?;
    let new = matches!(added, Added::New { .. });
    let text = if args.json {
        let steps = vec![SetStep::added(&added)];
        let answer = files::Answer::added(&set, steps, &[], &[(added.name(), &face)]);
        answer.json().map_err(|e| format!("error: {e}"))?
    } else {
        paint::paint(&report::added_coupon_page(added.name(), new, &face))
    };
    Ok(Answer { text, remarks: broken(&set), exit: Exit::Done })
}
