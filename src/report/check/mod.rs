//! What coupon and soak say together, in words.

mod advised;
mod blamed;
mod caution;
pub(super) mod compared;
mod edge;
mod headline;
mod inferred;
mod read;
pub(super) mod read_face;
pub(super) mod read_sparks;
mod second;

pub(super) use advised::medium;
pub(super) use caution::{BREAKING, GRINDER, QUENCH};
pub(super) use compared::bands;
pub use inferred::Inferred;

use super::note::note;
use super::number::DEPTH;
use super::page::{Comparison, Tone};
use super::plan::{duration, off_each_side, stages, wanted};
use super::soak::{self, Criteria, Line, Section, cite, line};
use super::{Chart, EarlierWords, number};
use crate::crosscheck::{CrossCheck, Observation, Question};
use crate::fracture::LookedAtFaces;
use crate::plan::Onward;
use crate::prediction::{Reading, SEED};
use crate::sources::Source;
use crate::spark::LookedAt;

/// The answer of `snapspark check`, ready to be laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckReport {
    /// Took, fits, what now.
    pub headlines: [Headline; 3],
    /// What was seen beside what should have been.
    pub compared: Compared,
    /// What explains it.
    pub causes: CauseList,
    /// What the drawn stories tell beside; none were drawn.
    pub inferred: Option<Inferred>,
    /// Carbon and hardness where it matters.
    pub edge: Section,
    /// What to know about them.
    pub edge_notes: Vec<String>,
    /// What the soak should have given.
    pub soak: Section,
    /// Profile of the coupon, with the depths predicted and seen.
    pub chart: Chart,
    /// Its legend.
    pub legend: String,
    /// What becomes of the case from here on, the first row naming the columns; none: there is none to go on with.
    pub stages: Vec<[String; 5]>,
    /// What the stages mean.
    pub stages_words: String,
    /// How long a second soak must be, where one is called for.
    pub second: Option<String>,
    /// What earlier runs tell, if they were asked for.
    pub earlier: Option<EarlierWords>,
    /// How sparks and face were read.
    pub read: Vec<String>,
    /// What photos of the sparks show, and which could not be used.
    pub photos: Vec<String>,
    /// The same of the fracture face.
    pub face_photos: Vec<String>,
    /// What to know of the prediction.
    pub notes: Vec<String>,
    /// What the answer rests on.
    pub rests_on: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// An answer word with a sentence or two.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Headline {
    /// What is answered.
    pub label: &'static str,
    /// The answer.
    pub answer: &'static str,
    /// Its tone.
    pub tone: Tone,
    /// What it means.
    pub words: String,
}

/// What was seen beside what should have been.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Compared {
    /// Heading.
    pub heading: String,
    /// One row for each observation.
    pub rows: Vec<Comparison>,
    /// What to say if there are none.
    pub without: String,
}

/// Causes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CauseList {
    /// Heading.
    pub heading: &'static str,
    /// The likeliest first.
    pub list: Vec<CauseLine>,
    /// What to say after them, or instead.
    pub rest: String,
}

/// One cause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CauseLine {
    /// What it is, how likely, and the change that explains most.
    pub what: String,
    /// What tells it apart from others.
    pub tells_apart: String,
    /// What to try.
    pub next: String,
}

/// Words a cross-check. `name` is what the run is called, `sources` the bibliography, `photos` and `faces` what
/// was made of those that the run sheet names.
pub fn check(
    name: &str,
    question: &Question,
    check: &CrossCheck,
    sources: &[Source],
    photos: Option<&LookedAt>,
    faces: Option<&LookedAtFaces>,
    onward: &Onward,
) -> CheckReport {
    let Question { run, prediction, .. } = *question;
    let seen_mm = check.agreements.iter().find_map(|a| match a.seen {
        Observation::Rim { depth, .. } => depth.map(|d| d.best),
        _ => None,
    });
    let (chart, legend) = soak::chart(prediction, seen_mm);
    let piece = run.piece.map(|p| p.what.as_str()).filter(|what| !what.is_empty()).map(of_the);
    let piece = piece.as_deref().unwrap_or_default();
    let causes = blamed::causes(check);
    CheckReport {
        headlines: [
            headline::took(question, check, piece),
            headline::fits(question, check),
            advised::what_now(question, check),
        ],
        compared: compared::compared(name, question, check),
        inferred: check.inference.as_ref().map(|i| inferred::inferred(i, !causes.list.is_empty())),
        causes,
        edge: edge::section(question, check, piece),
        edge_notes: edge::notes(question, check),
        soak: given(question),
        chart,
        legend,
        stages: onward.afterwards.as_ref().map(stages).unwrap_or_default(),
        stages_words: onward.afterwards.as_ref().map(|a| off_each_side(a, question.need)).unwrap_or_default(),
        second: onward.second.as_ref().map(|s| second::words(question, s)),
        earlier: None,
        read: read::read(question),
        photos: photos.map(super::sparks::summary).unwrap_or_default(),
        face_photos: faces.map(super::faces::summary).unwrap_or_default(),
        notes: prediction.notes.iter().map(note).collect(),
        rests_on: rests_on(question, sources),
        cautions: caution::cautions(check),
    }
}

/// The main numbers of the prediction.
fn given(question: &Question) -> Section {
    let Question { run, physics, prediction, .. } = *question;
    let last = prediction.last();
    let names = Criteria::new(physics, prediction.story.inputs.core);
    let lines = [
        line(last, Reading::Surface, "surface carbon", number::CARBON),
        line(last, Reading::Visible, names.visible, DEPTH),
        line(last, Reading::Total, names.total, DEPTH),
    ];
    let mut lines: Vec<Line> = lines.into_iter().flatten().collect();
    lines.extend(soak::edge(run, last).into_iter().flat_map(|edge| edge.lines).take(1));
    Section { heading: format!("What the soak should have given, after {}", last.stage.name()), lines }
}

/// " of the marking knife", whatever article the sheet gave it.
fn of_the(what: &str) -> String {
    let articles = ["a ", "an ", "the ", "my "];
    let bare = articles.iter().find_map(|article| what.strip_prefix(article)).unwrap_or(what);
    format!(" of the {bare}")
}

fn rests_on(question: &Question, sources: &[Source]) -> Vec<String> {
    let Question { run, physics, causes, need, hardness, .. } = *question;
    let drawn = match question.prediction.drawn.iter().flatten().count() {
        0 => String::new(),
        count => format!("ranges and shares from {count} runs drawn, seed {SEED}; "),
    };
    vec![
        format!(
            "causes, their weights, how well eye and file tell (`models/causes.toml`): {}; the shares rank causes \
             and are no measured chances",
            causes.usual.status.word()
        ),
        "votes on sparks and faces: their trees are fitted on drawn rows, so votes are no measured probabilities"
            .into(),
        cite("carbon wanted", &need.wanted, sources),
        cite("hardness of martensite", &hardness.martensite.full, sources),
        cite("temper", &hardness.temper.chart, sources),
        format!(
            "prediction: diffusivity {}, pack of {}; {drawn}`snapspark soak` names every source, \
             `models/sources.toml` their titles",
            physics.law.name, run.pack.compound.name
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::of_the;

    #[test]
    fn a_name_keeps_one_article() {
        assert_eq!(
            ["a small knife", "an awl", "anvil"].map(of_the),
            [" of the small knife", " of the awl", " of the anvil"]
        );
    }
}
