use super::Headline;
use super::compared::{subject, word};
use super::read::anything_told;
use crate::crosscheck::{Answer, CrossCheck, DepthLeft, Fits, Part, Question, Side, Sign, Took};
use crate::prediction::DepthCriterion;
use crate::report::number::{CARBON, DEPTH, chance};
use crate::report::page::Tone;

/// Whether it took, of what, and how sure that is.
pub(super) fn took(question: &Question, check: &CrossCheck, of: &str) -> Headline {
    let took = &check.took;
    let (answer, tone) = match took.answer {
        Answer::Yes => ("YES", Tone::Good),
        Answer::Partly => ("PARTLY", Tone::Middling),
        Answer::No => ("NO", Tone::Bad),
        Answer::CannotTell => ("CANNOT TELL", Tone::Middling),
    };
    let by = if check.agreements.is_empty() {
        format!("{} By the soak alone", nothing_tells(question))
    } else if check.signs.get(Sign::NotPlainCarbon) == Some(true) {
        "By magnet or sparks it is no plain carbon steel, and then nothing here speaks of it. If it were"
            .into()
    } else {
        "By soak and coupon".into()
    };
    let there = match &took.carbon {
        Some(carbon) => format!(
            "{by}, {} has {}, nine times in ten.",
            part(question, took, of),
            CARBON.with_range(carbon)
        ),
        None => format!("{by}, nothing is left of {}.", part(question, took, of)),
    };
    let wanted = format!("Chance of the {} that it wants: {}.", CARBON.one(took.wanted), chance(took.enough));
    let too_little = match took.answer {
        Answer::No | Answer::Partly | Answer::CannotTell => {
            let least = CARBON.one(took.least);
            format!(" Chance of less than {least}, too little to hold: {}.", chance(took.too_little))
        }
        Answer::Yes => String::new(),
    };
    let depth =
        took.depth.as_ref().map(|depth| format!(" {}", depth_left(depth, took.part))).unwrap_or_default();
    let edge = if took.edge_untold {
        " How thick the edge was in the pack was not told, so nothing is said of the edge."
    } else {
        ""
    };
    let words = format!("{there} {wanted}{too_little}{depth}{edge}");
    Headline { label: "Took, for its use", answer, tone, words }
}

/// "the finished edge of the knife (the middle of the section)".
fn part(question: &Question, took: &Took, of: &str) -> String {
    match took.part {
        Part::FinishedEdge if took.part.is_middle(question.run) => {
            format!("the finished edge{of} (ground from both sides: the middle of the section)")
        }
        Part::FinishedEdge => format!("the finished edge{of} (ground from one side: the other face)"),
        Part::Face { off } if off.metres() > 0.0 => {
            format!("a face{of} with {} ground off", DEPTH.one(off.millimetres()))
        }
        Part::Face { .. } => format!("a face{of} with nothing ground off"),
    }
}

fn depth_left(depth: &DepthLeft, part: Part) -> String {
    let place = match part {
        Part::FinishedEdge => "on the faces, nothing ground off,",
        Part::Face { .. } => "left there",
    };
    let left = depth.left.as_ref().map_or("unknown".into(), |left| DEPTH.with_range(left));
    format!(
        "The {} {place} is {}, where {} is wanted: chance of that {}.",
        criterion(depth.criterion),
        left,
        DEPTH.one(depth.wanted),
        chance(depth.enough)
    )
}

/// What a depth is a depth to.
pub(super) fn criterion(criterion: DepthCriterion) -> &'static str {
    match criterion {
        DepthCriterion::Visible => "visible case depth",
        DepthCriterion::Total => "total case depth",
        DepthCriterion::Carburization => "carburization depth (0.35 %C)",
        DepthCriterion::Effective550Hv => "case hardening depth (550 HV)",
        DepthCriterion::Effective50Hrc => "effective case depth (50 HRC)",
    }
}

/// Why there is nothing to hold against the soak.
fn nothing_tells(question: &Question) -> &'static str {
    if anything_told(question.seen) {
        "Nothing that was seen tells how much carbon there is."
    } else {
        "Nothing was seen of the coupon."
    }
}

/// Whether what was seen fits the soak.
pub(super) fn fits(question: &Question, check: &CrossCheck) -> Headline {
    let off = |side: Side| {
        let rows = check.agreements.iter().filter(|a| a.side == side);
        rows.map(|a| format!("{} {}", subject(&a.seen), word(&a.seen, side))).collect::<Vec<_>>().join(", ")
    };
    let (less, more) = (off(Side::Less), off(Side::More));
    let (answer, tone, words) = match check.fits {
        Fits::Yes => {
            ("YES", Tone::Good, "Everything that was seen lies within what such a soak gives.".to_string())
        }
        Fits::Less => ("SHALLOWER OR POORER", Tone::Bad, outside("Less", &less, check)),
        Fits::More => ("DEEPER OR RICHER", Tone::Middling, outside("More", &more, check)),
        Fits::Contradicts if less.is_empty() || more.is_empty() => (
            CONTRADICTS,
            Tone::Bad,
            "What sparks, fracture and file say cannot all be right, whatever the soak was: one of them was \
             misread, or the case did not harden."
                .to_string(),
        ),
        Fits::Contradicts => (
            CONTRADICTS,
            Tone::Bad,
            format!("Beside the soak: {less}; but {more}. They cannot all be right: settle that first."),
        ),
        Fits::CannotTell => (
            "CANNOT TELL",
            Tone::Middling,
            format!("{} So there is nothing to hold against the soak.", nothing_tells(question)),
        ),
    };
    Headline { label: "Fits the soak", answer, tone, words }
}

/// What lies outside; or, if nothing does by itself, what explains all of it together better than chance.
fn outside(side: &str, what: &str, check: &CrossCheck) -> String {
    match check.causes.first() {
        Some(blamed) if what.is_empty() => format!(
            "Each thing that was seen might be chance, but all of it together is explained far better by this: {}.",
            blamed.cause.name
        ),
        _ => format!("{side} than such a soak should have given: {what}."),
    }
}

const CONTRADICTS: &str = "THE WITNESSES CONTRADICT EACH OTHER";
