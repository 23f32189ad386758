use super::super::check::medium;
use super::super::number::{CELSIUS, DEPTH, HRC, size};
use super::super::soak::Line;
use crate::crosscheck::Need;
use crate::hardness::CaseHardeningDepth;
use crate::plan::{Afterwards, HardEnd, Hardened};
use crate::steel::QuenchMedium;
use crate::units::Interval;

/// Columns that a table of hardness has room for.
const MOST: usize = 3;

pub(super) fn heading(after: &Afterwards) -> String {
    match after.thickness.filter(|_| after.hardened.len() > 1) {
        Some(mm) => format!("Hardness as quenched, HRC, by depth: {} thick", size(mm)),
        None => "Hardness as quenched, HRC, by depth".into(),
    }
}

/// Bath by bath, what is advised first; the last column is as if all became martensite.
pub(super) fn by_depth(after: &Afterwards) -> Vec<[String; 4]> {
    let columns: Vec<&Hardened> = in_order(after).take(MOST).collect();
    let row = |first: String, cell: &dyn Fn(&Hardened) -> String| {
        let mut row = [first, String::new(), String::new(), String::new()];
        for (i, hardened) in columns.iter().enumerate() {
            row[i + 1] = cell(hardened);
        }
        row
    };
    let mut rows = vec![row(String::new(), &|h| h.medium.map_or("if all martensite".into(), in_bath))];
    let depths = columns.first().map(|h| &h.by_depth).into_iter().flatten();
    rows.extend(depths.enumerate().map(|(i, (mm, _))| {
        row(size(*mm), &|h| h.by_depth.get(i).and_then(|(_, ends)| ends.as_ref()).map_or("-".into(), cell))
    }));
    rows
}

/// Baths, then all martensite.
fn in_order(after: &Afterwards) -> impl Iterator<Item = &Hardened> {
    after.hardened.iter().skip(1).chain(after.hardened.first())
}

fn in_bath(m: QuenchMedium) -> String {
    format!("in {}", medium(m))
}

/// "57 (49 to 62)", "48 (under 42 to 60)", "under 42 (to 58)", "under 42".
fn cell(ends: &[HardEnd; 3]) -> String {
    let bare = |end: HardEnd| match end {
        HardEnd::At(hrc) => HRC.bare(hrc),
        HardEnd::Under(hrc) => format!("under {}", HRC.bare(hrc)),
    };
    let [low, best, high] = *ends;
    match (best, high) {
        (HardEnd::Under(_), HardEnd::Under(_)) => bare(best),
        (HardEnd::Under(_), HardEnd::At(hrc)) => format!("{} (to {})", bare(best), HRC.bare(hrc)),
        (HardEnd::At(_), _) => format!("{} ({} to {})", bare(best), bare(low), bare(high)),
    }
}

/// What the columns rest on.
pub(super) fn words(after: &Afterwards) -> String {
    if after.hardened.len() < 2 {
        return "How thick the section is was not told, so nobody can say how slack oil or water would leave it: this is as if \
                all became martensite."
            .into();
    }
    "A bath too slow for the carbon at a depth leaves less martensite there. \"Under\": less than half, and no table tells \
     how soft. By ideal diameter (ASTM A255, grain size 7: a coarser grain hardens deeper), the severity of the bath from \
     still to well moved, and the time to cool half of the way; the share of martensite from that is judged."
        .into()
}

/// Depths to a hardness, and hardness after tempers.
pub(super) fn depths(after: &Afterwards, need: &Need) -> Vec<Line> {
    let place = |h: &Hardened| h.medium.map_or("if all martensite".into(), in_bath);
    let mut lines: Vec<Line> = in_order(after)
        .map(|h| {
            let label = format!("effective case depth (50 HRC), {}", place(h));
            let (value, range) = reach(&h.effective);
            Line { label, value, range }
        })
        .collect();
    lines.extend(after.as_advised().map(|h| {
        let (value, range) = match &h.case_hardening {
            CaseHardeningDepth::Stands { depth, .. } => reach(&depth.millimetres()),
            CaseHardeningDepth::NotReached => ("none".into(), String::new()),
            CaseHardeningDepth::DoesNotApply { .. } => ("none".into(), "too hard further in".into()),
        };
        Line { label: format!("case hardening depth (550 HV), {}", place(h)), value, range }
    }));
    let hours = need.temper_time.value.minutes() / 60.0;
    lines.extend(after.tempers.iter().map(|(celsius, hrc)| {
        let label = format!("the richest, all martensite, {hours:.0} h at {}", CELSIUS.one(*celsius));
        let (value, range) = match hrc {
            Some(hrc) => (HRC.one(hrc.best()), HRC.range(hrc)),
            None => ("under 20 HRC".into(), String::new()),
        };
        Line { label, value, range }
    }));
    lines
}

fn reach(mm: &Interval<f64>) -> (String, String) {
    match (mm.best() > 0.0, mm.high() > 0.0) {
        (true, _) if mm.is_exact() => (DEPTH.one(mm.best()), String::new()),
        (true, _) => (DEPTH.one(mm.best()), DEPTH.range(mm)),
        (false, true) => ("none".into(), format!("{} at most", DEPTH.one(mm.high()))),
        (false, false) => ("none".into(), String::new()),
    }
}
