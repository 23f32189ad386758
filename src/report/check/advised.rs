use super::Headline;
use crate::crosscheck::{CrossCheck, Question, Step};
use crate::report::number::{CARBON, CELSIUS, HRC};
use crate::report::page::Tone;
use crate::steel::QuenchMedium;

/// What to do now: the first step as a word, both in a sentence.
pub(super) fn what_now(question: &Question, check: &CrossCheck) -> Headline {
    let advice = &check.advice;
    let answer = match &advice.first {
        Step::ReadCoupon => "READ THE COUPON",
        Step::Settle(_) => "SETTLE WHAT WENT WRONG",
        Step::LeavePiece => "LEAVE THE PIECE AS IT IS",
        Step::Harden { .. } => "HARDEN IT",
        Step::Temper => "TEMPER IT",
        Step::SoakAgain => "SOAK AGAIN",
        Step::ReachTheMiddle => "CARBON MUST REACH THE MIDDLE",
        Step::GiveUp => "MAKE SOMETHING ELSE OF IT",
    };
    let mut words = step(question, check, &advice.first);
    if advice.then != advice.first {
        words += " ";
        words += &step(question, check, &advice.then);
    }
    // whoever hardens must temper, whatever else is to be done
    let hardens = |s: &Step| matches!(s, Step::Harden { .. });
    if (hardens(&advice.first) || hardens(&advice.then)) && advice.then != Step::Temper {
        words += " ";
        words += &temper(question, check);
    }
    Headline { label: "What now", answer, tone: Tone::Plain, words }
}

fn step(question: &Question, check: &CrossCheck, step: &Step) -> String {
    match step {
        Step::ReadCoupon if check.agreements.is_empty() => {
            "Read the coupon first: spark it with one light touch beside untreated stock, quench it with a blank \
             of that stock, try a file on both, snap both."
                .into()
        }
        Step::ReadCoupon => {
            "What was seen leaves it open: read more of the coupon (sparks beside untreated stock, a file, the \
             fracture beside a blank)."
                .into()
        }
        Step::Settle(cause) => {
            let name = cause.name.split(':').next().unwrap_or_default();
            format!("Settle whether it was this: {name}. {}", cause.next)
        },
        Step::LeavePiece => "Leave the piece as it is until then: grind nothing, harden nothing.".into(),
        Step::Harden { medium, cracks, sealed } => harden(question, check, *medium, *cracks, *sealed),
        Step::Temper => temper(question, check),
        Step::SoakAgain => {
            "Soak it again, longer, in fresh dry compound, and read a new coupon before any grinding.".into()
        }
        Step::ReachTheMiddle => {
            "The faces took, but the finished edge is the middle of the section: soak longer, start from a thinner \
             edge, or grind from one side only."
                .into()
        }
        Step::GiveUp => "If that is so, make of it what needs no hard edge, and start again from other stock.".into(),
    }
}

fn harden(
    question: &Question,
    check: &CrossCheck,
    medium: QuenchMedium,
    cracks: bool,
    sealed: bool,
) -> String {
    let heat = &question.need.hardening.value;
    let (low, high) = (heat.low().celsius(), heat.high().celsius());
    let mut words = format!(
        "Harden it once, in {}, from {:.0} to {}: just past the heat where the magnet lets go of the rim.",
        self::medium(medium),
        low,
        CELSIUS.one(high)
    );
    words += &air(question, check, sealed);
    if cracks {
        words += " Water or brine cracks thin edges of 0.6 %C and more: try the coupon in oil first, and if a file \
                  skates on it oil is enough.";
    }
    words
}

/// How the heat for hardening is to be made.
fn air(question: &Question, check: &CrossCheck, sealed: bool) -> String {
    let need = question.need;
    let short = format!(
        "{:.0} minutes in open air at {}",
        need.open_air_time.value.minutes(),
        CELSIUS.one(need.open_air.value.celsius())
    );
    let left = check.finish.after_air.map(|left| carbon(left.part));
    match (sealed, left) {
        (true, Some(left)) => format!(
            " Heat it in foil, in a box with charcoal or under scale paint, or make it one short heat: {short} would \
             leave {left} there."
        ),
        (true, None) => {
            " Heat it in foil, in a box with charcoal or under scale paint, or make it one short heat.".into()
        }
        (false, Some(left)) => {
            format!(" One short heat in open air is allowed: {short} would still leave {left} there.")
        }
        (false, None) => String::new(),
    }
}

/// Carbon that is left; a bare skin has none.
fn carbon(wt: f64) -> String {
    if wt < 0.01 { "no carbon".into() } else { CARBON.one(wt) }
}

fn temper(question: &Question, check: &CrossCheck) -> String {
    let need = question.need;
    let left = match &check.finish.tempered {
        Some(hrc) => format!("it should come to {}", HRC.with_range(hrc)),
        None => "how hard it stays is not known: its carbon is outside the tempering chart".into(),
    };
    format!(
        "Temper it within the hour, {:.0} h at {}: {left}.",
        need.temper_time.value.minutes() / 60.0,
        CELSIUS.one(need.temper.value.celsius())
    )
}

pub(super) fn medium(medium: QuenchMedium) -> &'static str {
    match medium {
        QuenchMedium::Water => "water",
        QuenchMedium::Brine => "brine",
        QuenchMedium::Oil => "oil",
    }
}
