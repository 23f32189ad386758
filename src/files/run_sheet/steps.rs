use super::fault::Fault;
use super::field::{find_word, heat_range, quantity_range};
use crate::files::problem::shown;
use crate::files::words::{closest, either};
use crate::soak::{QuenchMedium, Step};
use crate::units::{Interval, Temperature, Time};

/// What a step may look like, for messages.
const FORMS: &str = "\
allowed: \"20 min to 925C\"   \"hold 75 min\"   \"hold 75 min at 925C\"
         \"cool in pack\"   \"cool in pack 2 h\"   \"cool in pack 2 h to 500C\"
         \"open hot\"   \"foil 10 min at 850C\"   \"air 5 min at 900C\"
         \"quench\"   \"quench in oil\"";

/// Reads one step in words.
pub(super) fn read(text: &str) -> Result<Step, Fault> {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = line.split(' ').map(|word| {
        // "925C" and a unit by itself stay as they were typed.
        let keyword = word.len() > 1 && word.bytes().all(|b| b.is_ascii_alphabetic());
        if keyword { word.to_ascii_lowercase() } else { word.to_string() }
    });
    let words = words.collect::<Vec<_>>().join(" ");
    let in_step = |fault: Fault| Fault::new(format!("`{}`: {}", shown(&line), fault.message), fault.help);
    let step = match_form(&words).ok_or_else(|| {
        let near = nearest(&line).map(|near| format!("did you mean \"{near}\"?\n")).unwrap_or_default();
        Fault::new(format!("`{}` is not a step that is understood", shown(&line)), format!("{near}{FORMS}"))
    })?;
    step.map_err(in_step)
}

/// `None`: no form fits. `Some(Err)`: a form fits, but not what stands in it.
fn match_form(text: &str) -> Option<Result<Step, Fault>> {
    if let Some(rest) = after_any(
        text,
        &["cool in the closed pack", "cool in closed pack", "cool in the pack", "cool in pack"],
    ) {
        let rest = rest.strip_prefix("for ").unwrap_or(rest);
        return Some(if rest.is_empty() {
            Ok(Step::CoolInPack { time: None, to: None })
        } else if let Some((t, to)) = rest.split_once(" to ") {
            time(t).and_then(|t| Ok(Step::CoolInPack { time: Some(t), to: Some(heat(to)?) }))
        } else {
            time(rest).map(|t| Step::CoolInPack { time: Some(t), to: None })
        });
    }
    if let Some(rest) = after_any(text, &["hold at heat", "hold"]) {
        let rest = rest.strip_prefix("for ").unwrap_or(rest);
        return Some(match rest.split_once(" at ") {
            Some((t, at)) => time(t).and_then(|time| Ok(Step::Hold { time, at: Some(heat(at)?) })),
            None => time(rest).map(|time| Step::Hold { time, at: None }),
        });
    }
    if after_any(text, &["open hot", "opened hot"]) == Some("") {
        return Some(Ok(Step::OpenHot));
    }
    if let Some(rest) = after_any(text, &["foil"]) {
        return Some(time_at_heat(rest)?.map(|(time, at)| Step::SealedHeat { time, at }));
    }
    if let Some(rest) = after_any(text, &["air"]) {
        return Some(time_at_heat(rest)?.map(|(time, at)| Step::AirHeat { time, at }));
    }
    if let Some(rest) = after_any(text, &["quench in", "quench"]) {
        return Some(medium(rest).map(|medium| Step::Quench { medium }));
    }
    if let Some(rest) = after_any(text, &["to"]) {
        let (to, over) = rest.split_once(" in ")?;
        return Some(heat(to).and_then(|to| Ok(Step::HeatTo { to, over: time(over)? })));
    }
    let (over, to) = text.split_once(" to ")?;
    over.starts_with(|c: char| c.is_ascii_digit() || c == '.')
        .then(|| time(over).and_then(|over| Ok(Step::HeatTo { to: heat(to)?, over })))
}

/// What follows one of `heads`, as a word of its own.
fn after_any<'t>(text: &'t str, heads: &[&str]) -> Option<&'t str> {
    heads.iter().find_map(|head| {
        let rest = text.strip_prefix(head)?;
        (rest.is_empty() || rest.starts_with(' ')).then(|| rest.trim_start())
    })
}

fn time_at_heat(text: &str) -> Option<Result<(Time, Temperature), Fault>> {
    let (t, at) = text.strip_prefix("for ").unwrap_or(text).split_once(" at ")?;
    Some(time(t).and_then(|t| Ok((t, heat(at)?))))
}

fn medium(text: &str) -> Result<Option<QuenchMedium>, Fault> {
    if text.is_empty() {
        return Ok(None);
    }
    find_word(text, &QuenchMedium::WORDS).map(Some).ok_or_else(|| {
        let words = QuenchMedium::WORDS.map(|(word, _)| word);
        Fault::new(
            format!("`{}` is not a medium that is known here", shown(text)),
            format!("allowed: {}, or plain \"quench\"", either(words)),
        )
    })
}

fn time(text: &str) -> Result<Time, Fault> {
    one(quantity_range::<Time>(text)?, text, "time")
}

fn heat(text: &str) -> Result<Temperature, Fault> {
    one(heat_range(text)?, text, "temperature")
}

fn one<T: Copy + PartialOrd>(range: Interval<T>, text: &str, what: &str) -> Result<T, Fault> {
    if range.is_exact() {
        return Ok(range.best());
    }
    let help = "steps take one number each; how far it may be off comes from the thermometer's place";
    Err(Fault::new(format!("`{}` is a range where one {what} is wanted", shown(text)), help))
}

/// A form that `text` was probably meant to be, with its own numbers.
fn nearest(text: &str) -> Option<String> {
    let from_number = text.trim_start_matches(|c: char| !c.is_ascii_digit());
    if let Some((t, at)) = from_number.split_once(" at ").or_else(|| from_number.split_once(" @ "))
        && time(t).is_ok()
        && heat(at).is_ok()
    {
        return Some(format!("hold {t} at {at}"));
    }
    if let Ok(at) = heat(text.strip_prefix("to ").unwrap_or(text)) {
        return Some(format!("20 min to {:.0}C", at.celsius()));
    }
    if time(text).is_ok() {
        return Some(format!("hold {}", shown(text)));
    }
    let first = text.split(' ').next()?;
    closest(first, ["hold", "cool in pack", "open hot", "foil", "air", "quench"])
        .map(|word| shown(&text.replacen(first, word, 1)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn c(celsius: f64) -> Temperature {
        Temperature::from_celsius(celsius).unwrap()
    }
    fn min(minutes: f64) -> Time {
        Time::from_minutes(minutes).unwrap()
    }

    #[test]
    fn reads_every_form() {
        let cool = |time, to| Step::CoolInPack { time, to };
        for (text, want) in [
            ("20 min to 925C", Step::HeatTo { to: c(925.0), over: min(20.0) }),
            ("to 925C in 20 min", Step::HeatTo { to: c(925.0), over: min(20.0) }),
            ("Hold 75 min", Step::Hold { time: min(75.0), at: None }),
            ("hold for 1:15 at 925 °C", Step::Hold { time: min(75.0), at: Some(c(925.0)) }),
            ("cool in pack", cool(None, None)),
            ("cool in the pack  2 h", cool(Some(min(120.0)), None)),
            ("cool in pack 2 h to 500C", cool(Some(min(120.0)), Some(c(500.0)))),
            ("open hot", Step::OpenHot),
            ("foil 10 min at 850C", Step::SealedHeat { time: min(10.0), at: c(850.0) }),
            ("air 5 min at 900C", Step::AirHeat { time: min(5.0), at: c(900.0) }),
            ("quench", Step::Quench { medium: None }),
            ("quench in brine", Step::Quench { medium: Some(QuenchMedium::Brine) }),
        ] {
            assert_eq!(read(text), Ok(want), "{text}");
        }
    }

    #[test]
    fn refuses_the_rest_and_guesses() {
        for bad in
            ["", "hold", "to 925C", "20 min", "75 min at 925C", "foil", "air 900C", "opens hot", "holding"]
        {
            assert!(read(bad).is_err(), "{bad}");
        }
        let help = |text| read(text).unwrap_err().help;
        assert!(help("75 min at 925C").starts_with("did you mean \"hold 75 min at 925C\"?"));
        assert!(help("hodl 75 min").starts_with("did you mean \"hold 75 min\"?"));
        assert!(help("to 925C").starts_with("did you mean \"20 min to 925C\"?"));
    }

    proptest::proptest! {
        #[test]
        fn never_panics(text in "\\PC{0,60}") {
            let _ = read(&text);
        }

        #[test]
        fn never_panics_near_the_forms(words in proptest::collection::vec(proptest::sample::select(vec![
            "hold", "cool", "in", "pack", "to", "at", "925C", "2 h", "foil", "air", "quench", "oil", "for", "open", "hot", "é",
        ]), 0..8)) {
            let _ = read(&words.join(" "));
        }
    }
}
