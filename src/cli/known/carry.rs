use super::args::{ExportArgs, ImportArgs};
use super::{broken, said, shown};
use crate::cli::{Answer, Exit, paint};
use crate::files::known_set::{Archive, Imported, Skipped};
use crate::files::{self, SetStep};
use crate::report::{Step, Tone, step_page};

/// `snapspark known export`. The error is ready to be shown.
pub(super) fn export(args: &ExportArgs) -> Result<Answer, String> {
    let set = args.set.open()?;
    let photos = set.export(&args.to).map_err(|p| said(&p))?;
    let records = set.records().len() + set.faces().len();
    let text = if args.json {
        let step = SetStep::exported(&args.to.display().to_string(), records, photos);
        files::Answer::steps("known export", &set, vec![step]).json().map_err(|e| format!("error: {e}"))?
    } else {
        let words = format!("Records: {records}; photos: {photos}. Rigs are trained anew: `train --set`.");
        let step = Step { what: "Exported", name: shown(&args.to), words, tone: Tone::Good };
        paint::paint(&step_page(&[step]))
    };
    Ok(Answer { text, remarks: broken(&set), exit: Exit::Done })
}

/// `snapspark known import`. The error is ready to be shown.
pub(super) fn import(args: &ImportArgs) -> Result<Answer, String> {
    let checked =
        Archive::at(&args.from).map_err(|p| vec![*p]).and_then(Archive::check).map_err(|p| said(&p))?;
    let mut set = args.set.open_or_make()?;
    let imported = set.import(checked).map_err(|p| said(&p))?;
    let text = if args.json {
        let steps = SetStep::imported(&imported);
        files::Answer::steps("known import", &set, steps).json().map_err(|e| format!("error: {e}"))?
    } else {
        paint::paint(&step_page(&steps(&imported)))
    };
    Ok(Answer { text, remarks: broken(&set), exit: Exit::Done })
}

fn steps(imported: &Imported) -> Vec<Step> {
    let step = |what, name: &String, words: String, tone| Step { what, name: name.clone(), words, tone };
    let new = imported.new.iter().map(|name| step("Imported", name, String::new(), Tone::Good));
    let skipped =
        imported.skipped.iter().map(|(name, why)| step("Skipped", name, why_skipped(why), Tone::Middling));
    let all = Step {
        what: "In all",
        name: format!(
            "{} imported, {} there already, {} skipped",
            imported.new.len(),
            imported.there.len(),
            imported.skipped.len()
        ),
        words: String::new(),
        tone: Tone::Plain,
    };
    new.chain(skipped).chain([all]).collect()
}

fn why_skipped(why: &Skipped) -> String {
    match why {
        Skipped::OtherContent => "A record of that name with other content is there; it was kept.".into(),
        Skipped::OtherLabel(name) => {
            format!("One of its photos is in the record {name} under another label: one of the two is wrong.")
        }
        Skipped::SamePhotos(name) => format!("The record {name} has one of its photos already."),
    }
}
