use super::fault::Fault;
use super::field::{Field, find_word};
use super::section::Section;
use crate::files::problem::shown;
use crate::files::words::plain;
use crate::units::Depth;
use crate::witness::{FileKind, FileResult, FileTest, Magnet, Skin, WitnessObservation};

const FILES: [(&str, FileKind); 3] =
    [("mill file", FileKind::Mill), ("new mill file", FileKind::Mill), ("worn file", FileKind::Worn)];
const RESULTS: [(&str, FileResult); 2] = [("bites", FileResult::Bites), ("skates", FileResult::Skates)];
const SKINS: [(&str, Skin); 2] = [("light grey", Skin::LightGrey), ("dark scale", Skin::DarkScale)];
const MAGNETS: [(&str, Magnet); 3] =
    [("sticks", Magnet::Sticks), ("weak", Magnet::Weak), ("does not stick", Magnet::DoesNotStick)];

/// Reads `[witness]`; `thickness` is the coupon's.
pub(super) fn read(section: &mut Section<'_>, thickness: Option<Depth>) -> WitnessObservation {
    let file = section.each("file", |section| file_test(section, thickness));
    if let (true, Some(field)) = (contradict(&file), section.take("file")) {
        let fault = Fault::new(
            "at the same depth one file bites, and one that is no softer skates",
            "a harder file bites whatever a softer one does: try both again",
        );
        field.reading.warning(field.at, &field.path, fault);
    }
    WitnessObservation {
        file,
        skin: section.take("skin").and_then(|f| f.word(&SKINS)),
        magnet: section.take("magnet").and_then(|f| f.word(&MAGNETS)),
    }
}

/// Whether a file skates at a depth where one that is no harder bites.
fn contradict(files: &[FileTest]) -> bool {
    let no_softer = |a: Option<FileKind>, b: Option<FileKind>| match (a, b) {
        (Some(FileKind::Graded(a)), Some(FileKind::Graded(b))) => a <= b,
        _ => a.is_some() && a == b,
    };
    let is = |file: &FileTest, result| file.result == Some(result);
    files.iter().filter(|f| is(f, FileResult::Bites)).any(|biting| {
        let skating = files.iter().filter(|f| is(f, FileResult::Skates));
        skating
            .filter(|f| f.after_grinding == biting.after_grinding)
            .any(|skating| no_softer(biting.which, skating.which))
    })
}

fn file_test(section: &mut Section<'_>, thickness: Option<Depth>) -> FileTest {
    section.list_in_order(&["which", "result", "after_grinding"]);
    if section.take("result").is_none() {
        let help = "add result = \"bites\" or \"skates\", or take it out";
        section.warning(Fault::new("a file without its result says nothing", help));
    }
    FileTest {
        which: section.take("which").and_then(|f| file_kind(&f)),
        result: section.take("result").and_then(|f| f.word(&RESULTS)),
        after_grinding: section.take("after_grinding").and_then(|f| {
            let depth = f.interval()?;
            f.inside(&depth, thickness).then_some(depth)
        }),
    }
}

/// `mill file`, `worn file` or the hardness of a graded file, `58 HRC`.
fn file_kind(field: &Field<'_>) -> Option<FileKind> {
    let text = field.short("a file")?;
    let lower = plain(text);
    let (low, high) = FileKind::HRC;
    let graded = || {
        let number = lower.strip_suffix("hrc").or_else(|| lower.strip_prefix("hrc"))?.trim();
        number.parse::<f64>().ok().filter(|&hrc| hrc >= low && hrc <= high).map(FileKind::Graded)
    };
    field.settle(find_word(text, &FILES).or_else(graded).ok_or_else(|| {
        Fault::new(
            format!("`{}` is not a file that is known here", shown(text)),
            format!("allowed: \"mill file\", \"worn file\", or a graded file of {low} to {high} HRC such as \"58 HRC\""),
        )
    }))
}
