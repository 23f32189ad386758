use super::save;
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder, ImageError};
use std::io;
use std::path::Path;

/// Writes a picture as PNG, whole or not at all: `width` by `height` px of red, green and blue, row by row.
pub fn save_picture(path: &Path, width: usize, height: usize, rgb: &[u8]) -> io::Result<()> {
    let [width, height] = [width, height].map(|px| u32::try_from(px).unwrap_or(u32::MAX));
    if rgb.len() as u64 != u64::from(width) * u64::from(height) * 3 {
        return Err(io::Error::other(format!(
            "{} samples are no picture of {width} by {height} px",
            rgb.len()
        )));
    }
    let mut png = Vec::new();
    PngEncoder::new(&mut png).write_image(rgb, width, height, ExtendedColorType::Rgb8).map_err(
        |e| match e {
            ImageError::IoError(e) => e,
            e => io::Error::other(e),
        },
    )?;
    save(path, &png)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_can_be_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("found.png");
        let rgb: Vec<u8> = (0..60).collect();
        save_picture(&path, 5, 4, &rgb).unwrap();
        let read = image::load_from_memory(&std::fs::read(&path).unwrap()).unwrap().into_rgb8();
        assert_eq!((read.width(), read.height(), read.into_raw()), (5, 4, rgb));
    }

    #[test]
    fn what_is_no_picture_leaves_the_old_one() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("found.png");
        save_picture(&path, 1, 1, &[1, 2, 3]).unwrap();
        let old = std::fs::read(&path).unwrap();
        assert!(save_picture(&path, 2, 1, &[1, 2, 3]).is_err());
        assert!(save_picture(&path, 0, 0, &[]).is_err());
        assert_eq!(std::fs::read(&path).unwrap(), old);
    }
}
