use super::carbon::{carbon, with_best_of_grade};
use crate::files::Models;
use crate::files::problem::{Problem, shown};
use crate::files::run_sheet::fault::Fault;
use crate::files::run_sheet::field::Field;
use crate::files::run_sheet::kind::Kind;
use crate::files::run_sheet::section::Section;
use crate::files::run_sheet::spark;
use crate::known::{KnownPhoto, KnownSteel, Seen, Session, rig_name};
use crate::spark::SparkObservation;
use std::collections::BTreeSet;
use std::path::Path;

pub(super) const VERSION_KEY: &str = "known-steel";
pub(super) const VERSION: i64 = 1;
pub(super) static RECORD: Kind = Kind {
    one: "a record",
    noun: "record",
    version: Some((VERSION_KEY, VERSION)),
    flat: true,
    typed: false,
    shorter: "make several records of it",
};
/// Hexadecimal digits of a SHA-256.
const HASH: usize = 64;

/// Reads a record from its text; `file_name` goes into messages. On errors: all of them, in the order of the lines.
pub fn read_record(text: &str, file_name: &str, models: &Models) -> Result<KnownSteel, Vec<Problem>> {
    let (steel, _, _) = RECORD.read_whole(text, file_name, models, |section| record(section, models))?;
    steel.ok_or_else(|| vec![Problem::error(file_name, "the record tells too little")])
}

/// `None` after noting what is missing or wrong.
fn record(section: &mut Section<'_>, models: &Models) -> Option<KnownSteel> {
    let name = needed(section, "steel", "write what it is, such as steel = \"1095\"", steel_name);
    let range = needed(section, "carbon", "write its carbon, such as carbon = \"0.90-1.03 %\"", |f| {
        f.settle(carbon(f.short("a carbon content")?))
    });
    let state = section.take("state").and_then(|f| f.word(&spark::STATES));
    let rig = needed(section, "rig", "name grinder and camera, such as rig = \"bench\"", |f| {
        let text = f.short("a rig")?;
        f.settle(rig_name(text).map_err(|e| Fault::new(e.to_string(), e.help())))
    });
    let session = session(section);
    let reference = section.take("reference").is_some_and(|f| f.yes_no().unwrap_or_default());
    let notes = section.take("notes").and_then(|f| f.text()).unwrap_or_default();
    let seen = seen(section);
    let name = name?;
    let carbon = with_best_of_grade(&name, range?, models);
    Some(KnownSteel { name, carbon, state, rig: rig?, session: session?, reference, notes, seen: seen? })
}

/// When it was.
pub(super) fn session(section: &mut Section<'_>) -> Option<Session> {
    needed(section, "session", "write the day, such as session = \"2026-03-14\"", |f| {
        let text = f.short("a session")?;
        f.settle(Session::parse(text).map_err(|e| Fault::new(e.to_string(), e.help())))
    })
}

/// A field that must be there.
pub(super) fn needed<T>(
    section: &mut Section<'_>,
    key: &'static str,
    help: &str,
    read: impl FnOnce(&Field<'_>) -> Option<T>,
) -> Option<T> {
    let Some(field) = section.take(key) else {
        section.reading.missing(0, key, Fault::new(format!("the {key} is missing"), help));
        return None;
    };
    read(&field)
}

pub(super) fn steel_name(field: &Field<'_>) -> Option<String> {
    let name = field.short("a steel")?.trim();
    let long = name.len();
    if long == 0 || long > KnownSteel::LONGEST_NAME || name.chars().any(char::is_control) {
        let message = format!("`{}` is no name of a steel", shown(name));
        let help = format!("allowed: 1 to {} characters on one line", KnownSteel::LONGEST_NAME);
        return field.refuse(Fault::new(message, help));
    }
    Some(name.to_string())
}

/// The photos, or what was told: one of both.
fn seen(section: &mut Section<'_>) -> Option<Seen> {
    const ONE: &str = "keep [[photo]] or [spark], or make two records of it";
    let both = section.take("photo").zip(section.take("spark"));
    if let Some((_, spark)) = both {
        spark.refuse::<()>(Fault::new("photos and a description are two ways to tell the same", ONE));
        return None;
    }
    let at = section.take("photo");
    let photos = section.each("photo", photo);
    if at.is_some() {
        let photos: Option<Vec<KnownPhoto>> = photos.into_iter().collect();
        return photos.filter(|p| !p.is_empty()).and_then(|p| each_once(section, p)).map(Seen::Photos);
    }
    if let Some(told) = section.within("spark", told) {
        return Some(Seen::Told(Box::new(told?)));
    }
    if section.take("spark").is_none() {
        let help = "add [[photo]] with name and sha256 (`snapspark known add` writes it), or [spark] with what was \
                    seen";
        section.reading.missing(0, "photo", Fault::new("nothing tells what its sparks are like", help));
    }
    None
}

fn each_once(section: &Section<'_>, photos: Vec<KnownPhoto>) -> Option<Vec<KnownPhoto>> {
    let mut seen = BTreeSet::new();
    let twice = photos.iter().find(|p| !seen.insert(&p.hash));
    let Some(twice) = twice else { return Some(photos) };
    let fault = Fault::new(format!("the photo {} stands here twice", twice.name), "keep one of the two");
    section.reading.error(0, "photo", fault);
    None
}

fn photo(section: &mut Section<'_>) -> Option<KnownPhoto> {
    let mut must = |key: &'static str, help: &str| {
        let field = section.take(key);
        if field.is_none() {
            section.missing(format!("a photo without {key}"), help);
        }
        field
    };
    let name = must("name", "write what its file was called").and_then(|f| photo_name(&f));
    let hash = must("sha256", "write the SHA-256 of its bytes: 64 hexadecimal digits").and_then(|f| hash(&f));
    let touch = section.take("touch");
    let (_, most) = SparkObservation::TOUCHES;
    let touch = touch.map(|f| {
        let text = f.short("a touch")?;
        let number = text.trim().parse::<u32>().ok().filter(|n| (1..=most).contains(n));
        f.settle(number.ok_or_else(|| {
            Fault::new(
                format!("`{}` is no touch", shown(text)),
                format!("allowed: a whole number from 1 to {most}"),
            )
        }))
    });
    let link = section.take("link").map(|f| {
        let text = f.text()?;
        let right = Path::new(&text).is_absolute() && !text.contains('\0');
        f.settle(if right {
            Ok(text)
        } else {
            Err(Fault::new(format!("`{}` is no whole path", shown(&text)), "write the path from the root on"))
        })
    });
    let (touch, link) = (ask(touch)?, ask(link)?);
    Some(KnownPhoto { name: name?, hash: hash?, touch, link })
}

/// `None` for a field that is there and wrong.
#[allow(clippy::option_option)]
fn ask<T>(field: Option<Option<T>>) -> Option<Option<T>> {
    match field {
        None => Some(None),
        Some(value) => value.map(Some),
    }
}

fn photo_name(field: &Field<'_>) -> Option<String> {
    let text = field.text()?;
    let odd = |c: char| c.is_control() || matches!(c, '/' | '\\');
    if text.is_empty() || text.contains(odd) {
        let fault =
            Fault::new(format!("`{}` is no name of a file", shown(&text)), "write it without its folder");
        return field.refuse(fault);
    }
    Some(text)
}

fn hash(field: &Field<'_>) -> Option<String> {
    let text = field.short("a SHA-256")?;
    let right = is_hash(text);
    field.settle(if right {
        Ok(text.to_string())
    } else {
        let help = format!("allowed: {HASH} digits of 0-9 and a-f");
        Err(Fault::new(format!("`{}` is no SHA-256", shown(text)), help))
    })
}

/// Whether a text is a SHA-256 in small letters.
pub(super) fn is_hash(text: &str) -> bool {
    text.len() == HASH && text.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b))
}

/// Reads what a run sheet's `[spark]` can say; photos have their own place here.
pub(super) fn told(section: &mut Section<'_>) -> Option<SparkObservation> {
    let told = spark::read(section, None);
    let photos = told.photos().count();
    if photos > 0 {
        let help = "add photos with `snapspark known add --steel ... PHOTO`";
        section.reading.error(section.at, "spark", Fault::new("photos inside a description", help));
        return None;
    }
    if told == SparkObservation::default() {
        section
            .missing("the description tells nothing", "add what was seen, such as share_bursting = \"most\"");
        return None;
    }
    Some(told)
}
