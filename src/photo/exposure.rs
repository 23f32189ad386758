//! How a photo was exposed, out of its EXIF data (CIPA DC-008-2012, EXIF 2.3; meanings of tags from memory).

use super::PhotoNote;
use crate::units::{Depth, Time};
use exif::{Error, Exif, In, Reader, Tag, Value};
use std::io::Cursor;

/// How a photo was exposed. `None`: the file does not say, or says what cannot be.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Exposure {
    /// How long the shutter was open.
    pub time: Option<Time>,
    /// F-number: focal length over the width of the aperture.
    pub f_number: Option<f64>,
    /// Sensitivity, ISO.
    pub iso: Option<f64>,
    /// Exposure that was asked for above the metered one, in steps of two (EV).
    pub bias: Option<f64>,
    /// Focal length of the lens.
    pub focal_length: Option<Depth>,
    /// Focal length that gives the same view on 36 x 24 mm film.
    pub focal_length_35mm: Option<Depth>,
    /// When it was taken, by the camera's clock: `2026-11-25 18:41:07`.
    pub taken_at: Option<String>,
}

impl Exposure {
    /// How strongly the same light is recorded, in seconds at ISO 100 and F 1: `time * ISO / 100 / F^2`.
    /// Linear light of two photos is compared after dividing by it. `None` unless all three are known.
    pub fn strength(&self) -> Option<f64> {
        let f = self.f_number?;
        Some(self.time?.seconds() * self.iso? / 100.0 / (f * f))
    }

    /// What the file `bytes` tells, and what it tells that is not believed.
    pub fn of_file(bytes: &[u8]) -> (Self, Vec<PhotoNote>) {
        let mut reader = Reader::new();
        reader.continue_on_error(true);
        let read = reader.read_from_container(&mut Cursor::new(bytes));
        // Makers' own fields are often broken, and do not matter.
        let read = read.or_else(|e| e.distill_partial_result(|_| ()));
        match read {
            Ok(exif) if exif.fields().len() == 0 => (Self::default(), vec![PhotoNote::ExifUnreadable]),
            Ok(exif) => Fields { exif, ignored: Vec::new() }.exposure(),
            Err(Error::NotFound(_) | Error::InvalidFormat("Unknown image format")) => Default::default(),
            Err(_) => (Self::default(), vec![PhotoNote::ExifUnreadable]),
        }
    }
}

/// The fields of a file, and those left out so far.
struct Fields {
    exif: Exif,
    ignored: Vec<PhotoNote>,
}

/// A number that is read: its name, the tags that may hold it (the first that does counts), what is believed.
/// All bounds are judgement: beyond what cameras do, but not far.
struct Believed {
    what: &'static str,
    tags: &'static [Tag],
    low: f64,
    high: f64,
    allowed: &'static str,
}

const TIME: Believed = Believed {
    what: "the exposure time",
    tags: &[Tag::ExposureTime],
    low: 1e-6,
    high: 3600.0,
    allowed: "1/1000000 s to 1 h",
};
const F_NUMBER: Believed =
    Believed { what: "the f-number", tags: &[Tag::FNumber], low: 0.5, high: 128.0, allowed: "0.5 to 128" };
/// Sixteen bits hold no more than 65535, which then stands for "see the other tags".
const ISO: Believed = Believed {
    what: "the ISO sensitivity",
    tags: &[
        Tag::PhotographicSensitivity,
        Tag::RecommendedExposureIndex,
        Tag::ISOSpeed,
        Tag::StandardOutputSensitivity,
    ],
    low: 1.0,
    high: 10e6,
    allowed: "1 to 10 million",
};
const BIAS: Believed = Believed {
    what: "the exposure bias",
    tags: &[Tag::ExposureBiasValue],
    low: -10.0,
    high: 10.0,
    allowed: "-10 to 10 EV",
};
const FOCAL_LENGTH: Believed = Believed {
    what: "the focal length",
    tags: &[Tag::FocalLength],
    low: 0.5,
    high: 2000.0,
    allowed: "0.5 to 2000 mm",
};
const FOCAL_LENGTH_35MM: Believed = Believed {
    what: "the focal length on 35 mm film",
    tags: &[Tag::FocalLengthIn35mmFilm],
    low: 3.0,
    high: 2000.0,
    allowed: "3 to 2000 mm",
};

impl Fields {
    fn exposure(mut self) -> (Exposure, Vec<PhotoNote>) {
        let exposure = Exposure {
            time: self.number(&TIME).and_then(|s| Time::from_seconds(s).ok()),
            f_number: self.number(&F_NUMBER),
            iso: self.number(&ISO),
            bias: self.number(&BIAS),
            focal_length: self.number(&FOCAL_LENGTH).and_then(|mm| Depth::from_millimetres(mm).ok()),
            focal_length_35mm: self
                .number(&FOCAL_LENGTH_35MM)
                .and_then(|mm| Depth::from_millimetres(mm).ok()),
            taken_at: self.taken_at(),
        };
        (exposure, self.ignored)
    }

    fn number(&mut self, of: &Believed) -> Option<f64> {
        let found = of.tags.iter().find_map(|&tag| {
            let value = &self.exif.get_field(tag, In::PRIMARY)?.value;
            let says_look_elsewhere = tag == Tag::PhotographicSensitivity && value.get_uint(0) == Some(65535);
            let says_unknown = tag == Tag::FocalLengthIn35mmFilm && value.get_uint(0) == Some(0);
            (!says_look_elsewhere && !says_unknown).then(|| Number::of(value))
        })?;
        let number = found.as_ref().map(|n| n.top / n.bottom).filter(|n| (of.low..=of.high).contains(n));
        if number.is_none() {
            let got = found.map_or("no number".into(), |n| n.text);
            self.ignored.push(PhotoNote::ExifIgnored { what: of.what, got, allowed: of.allowed });
        }
        number
    }

    fn taken_at(&mut self) -> Option<String> {
        let field = self.exif.get_field(Tag::DateTimeOriginal, In::PRIMARY)?;
        let text = match &field.value {
            Value::Ascii(lines) => lines.first().map(Vec::as_slice).unwrap_or_default().to_vec(),
            _ => Vec::new(),
        };
        // Blanks, or zeros, where digits would be: the clock was not set.
        if text.iter().all(|b| matches!(b, b' ' | b':' | b'0' | 0)) {
            return None;
        }
        let time = exif::DateTime::from_ascii(&text).ok().filter(is_a_time);
        if time.is_none() {
            const LONGEST: usize = 30;
            let got =
                String::from_utf8_lossy(&text).chars().filter(|c| !c.is_control()).take(LONGEST).collect();
            let (what, allowed) = ("the time it was taken", "a day and a time, such as 2026:11:25 18:41:07");
            self.ignored.push(PhotoNote::ExifIgnored { what, got, allowed });
        }
        time.map(|t| {
            let (y, mo, d, h, mi, s) = (t.year, t.month, t.day, t.hour, t.minute, t.second);
            format!("{y:04}-{mo:02}-{d:02} {h:02}:{mi:02}:{s:02}")
        })
    }
}

/// Whether the calendar has such a day, in the time of digital cameras, and the day such a second.
fn is_a_time(time: &exif::DateTime) -> bool {
    let by = |years| time.year.is_multiple_of(years);
    let leap = by(4) && (!by(100) || by(400));
    let days = match time.month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    (1990..2200).contains(&time.year)
        && (1..=days).contains(&time.day)
        && time.hour < 24
        && time.minute < 60
        && time.second <= 60
}

/// A number as it is stored.
struct Number {
    top: f64,
    bottom: f64,
    text: String,
}

impl Number {
    /// The first number of a field. Some writers store a fraction as two whole numbers.
    fn of(value: &Value) -> Option<Self> {
        let fraction = |top: f64, bottom: f64| Self { top, bottom, text: format!("{top}/{bottom}") };
        let whole = |n: f64| Self { top: n, bottom: 1.0, text: n.to_string() };
        match value {
            Value::Rational(all) => all.first().map(|r| fraction(f64::from(r.num), f64::from(r.denom))),
            Value::SRational(all) => all.first().map(|r| fraction(f64::from(r.num), f64::from(r.denom))),
            Value::Float(all) => all.first().map(|&n| whole(f64::from(n))),
            Value::Double(all) => all.first().map(|&n| whole(n)),
            other => match whole_numbers(other)[..] {
                [top, bottom] => Some(fraction(top, bottom)),
                [n, ..] => Some(whole(n)),
                [] => None,
            },
        }
    }
}

/// The first whole numbers of a field, up to three, signed or not.
fn whole_numbers(value: &Value) -> Vec<f64> {
    fn first<T: Copy>(all: &[T]) -> Vec<f64>
    where
        f64: From<T>,
    {
        all.iter().take(3).map(|&n| f64::from(n)).collect()
    }
    match value {
        Value::Byte(all) => first(all),
        Value::Short(all) => first(all),
        Value::Long(all) => first(all),
        Value::SByte(all) => first(all),
        Value::SShort(all) => first(all),
        Value::SLong(all) => first(all),
        _ => Vec::new(),
    }
}
