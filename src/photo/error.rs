use super::{FileKind, Format};
use thiserror::Error;

/// Why a photo cannot be used. `Display` says what is wrong; [`PhotoError::help`] what to do.
#[derive(Debug, Clone, PartialEq, Error)]
#[allow(missing_docs)] // the variants' fields are shown by Display
pub enum PhotoError {
    #[error("the file is empty (0 bytes)")]
    Empty,
    #[error("the file is {} MB; allowed: up to {} MB", megas(*.got), megas(*.most))]
    FileTooLarge { got: u64, most: u64 },
    #[error("{}", not_a_photo(*.0))]
    NotAPhoto(FileKind),
    #[error("a HEIC photo, which this build does not read")]
    HeicNotBuilt,
    #[error("{width} x {height} px; allowed: up to {most} px a side")]
    SideTooLong { width: u32, height: u32, most: u32 },
    #[error("{width} x {height} px = {} MP; allowed: up to {} MP", pixels(*.width, *.height), megas(*.most))]
    TooManyPixels { width: u32, height: u32, most: u64 },
    #[error("{width} x {height} px = {} MP; allowed: {} MP and more", pixels(*.width, *.height), megas(*.least))]
    TooFewPixels { width: u32, height: u32, least: u64 },
    #[error("needs {} MB for its pixels; allowed: up to {} MB", megas(*.got), megas(*.most))]
    TooMuchMemory { got: u64, most: u64 },
    #[error("the {} file was cut off: it ends before its picture does", .0.name())]
    CutOff(Format),
    #[error("the JPEG file was cut off: {missing} of {of} rows are missing; allowed: up to {most}")]
    RowsMissing { missing: usize, of: usize, most: usize },
    #[error("the JPEG file was cut off before any fine detail was stored: the picture is a blur")]
    DetailMissing,
    #[error("the JPEG file is damaged: {missing} of {of} rows cannot be read; allowed: up to {most}")]
    RowsDamaged { missing: usize, of: usize, most: usize },
    #[error("the {} file is damaged: {reason}", .format.name())]
    Damaged { format: Format, reason: String },
    #[error("a kind of {} that is not read: {reason}", .format.name())]
    Unsupported { format: Format, reason: String },
}

impl PhotoError {
    /// What to do about it.
    pub fn help(&self) -> String {
        let anew = "copy it from the phone or camera again, whole; by cable rather than by a messenger";
        match self {
            Self::Empty => format!("the copy failed: {anew}"),
            Self::FileTooLarge { .. } => "save it as JPEG at full size".into(),
            Self::NotAPhoto(kind) => advice(*kind).into(),
            Self::HeicNotBuilt => SET_TO_JPEG.into(),
            Self::SideTooLong { .. } | Self::TooManyPixels { .. } | Self::TooMuchMemory { .. } => {
                "use the photo as the camera took it, or crop it to the sparks or the face; do not stitch panoramas"
                    .into()
            }
            Self::TooFewPixels { .. } => {
                "use the photo as the camera took it, not a thumbnail or a copy shrunk by a messenger".into()
            }
            Self::CutOff(_) | Self::RowsMissing { .. } | Self::DetailMissing => anew.into(),
            Self::RowsDamaged { .. } | Self::Damaged { .. } => {
                format!("{anew}; if other programs show it whole, save it from there as PNG")
            }
            Self::Unsupported { .. } => "open it in a picture viewer and save it as JPEG or 8-bit PNG".into(),
        }
    }
}

/// How to get a JPEG out of a phone, for both common families of phones, in their menus' words.
const SET_TO_JPEG: &str = "set the phone to JPEG and take the photo again:\n\
    Settings > Camera > Formats > Most Compatible; or, on other phones,\n\
    in the camera's own settings, turn off \"High efficiency pictures\" (HEIF)\n\
    a photo that is there already: share or export it as JPEG\n\
    or build the program with: cargo build --release --features heic";

fn advice(kind: FileKind) -> &'static str {
    match kind {
        FileKind::Raw => {
            "export it as JPEG or 16-bit TIFF with the usual settings and without sharpening,\n\
             or set the camera to RAW + JPEG and give the JPEG"
        }
        FileKind::Picture("AVIF" | "JPEG XL") => SET_TO_JPEG_ONLY,
        FileKind::Picture(_) => "give the photo as the camera stored it; or save this one as PNG",
        FileKind::Video => "give a photo; single frames of a film are too soft to count sparks in",
        FileKind::Photo(_) | FileKind::Other(_) | FileKind::Text | FileKind::Unknown => {
            "give a photo: JPEG, PNG, TIFF or WebP"
        }
    }
}

const SET_TO_JPEG_ONLY: &str = "set the camera to JPEG, or export this photo as JPEG or PNG";

fn not_a_photo(kind: FileKind) -> String {
    match kind {
        FileKind::Photo(format) => format!("a {} file", format.name()),
        FileKind::Raw => "a raw photo (the sensor's own data, such as DNG), which is not read".into(),
        FileKind::Picture(name) => format!("a picture of the format {name}, which is not read"),
        FileKind::Video => "a video, not a photo".into(),
        FileKind::Other(name) => format!("a {name}, not a photo"),
        FileKind::Text => "a text file, not a photo".into(),
        FileKind::Unknown => "no picture format that is known, whatever its name says".into(),
    }
}

/// Millions of them, finely enough to tell a value from a limit.
fn megas(count: u64) -> String {
    let megas = count as f64 / 1e6;
    match megas {
        m if m >= 10.0 => format!("{m:.0}"),
        m if m >= 1.0 => format!("{m:.1}"),
        m if m >= 0.1 => format!("{m:.2}"),
        m => format!("{m:.4}"),
    }
}

fn pixels(width: u32, height: u32) -> String {
    megas(u64::from(width) * u64::from(height))
}
