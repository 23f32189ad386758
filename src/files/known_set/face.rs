use super::carbon::{carbon, carbon_text, with_best_of_grade};
use super::record::{needed, session, steel_name};
use crate::features::{FractureFeatures, Tempered};
use crate::files::Models;
use crate::files::problem::{Problem, shown};
use crate::files::run_sheet::draft::quoted;
use crate::files::run_sheet::fault::Fault;
use crate::files::run_sheet::field::{Field, quantity_range};
use crate::files::run_sheet::kind::Kind;
use crate::files::run_sheet::section::Section;
use crate::files::run_sheet::{fracture, read};
use crate::fracture::{FractureDescription, Quenching, Rim, Tempering};
use crate::known::{CasePoint, EdgeQuench, KnownFace, PointShows};
use crate::units::{CarbonPercent, Depth, Hrc, Hv, Interval};
use std::fmt::Write;
use std::path::Path;

pub(super) const VERSION_KEY: &str = "known-face";
const VERSION: i64 = 1;
static RECORD: Kind = Kind {
    one: "a record of a coupon",
    noun: "record",
    version: Some((VERSION_KEY, VERSION)),
    flat: true,
    typed: false,
    shorter: "make several records of it",
};
static TOLD: Kind = Kind {
    one: "a description of a coupon",
    noun: "description",
    version: None,
    flat: true,
    typed: false,
    shorter: "keep its face and its points alone",
};

/// What was seen and measured of a coupon: thickness, face, points.
type Coupon = (Option<Depth>, FractureDescription, Vec<CasePoint>);

/// A coupon told in a file, with what was typed.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceFile {
    coupon: Coupon,
    /// The fields as typed.
    pub(super) typed: toml::Table,
}

impl FaceFile {
    /// Reads `[fracture]` and the `[[point]]`s; `file_name` goes into messages.
    pub fn read(text: &str, file_name: &str, models: &Models) -> Result<Self, Vec<Problem>> {
        let (coupon, _, _) = TOLD.read_whole(text, file_name, models, coupon)?;
        let lost = || vec![Problem::error(file_name, "the description cannot be kept")];
        let typed = text.strip_prefix('\u{feff}').unwrap_or(text).parse().map_err(|_| lost())?;
        coupon.map(|coupon| Self { coupon, typed }).ok_or_else(lost)
    }

    /// Reads a file.
    pub fn read_file(path: &Path, models: &Models) -> Result<Self, Vec<Problem>> {
        let name = path.display().to_string();
        let bytes = read::read_up_to(path, super::layout::MOST_BYTES + 1).map_err(|e| {
            vec![Problem::error(&name, read::cannot_read(&e)).help("check the name of the description")]
        })?;
        Self::read(&TOLD.text(&name, bytes).map_err(|p| vec![*p])?, &name, models)
    }

    /// The coupon of a steel and a session.
    pub fn face(
        &self,
        name: String,
        core: Interval<CarbonPercent>,
        session: crate::known::Session,
        notes: String,
    ) -> KnownFace {
        let (thickness, fracture, points) = self.coupon.clone();
        KnownFace { name, core, session, notes, thickness, fracture, points }
    }
}

/// Reads the record of a coupon from its text; `file_name` goes into messages. On errors: all of them, in the order of the
/// lines.
pub fn read_face(text: &str, file_name: &str, models: &Models) -> Result<KnownFace, Vec<Problem>> {
    let (face, _, _) = RECORD.read_whole(text, file_name, models, |section| {
        let name = needed(section, "steel", "write what it was, such as steel = \"1018\"", steel_name);
        let core =
            needed(section, "carbon", "write its carbon before, such as carbon = \"0.15-0.20 %\"", |f| {
                f.settle(carbon(f.short("a carbon content")?))
            });
        let session = session(section);
        let notes = section.take("notes").and_then(|f| f.text()).unwrap_or_default();
        let (thickness, fracture, points) = coupon(section)?;
        let name = name?;
        let core = with_best_of_grade(&name, core?, models);
        Some(KnownFace { name, core, session: session?, notes, thickness, fracture, points })
    })?;
    face.ok_or_else(|| vec![Problem::error(file_name, "the record tells too little")])
}

/// The record of a coupon as a text that people can edit; `None` where what was told cannot be written.
pub fn face_text(face: &KnownFace, told: &FaceFile) -> Option<String> {
    let mut out = format!("{VERSION_KEY} = {VERSION}\n");
    for (key, value) in [
        ("steel", &face.name),
        ("carbon", &carbon_text(&face.core)),
        ("session", &face.session.to_string()),
        ("notes", &face.notes),
    ] {
        if !value.is_empty() {
            // writing to a String cannot fail
            let _ = writeln!(out, "{key} = {}", quoted(value));
        }
    }
    out.push('\n');
    out.push_str(&toml::to_string(&told.typed).ok()?);
    Some(out)
}

/// What was seen and measured; `None` after noting what is missing or wrong.
fn coupon(section: &mut Section<'_>) -> Option<Coupon> {
    for key in ["soak", "pack"] {
        let help = "take it out: the edge is learned from depths measured another way alone, so that a soak can be \
                    held against it";
        section.ban(key, Fault::new("a soak says nothing of the carbon at an edge that was seen", help));
    }
    let thickness = section.take("thickness").and_then(|f| f.more_than_zero());
    let face = section.within("fracture", |s| face(s, thickness));
    if face.is_none() && section.take("fracture").is_none() {
        let help = "add [fracture] with quenched_in and depth, as in a run sheet";
        section.reading.missing(0, "fracture", Fault::new("nothing tells what its face is like", help));
    }
    let told = face.as_ref().and_then(|f| f.as_ref());
    let quench = told.map(|(_, quench)| *quench);
    let tempered = told.is_some_and(|(told, _)| matches!(told.coupon.tempered, Some(Tempering::At(_))));
    let points = section.each("point", |s| point(s, (quench, tempered), thickness));
    if points.is_empty() {
        let help =
            "add [[point]] with depth and one of carbon, hardness, file or etched; more points say more";
        section.reading.missing(0, "point", Fault::new("nothing was measured another way", help));
    }
    if points.len() > KnownFace::MOST_POINTS {
        section.missing(format!("{} points", points.len()), format!("at most {}", KnownFace::MOST_POINTS));
    }
    let points: Option<Vec<CasePoint>> = points.into_iter().collect();
    Some((thickness, face??.0, points.filter(|p| !p.is_empty())?))
}

/// The face, which must show an edge of a quench.
fn face(section: &mut Section<'_>, thickness: Option<Depth>) -> Option<(FractureDescription, EdgeQuench)> {
    let told = fracture::read(section, thickness);
    let mut must = |key: &'static str, wrong: Option<(&str, &str)>, missing: (&str, &str)| {
        let fault = |(message, help): (&str, &str)| Fault::new(message, help);
        match (section.take(key), wrong) {
            (Some(field), Some(wrong)) => field.refuse::<()>(fault(wrong)),
            (None, _) => {
                section.missing(missing.0, missing.1);
                None
            }
            _ => Some(()),
        }
    };
    let coupon = &told.coupon;
    let quench = match coupon.quenched {
        Some(Quenching::In(medium)) => Some(EdgeQuench::of(medium)),
        _ => None,
    };
    let soft = coupon.quenched == Some(Quenching::NotQuenched);
    let soft = soft.then_some(("a face that was not quenched shows no edge", "quench a coupon and break it"));
    let quenched = must(
        "quenched_in",
        soft,
        (
            "the quench is missing",
            "write quenched_in = \"water\", \"brine\" or \"oil\": the edge depends on it",
        ),
    );
    let through = coupon.rim == Some(Rim::Through);
    let through = through.then_some(("a face that is all rim has no edge", "break a thicker coupon"));
    let depth = must(
        "depth",
        through,
        ("the depth of the rim is missing", "write depth = \"0.6 mm\", or \"0 mm\" where no rim is seen"),
    );
    let face_reading = &section.reading.models.face_reading;
    let seen = FractureFeatures::described(&told, thickness, face_reading);
    if let (Some(Tempered::Softened), Some(field)) = (seen.tempered, section.take("tempered")) {
        let hottest = face_reading.harmless_temper.value.celsius();
        let message = "tempered so hot that the edge no longer shows as the quench left it";
        field.refuse::<()>(Fault::new(message, format!("allowed: not tempered, or up to {hottest:.0} °C")));
    }
    if depth.is_some() && seen.sides_mm.is_empty() {
        let help = "write it as a length, or tell the coupon's thickness beside [fracture]";
        section.missing("the depth of the rim cannot be told in mm", help);
    }
    if let Some(field) = section.take("photos") {
        let help = "take them out, and write what was read on them";
        field.refuse::<()>(Fault::new("photos of faces are not kept in a set", help));
    }
    (quenched.is_some() && depth.is_some()).then_some((told, quench?))
}

/// One `[[point]]` of a coupon that was quenched in this, and tempered or not.
fn point(
    section: &mut Section<'_>,
    (quench, tempered): (Option<EdgeQuench>, bool),
    thickness: Option<Depth>,
) -> Option<CasePoint> {
    const ONE_OF: &str = "carbon = \"0.35 %\", hardness = \"550 HV\", file = \"58\" (where it first bites, going \
                          inward), or etched = true (where the dark zone of an etched section ends)";
    let depth = section.take("depth");
    if depth.is_none() {
        section.missing("a point without its depth", "write how far below the surface it lies");
    }
    let depth = depth.and_then(|f| f.interval::<Depth>().filter(|d| f.inside(d, thickness)));
    let told: Vec<Field<'_>> =
        ["carbon", "hardness", "file", "etched"].into_iter().filter_map(|key| section.take(key)).collect();
    let [field] = &told[..] else {
        let message =
            if told.is_empty() { "a point that shows nothing" } else { "a point that shows several things" };
        section.missing(message, format!("write one of {ONE_OF}"));
        return None;
    };
    if tempered && matches!(field.name_alone(), "hardness" | "file") {
        let help = "measure it as quenched, before any temper, or write tempered = \"no\"";
        return field.refuse(Fault::new("a hardness after a temper tells no carbon here", help));
    }
    let shows = match field.name_alone() {
        "carbon" => PointShows::Carbon(field.settle(carbon(field.short("a carbon content")?))?),
        "hardness" => PointShows::Hardness(hardness(field, quench)?),
        "file" => file(field)?,
        _ if field.yes_no()? => PointShows::EtchedEnd,
        _ => {
            return field.refuse(Fault::new("an etched zone that does not end there", "leave the point out"));
        }
    };
    Some(CasePoint { depth: depth?, shows })
}

/// `50 HRC`, `550 HV`.
fn hardness(field: &Field<'_>, quench: Option<EdgeQuench>) -> Option<Interval<Hrc>> {
    let text = field.short("a hardness")?;
    let models = field.reading.models;
    let vickers = text.to_uppercase().contains("HV");
    let hrc = if vickers {
        let hv = field.settle(quantity_range::<Hv>(text))?;
        models.hardness.conversion.interval_to_hrc(&hv)
    } else {
        Some(field.settle(quantity_range::<Hrc>(text))?)
    };
    // what was wrong with the quench was said
    let told = hrc.filter(|hrc| quench.is_none_or(|q| models.edge_tables().carbon(hrc.best(), q).is_some()));
    field.settle(told.ok_or_else(|| {
        let words = quench.map_or("", EdgeQuench::words);
        let message = format!("`{}` tells no carbon of steel quenched in {words}", shown(text));
        Fault::new(message, "allowed: a hardness as quenched between that of the soft core and about 60 HRC")
    }))
}

/// The file that first bites there.
fn file(field: &Field<'_>) -> Option<PointShows> {
    let text = field.short("a file")?;
    let name = text.trim().trim_end_matches("HRC").trim();
    let files = &field.reading.models.hardness.files;
    let found = files.iter().find(|f| f.name.eq_ignore_ascii_case(name));
    let file = field.settle(found.ok_or_else(|| {
        let all = files.iter().map(|f| format!("\"{}\"", f.name)).collect::<Vec<_>>().join(", ");
        Fault::new(format!("`{}` is no file of known hardness", shown(text)), format!("allowed: {all}"))
    }))?;
    Some(PointShows::FirstBite { file: file.name.clone(), turns: file.undecided.value })
}
