//! What a file is, by its content: names lie, and phones rename.

use super::tiff::FirstPage;

/// A format that photos are read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// JPEG, baseline or progressive.
    Jpeg,
    /// PNG.
    Png,
    /// TIFF; raw photos built upon it are [`FileKind::Raw`].
    Tiff,
    /// WebP.
    WebP,
    /// HEIC: read only by builds with the feature `heic`.
    Heic,
}

impl Format {
    /// As people write it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Jpeg => "JPEG",
            Self::Png => "PNG",
            Self::Tiff => "TIFF",
            Self::WebP => "WebP",
            Self::Heic => "HEIC",
        }
    }

    /// Endings of file names that promise this format, in lower case.
    pub fn extensions(self) -> &'static [&'static str] {
        match self {
            Self::Jpeg => &["jpg", "jpeg", "jpe", "jfif"],
            Self::Png => &["png"],
            Self::Tiff => &["tif", "tiff"],
            Self::WebP => &["webp"],
            Self::Heic => &["heic", "heif", "hif"],
        }
    }

    /// All formats.
    pub const ALL: [Self; 5] = [Self::Jpeg, Self::Png, Self::Tiff, Self::WebP, Self::Heic];
}

/// What the bytes of a file are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// A photo that can be read.
    Photo(Format),
    /// A camera's raw data: DNG and its many kin.
    Raw,
    /// Another still picture format, by name.
    Picture(&'static str),
    /// A film.
    Video,
    /// A document, archive or program, by name.
    Other(&'static str),
    /// Text.
    Text,
    /// None of these.
    Unknown,
}

/// Signatures at the start of a file.
const STARTS: &[(&[u8], FileKind)] = &[
    (b"\xff\xd8\xff", FileKind::Photo(Format::Jpeg)),
    (b"\x89PNG\r\n\x1a\n", FileKind::Photo(Format::Png)),
    // Raw photos that look like TIFF but for their first bytes.
    (b"IIRO", FileKind::Raw),
    (b"IIRS", FileKind::Raw),
    (b"MMOR", FileKind::Raw),
    (b"IIU\0", FileKind::Raw),
    (b"FOVb", FileKind::Raw),
    (b"\0MRM", FileKind::Raw),
    (b"GIF8", FileKind::Picture("GIF")),
    (b"BM", FileKind::Picture("BMP")),
    (b"8BPS", FileKind::Picture("PSD")),
    (b"\xff\x0a", FileKind::Picture("JPEG XL")),
    (b"\0\0\0\x0cJXL ", FileKind::Picture("JPEG XL")),
    (b"\0\0\0\x0cjP  ", FileKind::Picture("JPEG 2000")),
    (b"\x1aE\xdf\xa3", FileKind::Video),
    (b"%PDF", FileKind::Other("PDF document")),
    (b"PK\x03\x04", FileKind::Other("ZIP archive or office document")),
    (b"\x1f\x8b", FileKind::Other("gzip archive")),
    (b"7z\xbc\xaf\x27\x1c", FileKind::Other("7z archive")),
    (b"\x7fELF", FileKind::Other("program")),
];

impl FileKind {
    /// What `bytes`, the whole of a file, are.
    pub fn of(bytes: &[u8]) -> Self {
        if let Some((_, kind)) = STARTS.iter().find(|(start, _)| bytes.starts_with(start)) {
            return *kind;
        }
        match (bytes.get(0..4), bytes.get(4..8), bytes.get(8..12)) {
            (Some(b"RIFF"), _, Some(b"WEBP")) => return Self::Photo(Format::WebP),
            (Some(b"RIFF"), _, Some(_)) => return Self::Video,
            (_, Some(b"ftyp"), Some(brand)) => return Self::of_brand(brand, bytes),
            _ => {}
        }
        // The signature of a raw format that begins with its maker's name.
        if bytes.get(8..15) == Some(b"CCD-RAW") {
            return Self::Raw;
        }
        if matches!(bytes.get(0..4), Some(b"II*\0" | b"MM\0*" | b"II+\0" | b"MM\0+")) {
            return if FirstPage::of(bytes).raw { Self::Raw } else { Self::Photo(Format::Tiff) };
        }
        if is_text(bytes) { Self::Text } else { Self::Unknown }
    }

    /// A file of the ISO base media family, by its brands (ISO/IEC 14496-12, 4.3; from memory).
    fn of_brand(brand: &[u8], bytes: &[u8]) -> Self {
        const MOST_BRANDS: usize = 32;
        let size = bytes.first_chunk::<4>().map_or(0, |size| u32::from_be_bytes(*size)) as usize;
        let listed = bytes.get(16..size.min(bytes.len())).unwrap_or_default();
        let lists = |wanted: &[u8]| listed.chunks_exact(4).take(MOST_BRANDS).any(|b| b == wanted);
        match brand {
            b"crx " => Self::Raw,
            b"avif" | b"avis" => Self::Picture("AVIF"),
            b"mif1" | b"msf1" if lists(b"avif") => Self::Picture("AVIF"),
            b"heic" | b"heix" | b"heim" | b"heis" | b"hevc" | b"hevx" | b"mif1" | b"msf1" => {
                Self::Photo(Format::Heic)
            }
            _ => Self::Video,
        }
    }
}

/// Whether the start of `bytes` is text: UTF-8 without control characters, or UTF-16 by its mark.
fn is_text(bytes: &[u8]) -> bool {
    const LOOKED_AT: usize = 1024;
    let start = &bytes[..bytes.len().min(LOOKED_AT)];
    if start.starts_with(b"\xff\xfe") || start.starts_with(b"\xfe\xff") {
        return true;
    }
    let valid = match std::str::from_utf8(start) {
        Ok(_) => true,
        // A character cut by the end of what is looked at.
        Err(e) => e.error_len().is_none() && e.valid_up_to() > 0,
    };
    valid
        && !start.is_empty()
        && !start.iter().any(|&b| b < 0x20 && !matches!(b, b'\t' | b'\n' | b'\r' | 0x0c))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn knows_files_by_their_content() {
        let brand = |brand: &[u8; 4], listed: &[u8]| {
            let mut bytes = (16 + listed.len() as u32).to_be_bytes().to_vec();
            bytes.extend_from_slice(b"ftyp");
            bytes.extend_from_slice(brand);
            bytes.extend_from_slice(&[0; 4]);
            bytes.extend_from_slice(listed);
            FileKind::of(&bytes)
        };
        assert_eq!(brand(b"heic", b"mif1heic"), FileKind::Photo(Format::Heic));
        assert_eq!(brand(b"mif1", b"miafavif"), FileKind::Picture("AVIF"));
        assert_eq!(brand(b"mif1", b"heic"), FileKind::Photo(Format::Heic));
        assert_eq!(brand(b"crx ", b""), FileKind::Raw);
        assert_eq!(brand(b"isom", b"mp42"), FileKind::Video);
        assert_eq!(FileKind::of(b"RIFF\0\0\0\0WEBPVP8 "), FileKind::Photo(Format::WebP));
        assert_eq!(FileKind::of(b"RIFF\0\0\0\0AVI LIST"), FileKind::Video);
        assert_eq!(FileKind::of("spärks".as_bytes()), FileKind::Text);
        assert_eq!(FileKind::of(b"\x00\x01\x02"), FileKind::Unknown);
        assert_eq!(FileKind::of(b""), FileKind::Unknown);
    }
}
