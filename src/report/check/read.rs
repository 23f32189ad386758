use super::{read_face, read_sparks};
use crate::crosscheck::{Question, Seen};
use crate::estimate::{CaseAnswer, CaseDoubt, SparkAnswer};
use crate::prediction::Reading;

/// How each thing that was seen was read, and what nobody told.
pub(super) fn read(question: &Question) -> Vec<String> {
    let seen = question.seen;
    let mut list = Vec::new();
    let (sparks, face) = (seen.sparks.filter(|_| sparks_told(seen)), seen.face.filter(|_| face_told(seen)));
    list.extend(sparks.map(|(_, answer)| read_sparks::words(answer)));
    list.extend(face.map(|(features, answer)| read_face::words(features, answer)));
    let missing = missing(question);
    if !missing.is_empty() {
        let missing = missing.join(", ");
        list.push(format!(
            "Nothing was told of: {missing}. What is missing counts as missing, never as none."
        ));
    }
    list
}

/// What of the coupon nobody told.
fn missing(question: &Question) -> Vec<&'static str> {
    let seen = question.seen;
    let file = seen.witness.is_some_and(|w| w.file.iter().any(|stroke| stroke.result.is_some()));
    let weighable = question.prediction.last().readings.contains_key(&Reading::CouponGain);
    let said = [
        (sparks_told(seen), "the sparks"),
        (seen.inward.is_some(), "how they change further in"),
        (face_told(seen), "the fracture"),
        (file, "a file"),
        (seen.witness.is_some_and(|w| w.skin.is_some()), "the skin after opening"),
        (seen.witness.is_some_and(|w| w.magnet.is_some()), "a magnet"),
        (seen.gain.is_some() || !weighable, "the weight after the soak"),
    ];
    said.into_iter().filter(|(said, _)| !said).map(|(_, what)| what).collect()
}

/// Whether anything was told of the sparks that says how rich they are.
fn sparks_told(seen: &Seen) -> bool {
    seen.sparks.is_some_and(|(_, answer)| !matches!(answer, SparkAnswer::CannotTell { known: 0, .. }))
}

/// Whether a rim or a depth was told of the face.
fn face_told(seen: &Seen) -> bool {
    let nothing = |answer: &CaseAnswer| matches!(answer, CaseAnswer::CannotTell { why } if why.contains(&CaseDoubt::NothingSaid));
    seen.face.is_some_and(|(_, answer)| !nothing(answer))
}

/// Whether anything at all was told of the coupon after the soak.
pub(super) fn anything_told(seen: &Seen) -> bool {
    let witnessed =
        seen.witness.is_some_and(|w| !w.file.is_empty() || w.skin.is_some() || w.magnet.is_some());
    sparks_told(seen) || face_told(seen) || seen.inward.is_some() || seen.gain.is_some() || witnessed
}

/// A question that a tree asked: what, its value if it was said, and the bound that it was held against.
pub(super) struct Asked {
    /// What was asked, in words.
    pub(super) what: &'static str,
    /// What its numbers mean; empty if that is plain.
    pub(super) scale: &'static str,
    /// What it was compared with.
    pub(super) threshold: f64,
    /// The value, and whether it lies above; `None`: not said.
    pub(super) answer: Option<(f64, bool)>,
}

/// The way through a tree: each question with its value and what that lies above or below; then what was asked
/// and not said. Questions about one thing stand together, in the order in which the first was asked.
pub(super) fn path(asked: &[Asked]) -> String {
    let mut whats: Vec<&str> = Vec::new();
    for question in asked {
        if !whats.contains(&question.what) {
            whats.push(question.what);
        }
    }
    let (mut said, mut unsaid) = (Vec::new(), Vec::new());
    for what in whats {
        let of: Vec<&Asked> = asked.iter().filter(|a| a.what == what).collect();
        match of[0].answer {
            Some((value, _)) => {
                let scale = if of[0].scale.is_empty() { String::new() } else { format!("; {}", of[0].scale) };
                said.push(format!("{what} {value:.2} ({}{scale})", bounds(&of)));
            }
            None => unsaid.push(what),
        }
    }
    let said = if said.is_empty() { "nothing of what is asked was said".into() } else { said.join("; ") };
    if unsaid.is_empty() {
        said
    } else {
        format!("{said}; asked and not said, so both ways count: {}", unsaid.join(", "))
    }
}

/// The nearest bounds on either side: "above 0.40, not above 0.85".
fn bounds(asked: &[&Asked]) -> String {
    let thresholds = |above: bool| {
        let on_side = asked.iter().filter(move |a| a.answer.is_some_and(|(_, side)| side == above));
        on_side.map(|a| a.threshold)
    };
    let low = thresholds(true).reduce(f64::max).map(|t| format!("above {t:.2}"));
    let high = thresholds(false).reduce(f64::min).map(|t| format!("not above {t:.2}"));
    low.into_iter().chain(high).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_told_by_what_was_asked() {
        let asked = |what, threshold, answer| Asked { what, scale: "0 to 2", threshold, answer };
        let told = path(&[
            asked("fine sparking", 1.2, Some((1.6, true))),
            asked("rays", 3.0, None),
            asked("fine sparking", 1.8, Some((1.6, false))),
            asked("fine sparking", 0.4, Some((1.6, true))),
        ]);
        let want = "fine sparking 1.60 (above 1.20, not above 1.80; 0 to 2); asked and not said, so both ways count: rays";
        assert_eq!(told, want);
        assert!(path(&[asked("rays", 3.0, None)]).starts_with("nothing of what is asked"));
    }
}
