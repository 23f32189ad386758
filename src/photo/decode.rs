use super::jpeg::Markers;
use super::opaque::over_black;
use super::tiff::FirstPage;
use super::turn::Turn;
use super::{Channels, Exposure, FileKind, Format, Limits, PhotoError, PhotoNote, Picture, Samples};
use image::codecs::{jpeg::JpegDecoder, png::PngDecoder, tiff::TiffDecoder, webp::WebPDecoder};
use image::error::{ImageError, LimitErrorKind};
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder};
use std::io::Cursor;

/// A photo: its picture, and what its file tells about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Photo {
    /// The picture, upright, without opacity.
    pub picture: Picture,
    /// The format it was stored in.
    pub format: Format,
    /// How it was exposed, as far as the file says.
    pub exposure: Exposure,
    /// What should be known about it.
    pub notes: Vec<PhotoNote>,
}

/// Reads a photo from the bytes of its file. Holds at most the pixels twice (while a picture is turned, or a
/// TIFF is unpacked), and a copy of the file.
pub fn decode(bytes: &[u8], limits: &Limits) -> Result<Photo, PhotoError> {
    limits.check_bytes(bytes.len() as u64)?;
    let format = match FileKind::of(bytes) {
        FileKind::Photo(format) => format,
        other => return Err(PhotoError::NotAPhoto(other)),
    };
    let (exposure, mut notes) = Exposure::of_file(bytes);
    let stored = Stored::of(bytes, format, limits, &mut notes).map_err(|e| match e {
        PhotoError::Damaged { .. } if ends_early(bytes, format) => PhotoError::CutOff(format),
        other => other,
    })?;
    let picture = stored.upright(&mut notes)?;
    Ok(Photo { picture, format, exposure, notes })
}

/// A picture as it lies in the file: rows as stored, not turned.
pub(super) struct Stored {
    pub(super) format: Format,
    pub(super) width: usize,
    pub(super) image: DynamicImage,
    pub(super) turn: Turn,
}

impl Stored {
    fn of(
        bytes: &[u8],
        format: Format,
        limits: &Limits,
        notes: &mut Vec<PhotoNote>,
    ) -> Result<Self, PhotoError> {
        let file = Cursor::new(bytes);
        match format {
            Format::Jpeg => Self::read(JpegDecoder::new(file), format, limits)?.whole(bytes, notes),
            Format::Png => {
                // The decoder refuses what is far too large without saying so.
                if let (Some(width), Some(height)) = (big_endian(bytes, 16), big_endian(bytes, 20)) {
                    limits.check_size(width, height)?;
                }
                Self::read(PngDecoder::new(file), format, limits)
            }
            Format::Tiff => {
                if FirstPage::of(bytes).more {
                    notes.push(PhotoNote::FirstOfMany);
                }
                Self::read(TiffDecoder::new(file), format, limits)
            }
            Format::WebP => {
                let decoder = WebPDecoder::new(file);
                if decoder.as_ref().is_ok_and(WebPDecoder::has_animation) {
                    notes.push(PhotoNote::FirstOfMany);
                }
                Self::read(decoder, format, limits)
            }
            Format::Heic => super::heic::read(bytes, limits),
        }
    }

    /// Checks sizes, then decodes.
    fn read<D: ImageDecoder>(
        decoder: Result<D, ImageError>,
        format: Format,
        limits: &Limits,
    ) -> Result<Self, PhotoError> {
        let fault = |e| fault(format, &e);
        let mut decoder = decoder.map_err(fault)?;
        let (width, height) = decoder.dimensions();
        limits.check_size(width, height)?;
        limits.check_memory(decoder.total_bytes())?;
        let mut most = image::Limits::default();
        most.max_alloc = Some(limits.most_memory);
        decoder.set_limits(most).map_err(fault)?;
        // A file whose EXIF cannot be read is taken as it lies; a note says so.
        let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
        let image = DynamicImage::from_decoder(decoder).map_err(fault)?;
        Ok(Self { format, width: width as usize, image, turn: Turn::of(orientation) })
    }

    /// Leaves out rows that a JPEG's decoder made up.
    fn whole(mut self, bytes: &[u8], notes: &mut Vec<PhotoNote>) -> Result<Self, PhotoError> {
        let stride = self.width * usize::from(self.image.color().channel_count());
        let (rows, note) = Markers::of(bytes).missing(self.image.as_bytes(), stride)?;
        notes.extend(note);
        if rows < self.image.height() as usize {
            self.image = shortened(self.image, rows as u32);
        }
        Ok(self)
    }

    /// Drops opacity and turns.
    fn upright(self, notes: &mut Vec<PhotoNote>) -> Result<Picture, PhotoError> {
        use DynamicImage as Image;
        use Samples::{Eight, Sixteen};
        let Self { format, width, image, turn } = self;
        let height = image.height() as usize;
        let mut see_through = false;
        let seen = &mut see_through;
        let samples = match image {
            Image::ImageLuma8(i) => Eight(turn.apply::<_, 1>(i.into_raw(), width)),
            Image::ImageRgb8(i) => Eight(turn.apply::<_, 3>(i.into_raw(), width)),
            Image::ImageLuma16(i) => Sixteen(turn.apply::<_, 1>(i.into_raw(), width)),
            Image::ImageRgb16(i) => Sixteen(turn.apply::<_, 3>(i.into_raw(), width)),
            Image::ImageLumaA8(i) => Eight(turn.apply::<_, 1>(over_black::<_, 2>(i.into_raw(), seen), width)),
            Image::ImageRgba8(i) => Eight(turn.apply::<_, 3>(over_black::<_, 4>(i.into_raw(), seen), width)),
            Image::ImageLumaA16(i) => {
                Sixteen(turn.apply::<_, 1>(over_black::<_, 2>(i.into_raw(), seen), width))
            }
            Image::ImageRgba16(i) => {
                Sixteen(turn.apply::<_, 3>(over_black::<_, 4>(i.into_raw(), seen), width))
            }
            _ => {
                let reason = "its samples are floating-point numbers; allowed: 8 or 16 bits".into();
                return Err(PhotoError::Unsupported { format, reason });
            }
        };
        if see_through {
            notes.push(PhotoNote::SeeThrough);
        }
        let channels = if samples.len() == width * height { Channels::Grey } else { Channels::Rgb };
        let (width, height) = turn.size(width, height);
        let empty = || PhotoError::Damaged { format, reason: "no pixel is left".into() };
        Picture::new(width, height, channels, samples).ok_or_else(empty)
    }
}

/// Whether a file that cannot be decoded ends before its own marks say.
fn ends_early(bytes: &[u8], format: Format) -> bool {
    match format {
        Format::Jpeg => !Markers::of(bytes).ended(),
        Format::Png => !bytes.windows(4).any(|name| name == b"IEND"),
        Format::WebP => {
            let size =
                bytes.get(4..).and_then(<[u8]>::first_chunk).map_or(0, |size| u32::from_le_bytes(*size));
            bytes.len() < size as usize
        }
        Format::Tiff | Format::Heic => false,
    }
}

/// The number in four bytes of a PNG file.
fn big_endian(bytes: &[u8], at: usize) -> Option<u32> {
    bytes.get(at..)?.first_chunk().map(|four| u32::from_be_bytes(*four))
}

/// The picture's top rows.
fn shortened(image: DynamicImage, rows: u32) -> DynamicImage {
    fn cut<P: image::Pixel<Subpixel = u8>>(
        image: image::ImageBuffer<P, Vec<u8>>,
        rows: u32,
    ) -> image::ImageBuffer<P, Vec<u8>> {
        let width = image.width();
        let mut samples = image.into_raw();
        samples.truncate(width as usize * rows as usize * usize::from(P::CHANNEL_COUNT));
        image::ImageBuffer::from_raw(width, rows, samples).unwrap_or_default()
    }
    match image {
        DynamicImage::ImageLuma8(i) => DynamicImage::ImageLuma8(cut(i, rows)),
        DynamicImage::ImageRgb8(i) => DynamicImage::ImageRgb8(cut(i, rows)),
        other => other,
    }
}

/// A decoder's complaint in our words.
fn fault(format: Format, e: &ImageError) -> PhotoError {
    match e {
        ImageError::IoError(e) if e.kind() == std::io::ErrorKind::UnexpectedEof => PhotoError::CutOff(format),
        ImageError::Unsupported(e) => PhotoError::Unsupported { format, reason: plain(&e.to_string()) },
        ImageError::Limits(e) if e.kind() == LimitErrorKind::InsufficientMemory => {
            PhotoError::Damaged { format, reason: "it asks for more memory than its picture needs".into() }
        }
        other => PhotoError::Damaged { format, reason: plain(&other.to_string()) },
    }
}

/// A decoder's words as one harmless line, not too long, without the format, which is named already.
fn plain(text: &str) -> String {
    const LONGEST: usize = 160;
    let text =
        text.split_once(": ").filter(|(head, _)| head.starts_with("Format error")).map_or(text, |(_, t)| t);
    text.trim().chars().map(|c| if c.is_control() { ' ' } else { c }).take(LONGEST).collect()
}
