use super::fault::Fault;
use super::field::{Field, find_word, heat_range, length_range};
use super::number::share_range;
use super::section::Section;
use crate::files::words::{either, plain};
use crate::fracture::{
    Broken, FaceDescription, FractureDescription, QuenchHeat, Quenching, Rim, RimDepth, Tempering, Texture,
};
use crate::steel::QuenchMedium;

const RIMS: [(&str, Rim); 5] = [
    ("none", Rim::None),
    ("partial", Rim::Partial),
    ("all round", Rim::AllRound),
    ("through", Rim::Through),
    ("no", Rim::None),
];
const TEXTURES: [(&str, Texture); 6] = [
    ("fibrous", Texture::Fibrous),
    ("silky", Texture::Silky),
    ("fine", Texture::Fine),
    ("grainy", Texture::Grainy),
    ("coarse", Texture::Coarse),
    ("faceted", Texture::Faceted),
];
const QUENCHES: [(&str, Quenching); 4] = [
    ("water", Quenching::In(QuenchMedium::Water)),
    ("brine", Quenching::In(QuenchMedium::Brine)),
    ("oil", Quenching::In(QuenchMedium::Oil)),
    ("not quenched", Quenching::NotQuenched),
];
const BREAKS: [(&str, Broken); 2] = [("one blow", Broken::OneBlow), ("bent first", Broken::BentFirst)];
const JUST_PAST_MAGNET: &str = "just past magnet";
const FROM_SOAK: &str = "straight from the soak";

/// Reads `[fracture]` and `[fracture.blank]`.
pub(super) fn read(section: &mut Section<'_>) -> FractureDescription {
    let coupon = face(section);
    let blank = section.within("blank", face);
    FractureDescription { coupon, blank }
}

fn face(section: &mut Section<'_>) -> FaceDescription {
    let rim = section.take("rim").and_then(|f| f.word(&RIMS));
    let depth = section.take("depth").map(|f| depths(&f, rim)).unwrap_or_default();
    let texture =
        |section: &mut Section<'_>, key| section.take(key).and_then(|f: Field<'_>| f.word(&TEXTURES));
    FaceDescription {
        rim,
        depth,
        texture_rim: texture(section, "texture_rim"),
        texture_core: texture(section, "texture_core"),
        shear_lip: section.take("shear_lip").and_then(|f| f.yes_no()),
        quenched: section.take("quenched_in").and_then(|f| f.word(&QUENCHES)),
        quench_heat: section.take("quench_heat").and_then(|f| quench_heat(&f)),
        tempered: section.take("tempered").and_then(|f| tempering(&f)),
        broken: section.take("broken").and_then(|f| f.word(&BREAKS)),
        photos: super::spark::photos(section),
    }
}

fn depths(field: &Field<'_>, rim: Option<Rim>) -> Vec<Option<RimDepth>> {
    let entries = field.list();
    if entries.len() > FaceDescription::MOST_SIDES {
        let fault = Fault::new(
            format!("{} depths for the sides of one face", entries.len()),
            format!("at most {}, one a side", FaceDescription::MOST_SIDES),
        );
        field.refuse::<()>(fault);
        return Vec::new();
    }
    let read: Vec<_> = entries.into_iter().map(|entry| entry.map(|e| rim_depth(&e))).collect();
    let deep = |d: &RimDepth| match d {
        RimDepth::Length(l) => l.high().metres() > 0.0,
        RimDepth::OfThickness(s) => s.high().fraction() > 0.0,
    };
    if rim == Some(Rim::None) && read.iter().flatten().flatten().any(deep) {
        let fault = Fault::new(
            "a depth is given for a rim that was not seen",
            "write rim = \"partial\", \"all round\" or \"through\", or take the depth out",
        );
        field.refuse::<()>(fault);
    }
    read.into_iter().map(Option::flatten).collect()
}

fn rim_depth(field: &Field<'_>) -> Option<RimDepth> {
    let text = field.short("a depth")?;
    let depth = if text.trim_end().ends_with('%') {
        share_range(text).map(RimDepth::OfThickness)
    } else {
        length_range(text).map(RimDepth::Length).map_err(|fault| {
            Fault::new(
                fault.message,
                format!("{}\nor as a share of the coupon's thickness, such as \"20 %\"", fault.help),
            )
        })
    };
    field.settle(depth)
}

fn quench_heat(field: &Field<'_>) -> Option<QuenchHeat> {
    let text = field.short("a heat")?;
    let word = plain(text);
    if word == plain(JUST_PAST_MAGNET) || word == "just past the magnet" {
        return Some(QuenchHeat::JustPastMagnet);
    }
    if word == plain(FROM_SOAK) {
        return Some(QuenchHeat::FromSoak);
    }
    if text.contains(|c: char| c.is_ascii_digit()) {
        return field.settle(heat_range(text)).map(QuenchHeat::Temperature);
    }
    let colour = field.reading.models.colour(text.trim()).cloned();
    let colour = colour.map_err(|e| {
        let fault = Fault::unknown_name(&e);
        Fault::new(
            fault.message,
            format!("{}\nor a temperature, {}", fault.help, either([JUST_PAST_MAGNET, FROM_SOAK])),
        )
    });
    field.settle(colour).map(|c| QuenchHeat::Colour { word: c.word, temperature: c.temperature.value })
}

fn tempering(field: &Field<'_>) -> Option<Tempering> {
    const WORDS: [(&str, Tempering); 4] = [
        ("no", Tempering::Not),
        ("yes", Tempering::At(None)),
        ("false", Tempering::Not),
        ("true", Tempering::At(None)),
    ];
    let text = field.short("yes, no or a temperature")?;
    if let Some(word) = find_word(text, &WORDS) {
        return Some(word);
    }
    if text.contains(|c: char| c.is_ascii_digit()) {
        return field.settle(heat_range(text)).map(|t| Tempering::At(Some(t)));
    }
    field.refuse(Fault::not_a_word(
        field.name_alone(),
        text,
        &WORDS,
        ", or the temperature it was tempered at",
    ))
}
