//! HEIC, where the build has it.

use super::decode::Stored;
use super::{Limits, PhotoError};

#[cfg(not(feature = "heic"))]
pub(super) fn read(_: &[u8], _: &Limits) -> Result<Stored, PhotoError> {
    Err(PhotoError::HeicNotBuilt)
}

/// The decoder turns the picture as the file's own boxes say. EXIF says it once more, so it is not asked.
#[cfg(feature = "heic")]
pub(super) fn read(bytes: &[u8], limits: &Limits) -> Result<Stored, PhotoError> {
    use super::Format;
    use super::turn::Turn;
    use heic_decoder::HeifError;

    let fault = |e: HeifError| match e {
        HeifError::Truncated { .. } => PhotoError::CutOff(Format::Heic),
        HeifError::Unsupported(what) => PhotoError::Unsupported { format: Format::Heic, reason: what.into() },
        other => PhotoError::Damaged { format: Format::Heic, reason: other.to_string() },
    };
    let info = heic_decoder::probe(bytes).map_err(fault)?;
    let side = |px: usize| u32::try_from(px).unwrap_or(u32::MAX);
    limits.check_size(side(info.coded_width), side(info.coded_height))?;
    limits.check_size(side(info.width), side(info.height))?;
    // Planes of 32-bit numbers, brightness and two of colour at up to full size.
    limits.check_memory(info.coded_width as u64 * info.coded_height as u64 * 3)?;
    let image = heic_decoder::decode(bytes).map_err(fault)?.to_rgb8().map_err(fault)?;
    let (width, height) = (side(image.width), side(image.height));
    let lost =
        || PhotoError::Damaged { format: Format::Heic, reason: "its pixels do not fill its size".into() };
    let image = image::RgbImage::from_raw(width, height, image.data).ok_or_else(lost)?;
    let turn = Turn::of(image::metadata::Orientation::NoTransforms);
    Ok(Stored {
        format: Format::Heic,
        width: width as usize,
        image: image::DynamicImage::ImageRgb8(image),
        turn,
    })
}
