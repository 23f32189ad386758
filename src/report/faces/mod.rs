//! What photos of a fracture face show, in words.

mod grain;
mod note;
mod remedy;
mod tables;

use super::check::{BREAKING, compared, read_face};
use super::number::DEPTH;
use super::page::{Page, Tone};
use super::soak::Line;
use super::sparks::plural;
use super::unused::{self, UnusedLine};
use crate::estimate::{CaseAnswer, CaseClass, CaseEstimate};
use crate::features::FractureFeatures;
use crate::fracture::{LookedAtFaces, PhotographedFace, SeenRim, ShownFace};
pub(super) use tables::{name as side_name, percent};

/// The answer of `snapspark face`, ready to be laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceReport {
    /// The answer.
    pub answer: String,
    /// Its tone.
    pub tone: Tone,
    /// What it means.
    pub words: String,
    /// Photo by photo: what it is called, and its sides: name, depth, spread along the side, share that was read.
    pub sides: Vec<(String, Vec<[String; 4]>)>,
    /// Transition, what case and core look like against each other, scale.
    pub looks: Vec<Line>,
    /// Photo by photo, if there are several: name, rim, depth.
    pub photos: Vec<[String; 3]>,
    /// What the blank shows.
    pub blank: Vec<String>,
    /// Photos that were not used.
    pub unused: Vec<UnusedLine>,
    /// How the face was read.
    pub read: Vec<String>,
    /// What to know.
    pub notes: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// Words what photos show, and what that says.
pub fn faces(photos: &LookedAtFaces, features: &FractureFeatures, answer: &CaseAnswer) -> FaceReport {
    let coupon = photos.coupon.as_ref();
    let (headline, tone, words) = headline(coupon, answer);
    FaceReport {
        answer: headline,
        tone,
        words,
        sides: coupon.map(tables::sides).unwrap_or_default(),
        looks: coupon.map(tables::looks).unwrap_or_default(),
        photos: coupon.map(tables::photos).unwrap_or_default(),
        blank: photos.blank.as_ref().map(|b| sentence("The blank", b)).into_iter().collect(),
        unused: unused::unused(&photos.unused),
        read: coupon.map(|_| read_face::words(features, answer)).into_iter().collect(),
        notes: notes(photos),
        cautions: vec![BREAKING.into(), AID.into()],
    }
}

const AID: &str =
    "Local codes and licensed practice come first. This is an aid to judgement, not a certificate.";
const DRAWN: &str = "Nobody has held this against a real face yet: no openly licensed photo of a case-hardened fracture is \
                     known. Of 120 drawn faces, half of them by a maker that nothing was learned of, 92 were classed right, \
                     and 5 of 18 without a case were taken for cased, most of them smooth lips. Ranges held 88 in 100 \
                     depths; their width was chosen on these faces among others. Look at the overlay, hold one face \
                     against a ruler, and break a blank.";

fn headline(coupon: Option<&PhotographedFace>, answer: &CaseAnswer) -> (String, Tone, String) {
    let Some(face) = coupon else {
        return ("CANNOT TELL".into(), Tone::Middling, "No photo of the coupon's face can be used.".into());
    };
    let by = format!("By {}.", plural(face.photos.len(), "photo"));
    let CaseAnswer::Read(case) = answer else {
        let shown = match face.shown.rim {
            SeenRim::Unclear => format!("{by} Whether there is a rim cannot be told."),
            known => format!("{by} It shows: {}; why that is no answer stands below.", rim(known)),
        };
        return ("CANNOT TELL".into(), Tone::Middling, shown);
    };
    let (word, tone) = match case.class {
        CaseClass::None => ("NO CASE SEEN", Tone::Bad),
        CaseClass::Partial => ("ON SOME SIDES", Tone::Middling),
        CaseClass::AllRound => ("ALL ROUND", Tone::Good),
        CaseClass::Through => ("RIGHT THROUGH", Tone::Middling),
    };
    let depth = case.depth_mm.map(|mm| DEPTH.with_range(&mm)).or_else(|| depth(&face.shown));
    let depth = depth.filter(|_| matches!(case.class, CaseClass::Partial | CaseClass::AllRound));
    let words = match depth {
        Some(depth) => {
            format!(
                "The middle of its sides is {depth}, nine times in ten: {}. {by}",
                CaseEstimate::CRITERION
            )
        }
        None => by,
    };
    (word.into(), tone, words)
}

/// "0.61 mm (0.54 to 0.70)", or a share of the thickness.
fn depth(shown: &ShownFace) -> Option<String> {
    let share = || shown.depth.as_ref().map(|share| format!("{} of the thickness", percent(share)));
    shown.depth_mm.as_ref().map(|mm| DEPTH.with_range(mm)).or_else(share)
}

/// How far round, as in a sentence.
pub(super) fn rim(rim: SeenRim) -> &'static str {
    match rim {
        SeenRim::None => compared::rim(CaseClass::None),
        SeenRim::Partial => compared::rim(CaseClass::Partial),
        SeenRim::AllRound => compared::rim(CaseClass::AllRound),
        SeenRim::Through => compared::rim(CaseClass::Through),
        SeenRim::Unclear => "a rim or none, which cannot be told",
    }
}

fn sentence(whose: &str, face: &PhotographedFace) -> String {
    let depth = depth(&face.shown).map(|depth| format!(", {depth}")).unwrap_or_default();
    format!("{whose}, by {}: {}{depth}.", plural(face.photos.len(), "photo"), rim(face.shown.rim))
}

fn notes(photos: &LookedAtFaces) -> Vec<String> {
    let noted = |face: &Option<PhotographedFace>| -> Vec<String> {
        face.iter().flat_map(|f| &f.notes).map(note::note).collect()
    };
    let mut list = noted(&photos.coupon);
    for of_blank in noted(&photos.blank) {
        if !list.contains(&of_blank) {
            list.push(of_blank);
        }
    }
    list.extend(
        photos.remarks.iter().map(|(photo, remark)| format!("{photo}: {}.", remark.trim_end_matches('.'))),
    );
    if photos.coupon.is_some() {
        list.push(DRAWN.into());
    }
    list
}

/// What `check` says of photos: what they show in a sentence, those that were not used, what to know.
pub(super) fn summary(photos: &LookedAtFaces) -> Vec<String> {
    let mut list: Vec<String> = match &photos.coupon {
        Some(face) => vec![sentence("The coupon's face", face)],
        None => vec!["No photo of the coupon's face can be used.".into()],
    };
    list.extend(photos.blank.as_ref().map(|blank| sentence("The blank's", blank)));
    list.extend(
        unused::unused(&photos.unused).into_iter().map(|line| format!("{} {}", line.why, line.do_this)),
    );
    list.extend(notes(photos));
    list
}

/// Lays out what photos of a face show: the answer first.
pub fn face_page(report: &FaceReport) -> Page {
    let mut page = Page::default();
    page.headline("Case by the fracture face", &report.answer, report.tone, &report.words);
    unused::write(&mut page, &report.unused);
    for (photo, sides) in &report.sides {
        page.heading(&format!("{photo}, side by side, without corners"));
        page.table(SIDES, sides);
    }
    if !report.photos.is_empty() {
        page.heading("Photo by photo: best value (range that holds nine in ten)");
        page.table(PHOTOS, &report.photos);
    }
    if !report.looks.is_empty() {
        page.heading("Case and core beside each other");
        page.rows(&report.looks);
    }
    page.list("The blank", &report.blank);
    page.list("How it was read", &report.read);
    page.list("To know", &report.notes);
    page.list("Cautions", &report.cautions);
    page
}

/// Columns of the tables, characters.
const SIDES: [usize; 4] = [8, 24, 24, 18];
const PHOTOS: [usize; 3] = [28, 22, 26];
