use super::args::AddArgs;
use super::measure::Report;
use super::{broken, said, wrong};
use crate::cli::{Answer, Exit, paint};
use crate::files::known_set::{Label, NewRecord, PhotoSource, ToldFile, session_of};
use crate::files::{Models, PhotoFiles};
use crate::known::{Session, rig_name};

/// `snapspark known add` of one steel. The error is ready to be shown.
pub(super) fn add(args: &AddArgs) -> Result<Answer, String> {
    let models = Models::shared().map_err(|e| format!("error: {e}"))?;
    let rig = args.rig.as_deref().unwrap_or_default();
    let steel = args.steel.as_deref().unwrap_or_default();
    rig_name(rig).map_err(|e| wrong("--rig", &(e.to_string(), e.help())))?;
    let about = if args.carbon.is_some() { "--carbon" } else { "--steel" };
    let label = Label::new(steel, args.carbon.as_deref(), rig, models);
    let mut label = label.map_err(|e| wrong(about, &e))?;
    label.state = args.state;
    label.reference = args.reference;
    label.notes = args.notes.clone().unwrap_or_default().trim().to_string();
    let photos = sources(&args.photos, &args.touch, args.link)?;
    let stock = sources(&args.against, &[], args.link)?;
    let told =
        args.told.as_ref().map(|path| ToldFile::read_file(path, models)).transpose().map_err(|p| said(&p))?;
    let session = match &args.session {
        Some(session) => session.clone(),
        None => session_of(&photos).map_err(|p| said(&[*p]))?,
    };
    let mut records = vec![NewRecord { steel: label.on(session.clone()), photos, told }];
    if !stock.is_empty() {
        records.push(reference(args, rig, session, stock, models)?);
    }
    let mut set = args.set.open_or_make()?;
    let contradictions = set.contradictions(&records);
    if !contradictions.is_empty() {
        return Err(said(&contradictions));
    }
    let mut added = Vec::new();
    for record in records {
        added.push(set.add(record).map_err(|p| said(&p))?);
    }
    let report = Report::of(&set, added);
    let text = if args.json { report.json(&set, &[])? } else { paint::paint(&report.page(&[])) };
    Ok(Answer { text, remarks: broken(&set) + report.remarks(), exit: Exit::Done })
}

/// The untreated stock of the same rig and session.
fn reference(
    args: &AddArgs,
    rig: &str,
    session: Session,
    photos: Vec<PhotoSource>,
    models: &Models,
) -> Result<NewRecord, String> {
    let stock = args.stock.as_deref().unwrap_or(&models.default_grade);
    let mut label = Label::new(stock, None, rig, models).map_err(|e| wrong("--stock", &e))?;
    label.reference = true;
    Ok(NewRecord { steel: label.on(session), photos, told: None })
}

/// The photos that are named, each with its touch where that is told.
fn sources(named: &[String], touches: &[u16], link: bool) -> Result<Vec<PhotoSource>, String> {
    let files = PhotoFiles::named(named).map_err(|p| said(&p))?;
    let wanted: usize = touches.iter().map(|n| usize::from(*n)).sum();
    let given = files.paths().len();
    if wanted > given {
        return Err(format!(
            "error: --touch: touches of {wanted} photos in all, but {given} are given\n help: say how many photos \
             each touch has, such as --touch 2,3"
        ));
    }
    let mut problems = Vec::new();
    let mut sources = Vec::new();
    for (i, path) in files.paths().iter().enumerate() {
        match PhotoSource::read(path, touch(i, touches), link) {
            Ok(source) => sources.push(source),
            Err(problem) => problems.push(*problem),
        }
    }
    if problems.is_empty() { Ok(sources) } else { Err(said(&problems)) }
}

/// The touch of photo `i`; those left over are one more.
fn touch(i: usize, touches: &[u16]) -> Option<u32> {
    let mut before = 0;
    for (touch, photos) in (1..).zip(touches) {
        before += usize::from(*photos);
        if i < before {
            return Some(touch);
        }
    }
    u32::try_from(touches.len() + 1).ok().filter(|_| !touches.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn photos_left_over_are_one_more_touch() {
        let touches = |list: &[u16]| (0..6).map(|i| touch(i, list)).collect::<Vec<_>>();
        assert_eq!(touches(&[2, 3]), [1, 1, 2, 2, 2, 3].map(Some));
        assert_eq!(touches(&[]), [None; 6]);
    }
}
