use super::fault::Fault;
use super::field::{Field, find_word, heat_range, length_range};
use super::number::share_range;
use super::section::Section;
use crate::files::words::{either, plain};
use crate::fracture::{
    Broken, FaceDescription, FractureDescription, QuenchHeat, Quenching, Rim, RimDepth, Tempering, Texture,
};
use crate::steel::QuenchMedium;
use crate::units::Depth;

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

/// Reads `[fracture]` and `[fracture.blank]`; `thickness` is the coupon's.
pub(in crate::files) fn read(section: &mut Section<'_>, thickness: Option<Depth>) -> FractureDescription {
    let coupon = face(section, thickness);
    // a blank may be cut from another bar
    let blank = section.within("blank", |section| face(section, None));
    FractureDescription { coupon, blank }
}

fn face(section: &mut Section<'_>, thickness: Option<Depth>) -> FaceDescription {
    let rim = section.take("rim").and_then(|f| f.word(&RIMS));
    let depth = section.take("depth").map(|f| depths(&f, rim, thickness)).unwrap_or_default();
    let texture =
        |section: &mut Section<'_>, key| section.take(key).and_then(|f: Field<'_>| f.word(&TEXTURES));
    let face = FaceDescription {
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
        photographed: None,
    };
    doubt_what_does_not_go_together(&face, section);
    face
}

/// Warns of what no piece of steel shows.
fn doubt_what_does_not_go_together(face: &FaceDescription, section: &mut Section<'_>) {
    let a1 = section.reading.models.phase.a1.value;
    let cold = |heat: &QuenchHeat| match heat {
        QuenchHeat::Temperature(t) | QuenchHeat::Colour { temperature: t, .. } => t.high() < a1,
        QuenchHeat::JustPastMagnet | QuenchHeat::FromSoak => false,
    };
    let tempered_hot = matches!(face.tempered, Some(Tempering::At(Some(t))) if t.low() >= a1);
    let tempered = matches!(face.tempered, Some(Tempering::At(_)));
    let unquenched = face.quenched == Some(Quenching::NotQuenched);
    let too_cold =
        format!("a quench from below {:.0} °C hardens nothing: steel must be red hot", a1.celsius());
    let no_core = face.rim == Some(Rim::Through);
    for (doubtful, key, message, help) in [
        (
            unquenched && face.quench_heat.is_some(),
            "quench_heat",
            "a heat to quench from, of what was not quenched",
            "write what it was quenched in, or take the heat out",
        ),
        (
            unquenched && tempered,
            "tempered",
            "tempered without being quenched: there was nothing to temper",
            "write what it was quenched in, or tempered = false",
        ),
        (
            face.quench_heat.as_ref().is_some_and(cold),
            "quench_heat",
            &too_cold,
            "check the number and its unit, or write quenched_in = \"not quenched\"",
        ),
        (
            tempered_hot,
            "tempered",
            "a temper as hot as this undoes the quench: what the face shows then says nothing of it",
            "write the heat of the oven, about 200 °C; a heat for hardening is quench_heat",
        ),
        (
            no_core && face.texture_core.is_some(),
            "texture_core",
            "a texture of the core, where all is rim",
            "write rim = \"all round\" with its depth, or take the texture out",
        ),
    ] {
        if let (true, Some(field)) = (doubtful, section.take(key)) {
            field.reading.warning(field.at, &field.path, Fault::new(message, help));
        }
    }
}

fn depths(field: &Field<'_>, rim: Option<Rim>, thickness: Option<Depth>) -> Vec<Option<RimDepth>> {
    let entries = field.list();
    if entries.len() > FaceDescription::MOST_SIDES {
        let fault = Fault::new(
            format!("{} depths for the sides of one face", entries.len()),
            format!("at most {}, one a side", FaceDescription::MOST_SIDES),
        );
        field.refuse::<()>(fault);
        return Vec::new();
    }
    let read: Vec<_> = entries.into_iter().map(|entry| entry.map(|e| rim_depth(&e, thickness))).collect();
    let told: Vec<_> = read.iter().flatten().flatten().copied().collect();
    let deep = |d: &RimDepth| match d {
        RimDepth::Length(l) => l.high().metres() > 0.0,
        RimDepth::OfThickness(s) => s.high().fraction() > 0.0,
    };
    if rim == Some(Rim::None) && told.iter().any(deep) {
        let fault = Fault::new(
            "a depth is given for a rim that was not seen",
            "write rim = \"partial\", \"all round\" or \"through\", or take the depth out",
        );
        field.refuse::<()>(fault);
    }
    doubt_the_middle(field, rim, &told, thickness);
    let without = |d: &RimDepth| !deep(d);
    if rim == Some(Rim::AllRound) && told.iter().any(without) {
        let help = "write rim = \"none\" or \"partial\", or \"?\" for a side that was not read";
        field.refuse::<()>(Fault::new("a rim all round has a depth on every side", help));
    }
    read.into_iter().map(Option::flatten).collect()
}

/// Warns of rims that would meet in the middle, and of a face that is all rim and yet has a depth.
fn doubt_the_middle(field: &Field<'_>, rim: Option<Rim>, told: &[RimDepth], thickness: Option<Depth>) {
    let share = |d: &RimDepth| match (d, thickness) {
        (RimDepth::OfThickness(s), _) => Some(s.best().fraction()),
        (RimDepth::Length(l), Some(whole)) => Some(l.best().metres() / whole.metres()),
        (RimDepth::Length(_), None) => None,
    };
    let shares = || told.iter().filter_map(share);
    let fault = match rim {
        Some(Rim::AllRound) if shares().any(|s| s > 0.5) => Fault::new(
            "a rim all round that is deeper than half the coupon leaves no core",
            "depth is from one side inward; if all of the face is rim, write rim = \"through\"",
        ),
        Some(Rim::Through) if shares().any(|s| s < 0.5) => Fault::new(
            "where all of the face is rim, it has no depth short of the middle",
            "write rim = \"all round\" if there is a core, or take the depth out",
        ),
        _ => return,
    };
    field.reading.warning(field.at, &field.path, fault);
}

fn rim_depth(field: &Field<'_>, thickness: Option<Depth>) -> Option<RimDepth> {
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
    let depth = field.settle(depth)?;
    match &depth {
        RimDepth::Length(length) if !field.inside(length, thickness) => None,
        _ => Some(depth),
    }
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
