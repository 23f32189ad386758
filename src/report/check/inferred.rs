use super::compared::{bands, inward, subject};
use crate::crosscheck::{Alone, Cause, Condition, Foreseen, Inference, Learned, Look, NextCheck, Worth};
use crate::report::number::{CARBON, CELSIUS, DEPTH, MILLIGRAMS, MINUTES, Style, chance, of_100, percent};
use crate::report::soak::{Line, Section};
use crate::spark::OverTime;
use crate::steel::CarbonBand;
use crate::units::Interval;

/// Of 100 runs with a fault: if fewer than these are found, it counts as not to be seen.
const UNSEEN: f64 = 50.0;
/// Most causes that are named as not to be seen.
const MOST: usize = 4;
/// Worth in even stories under which ranges are called rough.
const ROUGH: f64 = 100.0;

/// What the drawn stories tell beside the two answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inferred {
    /// What the run must have been.
    pub run: Section,
    /// What to know of it: soaks that carry as far, how many stories stand behind it.
    pub words: Vec<String>,
    /// What tells the two best stories apart, what each thing that was seen says by itself, and what cannot be seen at all.
    pub apart: Vec<String>,
}

/// `listed`: whether causes are listed that a check could tell apart.
pub(super) fn inferred(inference: &Inference, listed: bool) -> Inferred {
    let mut words: Vec<String> = worth(&inference.worth).into_iter().collect();
    if inference.carrying < ROUGH {
        words.push(format!(
            "Few of the {} stories fit what was seen: they weigh as much as {:.0} that fit alike, so these ranges are \
             rough.",
            inference.stories, inference.carrying
        ));
    }
    let apart = [
        inference.check.as_ref().filter(|_| listed).map(next),
        alone(inference.usual_before, &inference.alone),
        Some(power(inference)),
    ];
    Inferred {
        run: Section {
            heading: "What the run must have been (nine in ten)".into(),
            lines: run(&inference.learned),
        },
        words,
        apart: apart.into_iter().flatten().collect(),
    }
}

/// "No fault by each alone, of 100 (38 before): sparks 46; the fracture 5 (steel colder 39)"; a cause is named where it is
/// likelier than none. Nothing where only one thing was seen.
fn alone(before: f64, all: &[Alone]) -> Option<String> {
    let one = |alone: &Alone| {
        let seen = alone.seen.as_ref().map_or("all other signs", subject);
        let cause = alone.cause.filter(|(_, share)| *share > alone.usual);
        let cause = cause.map(|(cause, share)| format!(" ({} {})", short(cause), percent(share)));
        format!("{seen} {}{}", percent(alone.usual), cause.unwrap_or_default())
    };
    let each: Vec<String> = all.iter().map(one).collect();
    (each.len() > 1)
        .then(|| format!("No fault by each alone, of 100 ({} before): {}.", percent(before), each.join("; ")))
}

fn run(learned: &[Learned]) -> Vec<Line> {
    if learned.is_empty() {
        return Vec::new();
    }
    let head = Line { label: String::new(), value: "as told".into(), range: "by all that was seen".into() };
    let line = |l: &Learned| {
        let (label, style) = match l.condition {
            Condition::Temperature => ("heat of the steel", CELSIUS),
            Condition::Time => ("time at that heat", MINUTES),
            Condition::Late => ("lost as the steel lagged", MINUTES),
            Condition::Potential => ("potential of the pack", CARBON),
            Condition::Face => ("carbon of the face, hot", CARBON),
            Condition::Stock => ("carbon of the stock", CARBON),
            Condition::VisibleEdge => ("edge that the eye sees", CARBON),
        };
        Line { label: label.into(), value: style.with_range(&l.before), range: style.with_range(&l.after) }
    };
    std::iter::once(head).chain(learned.iter().map(line)).collect()
}

/// "Such a run carries carbon as far as a steady 80 min (52 to 110) at 900 °C would, or ...".
fn worth(worth: &[Worth]) -> Option<String> {
    let heat = |w: &Worth, minutes: &Interval<f64>| {
        format!(
            "{} ({} to {}) at {}",
            MINUTES.one(minutes.best()),
            MINUTES.bare(minutes.low()),
            MINUTES.bare(minutes.high()),
            CELSIUS.one(w.celsius)
        )
    };
    let first = worth.first()?;
    let all: Vec<String> = worth.iter().map(|w| heat(w, &w.after)).collect();
    Some(format!(
        "Such a run carries carbon as far as a steady {} would; as told it was worth {}.",
        all.join(", or "),
        heat(first, &first.before)
    ))
}

fn name(cause: Option<&Cause>) -> String {
    cause.map_or("if nothing was wrong".into(), |cause| format!("with {}", short(cause)))
}

/// Its name up to what explains it.
fn short(cause: &Cause) -> &str {
    cause.name.split(':').next().unwrap_or_default()
}

/// The cheapest check, what it would show, and what it settles.
fn next(next: &NextCheck) -> String {
    let number = match next.check.look {
        Look::Gain { .. } => MILLIGRAMS,
        _ => DEPTH,
    };
    let [first, second] = [0, 1].map(|i| (foreseen(&next.foreseen[i], number), name(next.between[i])));
    let so = if next.check.yes.is_empty() {
        "it shows".into()
    } else {
        format!("chance that {}:", next.check.yes)
    };
    format!(
        "Cheapest check between the two likeliest ({}, about {}): {so} {} {}, {} {}. It settles about {:.0} % of what is \
         open between them.",
        lower(&next.check.words),
        MINUTES.one(next.check.minutes.value),
        first.0,
        first.1,
        second.0,
        second.1,
        100.0 * next.settles / next.open,
    )
}

fn foreseen(foreseen: &Foreseen, number: Style) -> String {
    match foreseen {
        Foreseen::Chance(share) => chance(*share),
        Foreseen::Number(range) => number.with_range(range),
        Foreseen::Order(chances) => {
            let best =
                (0..chances.len()).fold(0, |best, i| if chances[i] > chances[best] { i } else { best });
            format!("{} ({})", inward(OverTime::ALL[best]), chance(chances[best]))
        }
        Foreseen::Band(band, share) => {
            let band = CarbonBand::ALL[*band];
            format!("{} ({})", bands(band, band), chance(*share))
        }
    }
}

/// The words with a small first letter.
fn lower(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// How often such readings call a sound run wrong, and causes that they cannot show.
fn power(inference: &Inference) -> String {
    let alarms = format!(
        "Of sound runs looked at like this, {} are called a mismatch, by chance or a misreading.",
        of_100(inference.alarms)
    );
    let mut unseen: Vec<_> = inference.powers.iter().filter(|p| (100.0 * p.best).round() < UNSEEN).collect();
    if unseen.is_empty() {
        return alarms;
    }
    // what happens often first
    unseen.sort_by(|a, b| b.cause.weight.value.total_cmp(&a.cause.weight.value));
    let told = unseen.iter().take(MOST).map(|p| format!("{} ({})", short(p.cause), percent(p.best)));
    let told: Vec<String> = told.collect();
    let more = match unseen.len().saturating_sub(MOST) {
        0 => String::new(),
        1 => ", and one that is rarer".into(),
        n => format!(", and {n} that are rarer"),
    };
    format!(
        "{alarms} Even the best test of such readings (5 of 100 sound runs called wrong) finds under 50 of 100 runs \
         with one of these: {}{more}. That it was none of them is not proven.",
        told.join("; ")
    )
}
