use super::Headline;
use crate::crosscheck::{CrossCheck, Question, Sign, Step};
use crate::prediction::Note;
use crate::report::number::{CARBON, CELSIUS, DEPTH, HRC};
use crate::report::page::Tone;
use crate::steel::QuenchMedium;

/// Things seen of a coupon from which more of the same tells no more (judgement).
const ALL_READ: usize = 3;

/// What to do now: the first step as a word, both in a sentence each.
pub(super) fn what_now(question: &Question, check: &CrossCheck) -> Headline {
    let advice = &check.advice;
    let answer = match &advice.first {
        Step::ReadCoupon => "READ THE COUPON",
        Step::Settle(_) => "SETTLE THIS FIRST",
        Step::TellTheEdge => "SAY HOW THICK THE EDGE WAS",
        Step::LeavePiece => "LEAVE THE PIECE AS IT IS",
        Step::Harden { .. } => "HARDEN IT",
        Step::Temper => "TEMPER IT",
        Step::SoakAgain => "SOAK AGAIN",
        Step::ReachTheMiddle => "CARBON MUST REACH THE MIDDLE",
        Step::GrindLess => "GRIND LESS OFF",
        Step::GiveUp => "MAKE SOMETHING ELSE OF IT",
    };
    // whoever hardens must temper, whatever else is to be done
    let tempers = |step: &Step| matches!(step, Step::Harden { .. }) && advice.then != Step::Temper;
    let sentence = |of: &Step| {
        let clause = if tempers(of) { format!(", then {}", temper(question, check)) } else { String::new() };
        format!("{}{clause}.", step(question, check, of))
    };
    let mut words = sentence(&advice.first);
    if advice.then != advice.first {
        words += " ";
        words += &sentence(&advice.then);
    }
    Headline { label: "What now", answer, tone: Tone::Plain, words }
}

/// One step as a sentence without its full stop.
fn step(question: &Question, check: &CrossCheck, step: &Step) -> String {
    match step {
        Step::ReadCoupon if check.agreements.is_empty() => {
            "Read the coupon first: spark it with one light touch beside untreated stock, quench it with a blank \
             of that stock, try a file on both, snap both"
                .into()
        }
        Step::ReadCoupon if not_quenched(question) => {
            "A coupon that was not quenched tells little: quench its other half in water with a blank beside it, file \
             both, snap both"
                .into()
        }
        Step::ReadCoupon if check.agreements.len() >= ALL_READ => {
            "The coupon has told what it can of this: touch the edge itself to the wheel, lightly, once it is ground, \
             or soak longer to be sure"
                .into()
        }
        Step::TellTheEdge => {
            "The faces took, but the finished edge may be mild steel: add to the sheet how thick it was in the pack \
             (edge_thickness) and what comes off each side (metal_off)"
                .into()
        }
        Step::ReadCoupon => {
            "What was seen leaves it open: read more of the coupon (sparks beside untreated stock, a file, the \
             fracture beside a blank)"
                .into()
        }
        Step::Settle(cause) => {
            let name = cause.name.split(':').next().unwrap_or_default();
            format!("Settle whether it was this, {name}: {}", inner(&cause.next))
        }
        Step::LeavePiece => "Leave the piece as it is until then: grind nothing, harden nothing".into(),
        Step::Harden { medium, cracks, sealed } => harden(question, check, *medium, *cracks, *sealed),
        Step::Temper => format!("Then {}", temper(question, check)),
        Step::SoakAgain if never_hot(question).is_some() => format!(
            "Soak it again, hotter: no time makes a case below {}, and 900 °C or more is usual",
            CELSIUS.one(never_hot(question).unwrap_or_default())
        ),
        Step::SoakAgain => {
            "Soak it again, longer, in fresh dry compound, and read a new coupon before any grinding".into()
        }
        Step::ReachTheMiddle => {
            "The faces took, but the finished edge is the middle of the section: soak longer, start from a thinner \
             edge, or grind from one side only"
                .into()
        }
        Step::GrindLess => format!(
            "The case took, but so much grinding takes it off: leave the face, or grind off no more than {}, which \
             still leaves {}",
            DEPTH.one(check.finish.holds_to.nine_in_ten().0.max(0.0)),
            CARBON.one(check.took.wanted)
        ),
        Step::GiveUp => "If that is so, make of it what needs no hard edge, and start again from other stock".into(),
    }
}

/// A1, °C, if the steel never got above it.
fn never_hot(question: &Question) -> Option<f64> {
    question.prediction.notes.iter().find_map(|note| match note {
        Note::NeverAboveA1 { a1_celsius, .. } => Some(*a1_celsius),
        _ => None,
    })
}

fn not_quenched(question: &Question) -> bool {
    question.seen.face.is_some_and(|(features, _)| features.quenched == Some(false))
}

/// A sentence as it stands inside another one: small first letter, no full stop.
fn inner(sentence: &str) -> String {
    let bare = sentence.trim_end_matches('.');
    let mut letters = bare.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

fn harden(
    question: &Question,
    check: &CrossCheck,
    medium: QuenchMedium,
    cracks: bool,
    sealed: bool,
) -> String {
    let heat = &question.need.hardening.value;
    let coarse = check.signs.get(Sign::CoarseRim) == Some(true);
    let grain = if coarse { " after a refining heat, as its grain is plainly seen" } else { "" };
    let cracks = if cracks {
        " (it cracks thin edges of 0.6 %C and more: if a file skates on the coupon out of oil, oil is enough)"
    } else {
        ""
    };
    format!(
        "Harden it once{grain}, in {}{cracks}, from {:.0} to {}, just past the heat where the magnet lets go of the rim{}",
        self::medium(medium),
        heat.low().celsius(),
        CELSIUS.one(heat.high().celsius()),
        air(question, check, sealed)
    )
}

/// How the heat for hardening is to be made.
fn air(question: &Question, check: &CrossCheck, sealed: bool) -> String {
    let need = question.need;
    let still = if sealed { "" } else { "still " };
    let left = check.finish.after_air.map_or_else(String::new, |left| {
        format!(
            " ({:.0} min in open air at {} would {still}leave {} there)",
            need.open_air_time.value.minutes(),
            CELSIUS.one(need.open_air.value.celsius()),
            carbon(left.part)
        )
    });
    let bare = check.finish.after_air.is_some_and(|left| left.part < check.took.least);
    if sealed && bare {
        format!(", in foil, in a box with charcoal or under scale paint, never bare in open air{left}")
    } else if sealed {
        format!(", in foil, in a box with charcoal, under scale paint, or in one short heat{left}")
    } else {
        format!(", in one short heat{left}")
    }
}

/// Carbon that is left; a bare skin has none.
fn carbon(wt: f64) -> String {
    if wt < 0.01 { "no carbon".into() } else { CARBON.one(wt) }
}

fn temper(question: &Question, check: &CrossCheck) -> String {
    let need = question.need;
    let left = match &check.finish.tempered {
        Some(hrc) => format!("to about {}", HRC.with_range(hrc)),
        None => "to a hardness that no chart tells for so little carbon".into(),
    };
    format!(
        "temper it within the hour, {:.0} h at {}, {left}",
        need.temper_time.value.minutes() / 60.0,
        CELSIUS.one(need.temper.value.celsius())
    )
}

pub(in crate::report) fn medium(medium: QuenchMedium) -> &'static str {
    match medium {
        QuenchMedium::Water => "water",
        QuenchMedium::Brine => "brine",
        QuenchMedium::Oil => "oil",
    }
}
