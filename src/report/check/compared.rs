use super::Compared;
use crate::crosscheck::{Agreement, CrossCheck, Doubtful, Expected, Observation, Question, Side};
use crate::estimate::{CaseClass, DepthBand, SparkAnswer};
use crate::prediction::Reading;
use crate::report::number::{CARBON, DEPTH, HRC, MILLIGRAMS, Style, of_100};
use crate::report::page::{Comparison, Tone};
use crate::spark::OverTime;
use crate::steel::CarbonBand;
use crate::units::Interval;

/// The table of what was seen.
pub(super) fn compared(name: &str, question: &Question, check: &CrossCheck) -> Compared {
    Compared {
        heading: format!("Seen on the coupon of {name}, beside what its soak should have given"),
        rows: check.agreements.iter().map(|a| row(question, check, a)).collect(),
        without: "Nothing yet. One light touch on the wheel beside untreated stock is worth most; then a file, and \
                  the fracture of the quenched coupon."
            .into(),
    }
}

fn row(question: &Question, check: &CrossCheck, agreement: &Agreement) -> Comparison {
    /// Place nearer to either end than this: outside the range that is shown.
    const JUST: f64 = 0.05;
    // among several readings one may lie out there by chance
    let just = agreement.side == Side::Within && agreement.place.min(1.0 - agreement.place) < JUST;
    let tone = match agreement.side {
        Side::Within if just => Tone::Middling,
        Side::Within => Tone::Good,
        Side::Less | Side::More => Tone::Bad,
    };
    Comparison {
        what: what(question, &agreement.seen),
        seen: seen(question, &agreement.seen),
        expected: should_be(question, &check.expected, agreement),
        word: if just { "just fits" } else { word(&agreement.seen, agreement.side) },
        tone,
    }
}

/// What an observation is called in a sentence.
pub(super) fn subject(seen: &Observation) -> &'static str {
    match seen {
        Observation::Sparks(_) => "sparks",
        Observation::Inward(_) => "sparks further in",
        Observation::Rim { .. } => "the fracture",
        Observation::Gain(_) => "the weight",
        Observation::File { .. } => "the file",
    }
}

/// How it compares, in the words of the observation.
pub(super) fn word(seen: &Observation, side: Side) -> &'static str {
    match (side, seen) {
        (Side::Within, _) => "fits",
        (Side::Less, Observation::Rim { .. }) => "shallower",
        (Side::More, Observation::Rim { .. }) => "deeper",
        (Side::Less, Observation::File { .. }) => "softer",
        (Side::More, Observation::File { .. }) => "harder",
        (Side::Less, _) => "poorer",
        (Side::More, _) => "richer",
    }
}

fn what(question: &Question, seen: &Observation) -> String {
    match seen {
        Observation::Sparks(_) => {
            format!("sparks (carbon of the first {})", DEPTH.one(question.prediction.ground.millimetres()))
        }
        Observation::Inward(_) => "sparks while grinding inward".into(),
        Observation::Rim { .. } => "fracture (visible case depth)".into(),
        Observation::Gain(_) => "mass gain weighed".into(),
        Observation::File { depth_mm, .. } if *depth_mm > 0.0 => format!("file, {} in", DEPTH.one(*depth_mm)),
        Observation::File { .. } => "file at the surface".into(),
    }
}

fn seen(question: &Question, seen: &Observation) -> String {
    match seen {
        Observation::Sparks(_) => sparks(question),
        Observation::Inward(over_time) => inward(*over_time).into(),
        Observation::Rim { class, depth, votes } => {
            let depth = match (class, depth, votes) {
                (CaseClass::None | CaseClass::Through, _, _) => String::new(),
                (_, Some(depth), _) => format!(", {}", with_range(DEPTH, depth)),
                (_, None, Some(votes)) => format!(", {}", depth_votes(votes)),
                (_, None, None) => ", depth not told".into(),
            };
            format!("{}{depth}", rim(*class))
        }
        Observation::Gain(gain) => with_range(MILLIGRAMS, gain),
        Observation::File { turns, skates, .. } => {
            format!(
                "{} (a file that turns at {})",
                if *skates { "skates" } else { "bites" },
                HRC.one(turns.best)
            )
        }
    }
}

/// The likely bands with their votes.
fn sparks(question: &Question) -> String {
    let Some((_, SparkAnswer::Bands(estimate))) = question.seen.sparks else { return String::new() };
    let (first, last) = estimate.likely;
    let share: f64 = estimate.votes[first.index()..=last.index()].iter().sum();
    format!("{}, {} votes", bands(first, last), of_100(share))
}

/// "0.45 to 0.85 %C", "0.85 %C and more", "up to 0.10 %C".
pub(in crate::report) fn bands(first: CarbonBand, last: CarbonBand) -> String {
    match (first.edges().0, last.edges().1) {
        (low, None) => format!("{} and more", CARBON.one(low)),
        (low, Some(high)) if low <= 0.0 => format!("up to {}", CARBON.one(high)),
        (low, Some(high)) => format!("{} to {}", CARBON.bare(low), CARBON.one(high)),
    }
}

/// The band of depth with most votes.
fn depth_votes(votes: &[f64; 6]) -> String {
    let best = (0..votes.len()).fold(0, |best, i| if votes[i] > votes[best] { i } else { best });
    format!("{}, {} votes", DepthBand::WORDS[best], of_100(votes[best]))
}

pub(super) fn inward(over_time: OverTime) -> &'static str {
    match over_time {
        OverTime::RichThenPlain => "rich, then plain",
        OverTime::PlainThenRichThenPlain => "plain, then rich, then plain",
        OverTime::RichThroughout => "rich throughout",
        OverTime::PlainThroughout => "plain throughout",
    }
}

pub(in crate::report) fn rim(class: CaseClass) -> &'static str {
    match class {
        CaseClass::None => "no rim",
        CaseClass::Partial => "rim on some sides",
        CaseClass::AllRound => "rim all round",
        CaseClass::Through => "rim right through",
    }
}

fn should_be(question: &Question, expected: &Expected, agreement: &Agreement) -> String {
    let last = question.prediction.last();
    match (&agreement.seen, &agreement.expected) {
        (Observation::Inward(_), _) => {
            let (skin, deep) = (CARBON.one(expected.sparks.best), CARBON.one(expected.inward.best));
            format!("{skin} at the skin, {deep} further in")
        }
        (Observation::Rim { .. }, _)
            if last.readings.get(&Reading::Visible).is_some_and(|s| s.through.best) =>
        {
            "cased through".into()
        }
        (Observation::Sparks(_), Some(carbon)) => range(CARBON, carbon),
        (Observation::Rim { .. }, Some(depth)) => range(DEPTH, depth),
        (Observation::Gain(_), Some(gain)) => range(MILLIGRAMS, gain),
        (Observation::File { .. }, Some(hrc)) => range(HRC, hrc),
        (Observation::File { .. }, None) => "softer than HRC reaches, or not covered".into(),
        (_, None) => "not known".into(),
    }
}

/// Nine in ten of a number that is not below 0.
fn nine_in_ten(doubtful: &Doubtful) -> Interval<f64> {
    let (low, high) = doubtful.nine_in_ten();
    Interval::new(low.max(0.0), doubtful.best, high).unwrap_or_else(|| Interval::exact(doubtful.best))
}

fn range(style: Style, doubtful: &Doubtful) -> String {
    style.range(&nine_in_ten(doubtful))
}

fn with_range(style: Style, doubtful: &Doubtful) -> String {
    style.with_range(&nine_in_ten(doubtful))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_are_told_as_ranges() {
        let told = |first: usize, last: usize| bands(CarbonBand::ALL[first], CarbonBand::ALL[last]);
        assert_eq!(
            [told(3, 4), told(5, 5), told(0, 0)],
            ["0.45 to 0.85 %C", "0.85 %C and more", "up to 0.10 %C"]
        );
        assert_eq!(depth_votes(&[0.0, 0.1, 0.5, 0.4, 0.0, 0.0]), "0.2 to 0.5 mm, 50 of 100 votes");
    }

    #[test]
    fn each_observation_has_its_own_word() {
        let rim = Observation::Rim { class: CaseClass::None, depth: None, votes: None };
        let sparks = Observation::Sparks([1.0, 0.0, 0.0, 0.0, 0.0, 0.0]);
        assert_eq!((word(&rim, Side::Less), word(&sparks, Side::More)), ("shallower", "richer"));
        assert_eq!((word(&rim, Side::Within), word(&sparks, Side::Within)), ("fits", "fits"));
    }
}
