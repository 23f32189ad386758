use super::number::{CELSIUS, DEPTH, SHARE_OF_ACM, of_100};
use super::page::Page;
use super::soak::{Line, Section};
use crate::crosscheck::{EarlierRuns, LeftOut};
use crate::prediction::{Kept, Prior};
use crate::units::Interval;

/// Most runs that are named one by one, of those used and of those left out.
const MOST: usize = 10;

/// What earlier runs tell, ready to be laid out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EarlierWords {
    /// What is taken of this run without them and with them.
    pub taken: Section,
    /// What to know of that.
    pub words: String,
    /// Which runs they are, and which were left out.
    pub runs: Vec<String>,
    /// What it rests on.
    pub rests_on: String,
}

/// Words what `earlier` runs tell of a run whose unknowns are `prior`.
pub fn earlier(earlier: &EarlierRuns, prior: &Prior) -> EarlierWords {
    let EarlierRuns { furnace, used, left_out, history } = earlier;
    let told: Vec<_> = prior.kept().into_iter().filter(|(kept, ..)| history.told.contains(kept)).collect();
    let head = Line { label: String::new(), value: "without them".into(), range: "with them".into() };
    let line = |(kept, before, with): &(Kept, Interval<f64>, Interval<f64>)| Line {
        label: label(*kept).into(),
        value: range(*kept, before),
        range: range(*kept, with),
    };
    let words = if told.is_empty() {
        "None of them tells anything of this run: it is predicted from its own sheet alone.".into()
    } else {
        "The prediction starts from these instead; what the coupon shows is read without them. Small gaps make the steel \
         late. In a furnace that was changed they mislead: leave --history out after a new thermometer, a new lining or \
         another burner."
            .into()
    };
    let one = |(name, lesson): &(String, crate::crosscheck::Lesson)| {
        let of: Vec<&str> = lesson.of.iter().map(|kept| short(*kept)).collect();
        format!("{name}: {}; without fault {}", of.join(", "), of_100(lesson.sound))
    };
    let mut runs: Vec<String> = used.iter().take(MOST).map(one).collect();
    runs.extend(more(used.len(), "used"));
    runs.extend(left_out.iter().take(MOST).map(|(name, why)| format!("{name}: left out, {}", reason(why))));
    runs.extend(more(left_out.len(), "left out"));
    let count = match used.len() {
        0 => "no earlier run".to_string(),
        1 => "1 earlier run".to_string(),
        n => format!("{n} earlier runs"),
    };
    EarlierWords {
        taken: Section {
            heading: format!("From {count} of {furnace} (nine in ten)"),
            lines: if told.is_empty() {
                Vec::new()
            } else {
                std::iter::once(head).chain(told.iter().map(line)).collect()
            },
        },
        words,
        runs,
        rests_on: format!(
            "{count} of {furnace}: each by its own sheet and coupon, less where a fault explains it; how much stays with \
             furnace and container from run to run is a judgement (`models/priors.toml`)"
        ),
    }
}

fn more(all: usize, what: &str) -> Option<String> {
    (all > MOST).then(|| format!("and {} more {what}", all - MOST))
}

fn label(kept: Kept) -> &'static str {
    match kept {
        Kept::Offset => "heat read too low by",
        Kept::Lag => "gaps in the compound",
        Kept::Potential => "potential of the pack",
    }
}

fn short(kept: Kept) -> &'static str {
    match kept {
        Kept::Offset => "heat",
        Kept::Lag => "lag",
        Kept::Potential => "potential",
    }
}

fn range(kept: Kept, range: &Interval<f64>) -> String {
    match kept {
        Kept::Offset => CELSIUS.with_range(range),
        Kept::Lag => {
            let mm = [range.low(), range.best(), range.high()].map(|metres| metres * 1e3);
            Interval::new(mm[0], mm[1], mm[2]).map_or_else(String::new, |mm| DEPTH.with_range(&mm))
        }
        Kept::Potential => SHARE_OF_ACM.with_range(range),
    }
}

fn reason(why: &LeftOut) -> String {
    match why {
        LeftOut::Itself => "it is this run".into(),
        LeftOut::Unreadable(what) => format!("its sheet cannot be read: {what}"),
        LeftOut::CopyOf(other) => format!("the same, byte for byte, as {other}"),
        LeftOut::NoFurnace => "it names no furnace (furnace in [soak])".into(),
        LeftOut::OtherFurnace(name) => format!("its furnace is {name}"),
        LeftOut::NothingShared => {
            "neither its thermometer's place nor its container and compound are told, and as in this run"
                .into()
        }
        LeftOut::NothingSeen => {
            "nothing was seen of its coupon, in words, that tells: sparks, rim, file or weight".into()
        }
        LeftOut::NothingOpen => "what it shares with this run is set by hand there".into(),
        LeftOut::NotPredicted(what) => format!("there is no prediction of it: {what}"),
    }
}

/// What an answer rests on, earlier runs too, if there are any.
pub(super) fn all_rests_on(own: &[String], earlier: Option<&EarlierWords>) -> Vec<String> {
    own.iter().chain(earlier.map(|earlier| &earlier.rests_on)).cloned().collect()
}

/// Lays it out, if there is any.
pub(super) fn lay_out_earlier(page: &mut Page, earlier: Option<&EarlierWords>) {
    let Some(earlier) = earlier else { return };
    page.heading(&earlier.taken.heading);
    page.rows(&earlier.taken.lines);
    page.paragraph("  ", "  ", &earlier.words);
    for run in &earlier.runs {
        page.paragraph("  - ", "    ", run);
    }
}
