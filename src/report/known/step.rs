use crate::report::{Page, Tone};

/// One thing that was done to a set: what, to which record, and what to know about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// "Removed".
    pub what: &'static str,
    /// The record's name, or a file's.
    pub name: String,
    /// A sentence; may be empty.
    pub words: String,
    /// Its tone.
    pub tone: Tone,
}

/// Lays out what was done.
pub fn step_page(steps: &[Step]) -> Page {
    let mut page = Page::default();
    for step in steps {
        if step.words.is_empty() {
            page.paragraph("", "  ", &format!("{}: {}", step.what, step.name));
        } else {
            page.headline(step.what, &step.name, step.tone, &step.words);
        }
    }
    page
}
