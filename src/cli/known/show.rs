use super::args::ShowArgs;
use super::{said, shown};
use crate::cli::{Answer, paint};
use crate::files;
use crate::report::{self, ShownRecord};

/// `snapspark known show`. The error is ready to be shown.
pub(super) fn show(args: &ShowArgs) -> Result<Answer, String> {
    let set = args.set.open()?;
    let name = set.name_of(&args.name).map_err(|p| said(&[*p]))?;
    if let Some(face) = set.face(name) {
        let text = if args.json {
            let answer = files::Answer::known("known show", &set, &[], &[(name, face)]);
            answer.json().map_err(|e| format!("error: {e}"))?
        } else {
            paint::paint(&report::coupon_page(name, face, &shown(&set.layout().record(name))))
        };
        return Ok(Answer::done(text));
    }
    let Some(steel) = set.record(name) else {
        let file = set.layout().record(name).to_string_lossy().into_owned();
        let of_it: Vec<_> = set.broken().iter().filter(|p| p.file == file).cloned().collect();
        return Err(said(&of_it));
    };
    let reading = set.kept(name, steel);
    if args.json {
        let answer = files::Answer::known("known show", &set, std::slice::from_ref(&reading), &[]);
        return Ok(Answer::done(answer.json().map_err(|e| format!("error: {e}"))?));
    }
    let photos = steel.seen.photos().iter().map(|photo| {
        let path = set.layout().photo(photo);
        (shown(&path), path.is_file())
    });
    let record = ShownRecord {
        name,
        steel,
        file: shown(&set.layout().record(name)),
        photos: photos.collect(),
        measured: reading.measured.as_ref().map(|m| (m, reading.fresh)),
    };
    Ok(Answer::done(paint::paint(&report::show_page(&record))))
}
