use super::fault::Fault;
use super::field::{Field, find_word, length_range};
use super::number::{number_range, share_range};
use super::section::Section;
use crate::files::Models;
use crate::files::problem::shown;
use crate::files::words::plain;
use crate::photo::ScaleMarks;
use crate::spark::{
    Amount, Compared, FineSparking, Forking, GroundDepth, LooksLike, Onset, OverTime, PartOf, PhotoPaths,
    Reach, SparkObservation, SteelState, StreamColour, StreamObservation, Told, Wheel, WheelKind,
};
use crate::steel::Grade;
use crate::units::{Depth, Quantity, Speed, TurningSpeed};

/// Words for a steel's state.
pub(in crate::files) const STATES: [(&str, SteelState); 3] =
    [("soft", SteelState::Soft), ("hardened", SteelState::Hardened), ("annealed", SteelState::Soft)];

/// The word for a state that is first listed; empty: not said.
pub(in crate::files) fn state_word(state: Option<SteelState>) -> &'static str {
    STATES.iter().find(|(_, value)| Some(*value) == state).map_or("", |(word, _)| *word)
}

const COMPARED: [(&str, Compared); 10] = [
    ("fewer", Compared::Less),
    ("same", Compared::Same),
    ("some more", Compared::SomeMore),
    ("many more", Compared::ManyMore),
    ("bushy", Compared::Bushy),
    ("less", Compared::Less),
    ("shorter", Compared::Less),
    ("more", Compared::SomeMore),
    ("longer", Compared::SomeMore),
    ("much more", Compared::ManyMore),
];
const AMOUNTS: [(&str, Amount); 5] = [
    ("none", Amount::None),
    ("few", Amount::Few),
    ("some", Amount::Some),
    ("many", Amount::Many),
    ("very many", Amount::VeryMany),
];
const PARTS: [(&str, PartOf); 6] = [
    ("none", PartOf::None),
    ("few", PartOf::Few),
    ("half", PartOf::Half),
    ("most", PartOf::Most),
    ("all", PartOf::All),
    ("nearly all", PartOf::All),
];
const REACHES: [(&str, Reach); 3] =
    [("short", Reach::Short), ("medium", Reach::Medium), ("long", Reach::Long)];
const FORKINGS: [(&str, Forking); 4] = [
    ("none", Forking::None),
    ("single", Forking::Single),
    ("forked", Forking::Forked),
    ("bushy", Forking::Bushy),
];
const ONSETS: [(&str, Onset); 6] = [
    ("at the wheel", Onset::AtWheel),
    ("first third", Onset::FirstThird),
    ("middle", Onset::Middle),
    ("last third", Onset::LastThird),
    ("nowhere", Onset::Nowhere),
    ("near the tip", Onset::LastThird),
];
const FINE: [(&str, FineSparking); 3] =
    [("none", FineSparking::None), ("some", FineSparking::Some), ("much", FineSparking::Much)];
const COLOURS: [(&str, StreamColour); 7] = [
    ("white", StreamColour::White),
    ("yellow", StreamColour::Yellow),
    ("straw", StreamColour::Straw),
    ("orange", StreamColour::Orange),
    ("red", StreamColour::Red),
    ("light orange", StreamColour::Orange),
    ("dull red", StreamColour::Red),
];
const OVER_TIME: [(&str, OverTime); 4] = [
    ("rich then plain", OverTime::RichThenPlain),
    ("plain then rich then plain", OverTime::PlainThenRichThenPlain),
    ("rich throughout", OverTime::RichThroughout),
    ("plain throughout", OverTime::PlainThroughout),
];
const WHEELS: [(&str, WheelKind); 3] =
    [("wheel", WheelKind::Wheel), ("belt", WheelKind::Belt), ("angle grinder", WheelKind::AngleGrinder)];

const LOOKS_LIKE: &str =
    "write the one that is nearest, or the two that it lies between, as [\"1018\", \"1045\"]";

/// Reads `[spark]`, `[spark.untreated]` and `[spark.wheel]`; `thickness` is the coupon's.
pub(in crate::files) fn read(section: &mut Section<'_>, thickness: Option<Depth>) -> SparkObservation {
    SparkObservation {
        coupon: stream(section, true),
        untreated: section.within("untreated", |s| stream(s, false)),
        compared: section.take("compared").and_then(|f| f.word(&COMPARED)),
        looks_like: section.take("looks_like").and_then(|f| looks_like(&f)),
        over_time: section.take("over_time").and_then(|f| f.word(&OVER_TIME)),
        touches: section.take("touches").and_then(|f| touches(&f)),
        ground_depth: section.take("ground_depth").and_then(|f| ground_depth(&f, thickness)),
        wheel: section.within("wheel", wheel),
        scale: section.take("scale").and_then(|f| scale(&f)),
        photographed: None,
    }
}

/// Paths of photos.
pub(super) fn photos(section: &mut Section<'_>) -> Vec<String> {
    let entries = section.take("photos").map(|f| f.list()).unwrap_or_default();
    entries.into_iter().flatten().filter_map(|f| f.text()).collect()
}

/// Paths of photos of a stream; a list inside the list holds the frames of one touch.
fn photos_by_touch(section: &mut Section<'_>) -> PhotoPaths {
    let Some(field) = section.take("photos") else { return PhotoPaths::default() };
    let texts = |fields: Vec<Option<Field<'_>>>| -> Vec<String> {
        fields.into_iter().flatten().filter_map(|f| f.text()).collect()
    };
    let entries: Vec<Field<'_>> = field.list().into_iter().flatten().collect();
    if !entries.iter().any(Field::is_list) {
        return PhotoPaths::Mixed(entries.iter().filter_map(Field::text).collect());
    }
    let touches = entries.iter().map(|entry| texts(entry.list())).filter(|touch| !touch.is_empty());
    PhotoPaths::ByTouch(touches.collect())
}

fn stream(section: &mut Section<'_>, beside_stock: bool) -> StreamObservation {
    type S = StreamObservation;
    let count = |section: &mut Section<'_>, key, range| {
        told(&section.take(key)?, &AMOUNTS, beside_stock, &number_help(range), |t| number_range(t, range))
    };
    let length = |section: &mut Section<'_>, key| {
        told(&section.take(key)?, &REACHES, beside_stock, "a length such as \"300 mm\"", length_range)
    };
    S {
        state: section.take("state").and_then(|f| f.word(&STATES)),
        bursts: count(section, "bursts", S::BURSTS),
        bursts_per_carrier: count(section, "bursts_per_carrier", S::BURSTS_PER_CARRIER),
        carrier_length: length(section, "carrier_length"),
        stream_length: length(section, "stream_length"),
        carriers: count(section, "carriers", S::CARRIERS),
        share_bursting: section
            .take("share_bursting")
            .and_then(|f| told(&f, &PARTS, beside_stock, "a share such as \"40 %\"", share_range)),
        rays: count(section, "rays", S::RAYS),
        tiers: section.take("tiers").and_then(|f| {
            told(&f, &FORKINGS, beside_stock, &number_help(S::TIERS), |t| number_range(t, S::TIERS))
        }),
        onset: section.take("onset").and_then(|f| {
            let help = "a share of the stream's length from the wheel, such as \"40 %\"";
            told(&f, &ONSETS, beside_stock, help, share_range)
        }),
        fine_sparking: section.take("fine_sparking").and_then(|f| {
            let range = S::FINE_SPARKING;
            told(&f, &FINE, beside_stock, &number_help(range), |t| number_range(t, range))
        }),
        colour: section.take("colour").and_then(|f| f.word(&COLOURS)),
        colour_tip: section.take("colour_tip").and_then(|f| f.word(&COLOURS)),
        photos: photos_by_touch(section),
    }
}

fn number_help((low, high): (f64, f64)) -> String {
    format!("a number from {low} to {high}")
}

/// A number, a plain word, or, where `beside_stock`, a comparison: "many more than the stock".
fn told<N, W: Copy + PartialEq>(
    field: &Field<'_>,
    words: &[(&'static str, W)],
    beside_stock: bool,
    number: &str,
    read_number: impl FnOnce(&str) -> Result<N, Fault>,
) -> Option<Told<N, W>> {
    let text = field.short("a number or a word")?;
    if let Some(word) = find_word(text, words) {
        return Some(Told::Word(word));
    }
    if text.contains(|c: char| c.is_ascii_digit()) {
        return field.settle(read_number(text)).map(Told::Number);
    }
    let lower = plain(text);
    let against = ["than the stock", "as the stock", "than stock", "as stock"];
    if let Some(start) = against.iter().find_map(|tail| lower.strip_suffix(tail)) {
        if !beside_stock {
            let help = "describe the stock by itself, and compare in [spark]";
            return field.refuse(Fault::new("the untreated stock is compared with itself", help));
        }
        if let Some(compared) = find_word(start, &COMPARED) {
            return Some(Told::AgainstStock(compared));
        }
    }
    let compare =
        if beside_stock { "\nor against the stock, such as \"many more than the stock\"" } else { "" };
    field.refuse(Fault::not_a_word(field.name_alone(), text, words, &format!(", or {number}{compare}")))
}

fn looks_like(field: &Field<'_>) -> Option<LooksLike> {
    let entries: Vec<_> = field.list().into_iter().flatten().collect();
    if entries.is_empty() {
        return field.refuse(Fault::new("no steel that it looks like", LOOKS_LIKE));
    }
    if entries.len() > 2 {
        let fault = Fault::new(format!("{} steels that it looks like", entries.len()), LOOKS_LIKE);
        return field.refuse(fault);
    }
    let mut steels = entries.iter().map(|f| f.name(Models::grade));
    let first: Grade = steels.next()??;
    match steels.next() {
        None => Some(LooksLike::One(first)),
        Some(second) => {
            let second = second?;
            if second.name == first.name {
                return field.refuse(Fault::new(format!("{} is named twice", first.name), LOOKS_LIKE));
            }
            Some(LooksLike::Between(first, second))
        }
    }
}

fn touches(field: &Field<'_>) -> Option<u32> {
    let text = field.short("a number of touches")?;
    let (least, most) = SparkObservation::TOUCHES;
    let counted = text.trim().parse::<u32>().ok().filter(|n| (least..=most).contains(n));
    field.settle(counted.ok_or_else(|| {
        let message = format!("`{}` is not a number of touches", shown(text));
        Fault::new(message, format!("allowed: a whole number from {least} to {most}"))
    }))
}

fn ground_depth(field: &Field<'_>, thickness: Option<Depth>) -> Option<GroundDepth> {
    const WORDS: [(&str, GroundDepth); 2] =
        [("one touch", GroundDepth::OneTouch), ("a few seconds", GroundDepth::FewSeconds)];
    let text = field.short("a depth")?;
    match find_word(text, &WORDS) {
        Some(word) => Some(word),
        None if text.contains(|c: char| c.is_ascii_digit()) => {
            let depth = field.settle(length_range(text))?;
            field.inside(&depth, thickness).then_some(GroundDepth::Depth(depth))
        }
        None => field.refuse(Fault::not_a_word(
            field.name_alone(),
            text,
            &WORDS,
            ", or a depth such as \"0.2 mm\"",
        )),
    }
}

/// Two points of a photo and how far apart they are.
fn scale(field: &Field<'_>) -> Option<ScaleMarks> {
    let text = field.short("a scale")?;
    field.settle(ScaleMarks::parse(text).map_err(|e| Fault::new(e.to_string(), e.help())))
}

fn turning(field: &Field<'_>) -> Option<TurningSpeed> {
    let turning = field.quantity_in::<TurningSpeed>("rpm")?;
    if turning.rpm() <= 0.0 {
        return field.refuse(Fault::new(
            "a wheel that stands still throws no sparks",
            "write its rpm, or \"unknown\"",
        ));
    }
    Some(turning)
}

/// How far a told surface speed may lie from the computed one, as a share (judgement: worn wheels, belts
/// that slip, speeds rounded by their maker).
const SPEEDS_AGREE: f64 = 0.25;

fn wheel(section: &mut Section<'_>) -> Wheel {
    let rpm = section.take("rpm");
    let speed = section.take("speed");
    let wheel = Wheel {
        kind: section.take("kind").and_then(|f| f.word(&WHEELS)),
        diameter: section.take("diameter").and_then(|f| f.more_than_zero()),
        turning: rpm.as_ref().and_then(turning),
        speed: speed.as_ref().and_then(Field::more_than_zero),
    };
    if let (Some(field), Some(computed)) = (rpm, wheel.computed_speed()) {
        if computed <= 0.0 || Speed::from_si(computed).is_err() {
            let message = format!("with this diameter the wheel runs at {computed:.0} m/s, as no wheel does");
            field.refuse::<()>(Fault::new(message, "check diameter and rpm, or write \"unknown\""));
        } else if let (Some(field), Some(told)) = (speed, wheel.speed) {
            let told = told.metres_per_second();
            if (told - computed).abs() > SPEEDS_AGREE * computed {
                let message = format!(
                    "{told:.0} m/s is told, but diameter and rpm make {computed:.0} m/s: the first is used"
                );
                let help = "take out what is not sure";
                field.reading.warning(field.at, &field.path, Fault::new(message, help));
            }
        }
    }
    wheel
}
