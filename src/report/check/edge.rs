use super::advised::medium;
use crate::crosscheck::{CrossCheck, FinishedEdge, Part, Question};
use crate::hardness::{CaseHardeningDepth, Reach};
use crate::report::number::{CARBON, CELSIUS, DEPTH, HRC, HV, Style};
use crate::report::soak::{Line, Section};
use crate::steel::CouponPlace;
use crate::units::{Hrc, Interval};

/// Carbon and hardness where it matters.
pub(super) fn section(question: &Question, check: &CrossCheck, of: &str) -> Section {
    let (finish, need) = (&check.finish, question.need);
    let heat = CELSIUS.one(need.hardening.value.best().celsius());
    let hardened = format!("as quenched from {heat} in {}", medium(finish.medium));
    let (hours, temper) = (need.temper_time.value.minutes() / 60.0, CELSIUS.one(need.temper.value.celsius()));
    let tempered = format!("after {hours:.0} h at {temper}");
    let lines = [
        check.took.carbon.as_ref().map(|carbon| line("carbon there, by soak and coupon", CARBON, carbon)),
        finish.quenched.as_ref().map(|hrc| hard(hardened, hrc)),
        finish.quenched.as_ref().map(|_| match &finish.tempered {
            Some(hrc) => hard(tempered, hrc),
            None => Line { label: tempered, value: "not known".into(), range: "outside the chart".into() },
        }),
        Some(reach(format!("effective case depth (50 HRC), {}", place(finish)), &finish.effective)),
        hv_depth(finish),
        finish.after_air.map(|left| Line {
            label: format!(
                "there after {:.0} min in open air at {}",
                need.open_air_time.value.minutes(),
                CELSIUS.one(need.open_air.value.celsius())
            ),
            value: CARBON.one(left.part),
            range: format!("{} at its richest", CARBON.one(left.peak)),
        }),
    ];
    let part = match check.took.part {
        Part::FinishedEdge => "The finished edge",
        Part::Face { .. } => "The face",
    };
    Section { heading: format!("{part}{of}, hardened"), lines: lines.into_iter().flatten().collect() }
}

fn line(label: impl Into<String>, style: Style, interval: &Interval<f64>) -> Line {
    Line { label: label.into(), value: style.one(interval.best()), range: style.range(interval) }
}

/// Hardness; the scale's lowest stands for anything softer.
fn hard(label: String, hrc: &Interval<f64>) -> Line {
    let shown = |value: f64| if value <= Hrc::LEAST { "under 20 HRC".to_string() } else { HRC.one(value) };
    let range =
        if hrc.low() <= Hrc::LEAST { format!("under 20 to {}", shown(hrc.high())) } else { HRC.range(hrc) };
    let range = if hrc.high() <= Hrc::LEAST { String::new() } else { range };
    Line { label, value: shown(hrc.best()), range }
}

/// What the depths are of.
fn place(finish: &FinishedEdge) -> String {
    if finish.slack { format!("in {}", medium(finish.medium)) } else { "if all martensite".into() }
}

fn reach(label: String, reach: &Reach) -> Line {
    let (value, range) = match reach {
        Reach::Nowhere => ("none".into(), String::new()),
        Reach::Throughout => ("through".into(), String::new()),
        Reach::To(depth) => {
            let depth = depth.millimetres();
            (DEPTH.one(depth.best()), DEPTH.range(&depth))
        }
    };
    Line { label, value, range }
}

fn hv_depth(finish: &FinishedEdge) -> Option<Line> {
    let label = format!("case hardening depth (550 HV), {}", place(finish));
    match &finish.case_hardening {
        CaseHardeningDepth::Stands { depth, .. } => Some(reach(label, &Reach::To(*depth))),
        CaseHardeningDepth::NotReached => Some(reach(label, &Reach::Nowhere)),
        // a rule takes its place
        CaseHardeningDepth::DoesNotApply { .. } => None,
    }
}

/// What to know of these numbers.
pub(super) fn notes(question: &Question, check: &CrossCheck) -> Vec<String> {
    let need = question.need;
    let finish = &check.finish;
    let depths = match finish.thickness_mm.filter(|_| finish.slack) {
        Some(mm) => format!(
            "The depths, inward from a face as the coupon's, are what {} leaves so hard in a section of {}.",
            medium(finish.medium),
            DEPTH.one(mm)
        ),
        None => "How thick the section is was not told, so the depths are as if all became martensite: a slack quench \
                 leaves less."
            .into(),
    };
    let mut notes = vec![format!(
        "Hardness is of {:.0} % martensite by carbon (ASTM A255 polynomial), less the austenite that the quench leaves. \
         {depths}",
        need.martensite.value * 100.0,
    )];
    if let CaseHardeningDepth::DoesNotApply { at, hardness, under } = &finish.case_hardening {
        notes.push(format!(
            "No case hardening depth (550 HV): the standard wants less than {} at three times the depth, and at {} \
             there is still {}. Agree on another limit, or file along a taper.",
            HV.one(under.number()),
            DEPTH.one(at.millimetres()),
            HV.one(hardness.best().number())
        ));
    }
    let brittle = need.brittle.value.wt_percent();
    if check.took.carbon.as_ref().is_some_and(|carbon| carbon.best() >= brittle) {
        notes.push(format!(
            "So rich an edge is brittle: from about {} on, carbide is left between the grains. Expect chips, and grind \
             the richest skin off where it may be.",
            CARBON.one(brittle)
        ));
    }
    notes.push(speaks_for(question).into());
    notes
}

/// For which part of the piece the coupon speaks.
fn speaks_for(question: &Question) -> &'static str {
    match question.run.piece.map(|p| p.coupon_place) {
        None => "Nothing was told of the piece: all this speaks of the coupon alone.",
        Some(CouponPlace::Same) => "The coupon sat beside the piece, as hot: it speaks for the piece.",
        Some(CouponPlace::Hotter) => {
            "The coupon sat hotter than the piece: the piece has less than the coupon shows. It speaks only for the \
             hottest part."
        }
        Some(CouponPlace::Colder) => {
            "The coupon sat colder than the piece: the piece has at least what the coupon shows."
        }
        Some(CouponPlace::Unknown) => {
            "Nobody said where the coupon sat: the piece may have been hotter or colder, so touch its tang or a \
             corner that comes off to the wheel as well."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn below_the_scale_no_number_is_told() {
        let told = |low, best, high| {
            let line = hard(String::new(), &Interval::new(low, best, high).unwrap());
            (line.value, line.range)
        };
        assert_eq!(told(55.2, 60.1, 64.0), ("60 HRC".into(), "55 to 64 HRC".into()));
        assert_eq!(told(20.0, 31.0, 45.0), ("31 HRC".into(), "under 20 to 45 HRC".into()));
        assert_eq!(told(20.0, 20.0, 20.0), ("under 20 HRC".into(), String::new()));
    }
}
