use super::fault::Fault;
use super::field::{Field, find_word};
use super::section::Section;
use crate::files::problem::shown;
use crate::files::words::plain;
use crate::witness::{FileKind, FileResult, FileTest, Magnet, Skin, WitnessObservation};

const FILES: [(&str, FileKind); 3] =
    [("mill file", FileKind::Mill), ("new mill file", FileKind::Mill), ("worn file", FileKind::Worn)];
const RESULTS: [(&str, FileResult); 2] = [("bites", FileResult::Bites), ("skates", FileResult::Skates)];
const SKINS: [(&str, Skin); 2] = [("light grey", Skin::LightGrey), ("dark scale", Skin::DarkScale)];
const MAGNETS: [(&str, Magnet); 3] =
    [("sticks", Magnet::Sticks), ("weak", Magnet::Weak), ("does not stick", Magnet::DoesNotStick)];

/// Reads `[witness]`.
pub(super) fn read(section: &mut Section<'_>) -> WitnessObservation {
    WitnessObservation {
        file: section.each("file", file_test),
        skin: section.take("skin").and_then(|f| f.word(&SKINS)),
        magnet: section.take("magnet").and_then(|f| f.word(&MAGNETS)),
    }
}

fn file_test(section: &mut Section<'_>) -> FileTest {
    FileTest {
        which: section.take("which").and_then(|f| file_kind(&f)),
        result: section.take("result").and_then(|f| f.word(&RESULTS)),
        after_grinding: section.take("after_grinding").and_then(|f| f.interval()),
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
