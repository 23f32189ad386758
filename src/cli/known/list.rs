use super::args::ListArgs;
use super::{broken, said, shown};
use crate::cli::{Answer, Exit, paint};
use crate::files;
use crate::files::known_set::KnownReading;
use crate::known::KnownFace;
use crate::report::{self, KnownRow};

/// `snapspark known list`. The error is ready to be shown.
pub(super) fn list(args: &ListArgs) -> Result<Answer, String> {
    let set = args.set.open()?;
    let of_rig = |rig: &str| args.rig.as_ref().is_none_or(|wanted| wanted.trim() == rig);
    let records = || set.records().iter().filter(|(_, steel)| of_rig(&steel.rig));
    // a coupon is of no rig
    let faces = set.faces().iter().filter(|_| args.rig.is_none());
    let faces: Vec<(&str, &KnownFace)> = faces.map(|(name, face)| (name.as_str(), face)).collect();
    let text = if args.json {
        let reading = |(name, steel)| KnownReading { name, steel, measured: None, fresh: true };
        let readings: Vec<_> = records().map(|(name, steel)| reading((name.as_str(), steel))).collect();
        files::Answer::known("known list", &set, &readings, &faces)
            .json()
            .map_err(|e| format!("error: {e}"))?
    } else {
        let rows: Vec<KnownRow<'_>> = records().map(|(name, steel)| (name.as_str(), steel)).collect();
        paint::paint(&report::list_page(&shown(set.folder()), &rows, &faces, set.broken_records()))
    };
    let nothing = set.records().is_empty() && set.faces().is_empty() && set.broken_records() > 0;
    let doubled = set.doubled();
    let doubled = if doubled.is_empty() { String::new() } else { format!("{}\n", said(&doubled)) };
    Ok(Answer {
        text,
        remarks: broken(&set) + &doubled,
        exit: if nothing { Exit::Input } else { Exit::Done },
    })
}
