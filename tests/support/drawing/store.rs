//! A developed picture as a file.

use super::dice::Dice;
use super::exif::Exif;
use super::frame::Frame;
use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageBuffer, ImageFormat, Luma, Rgb};
use std::io::Cursor;

/// How a picture is stored.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Format {
    /// Quality 1..100.
    Jpeg(u8),
    Png8,
    Png16,
    Tiff,
    WebP,
}

impl Format {
    /// Mostly JPEG of quality 60 to 97, as phones write it.
    pub(crate) fn draw(dice: &mut Dice) -> Self {
        match dice.unit() {
            x if x < 0.80 => Self::Jpeg(dice.whole(60, 97) as u8),
            x if x < 0.90 => Self::Png8,
            x if x < 0.95 => Self::Png16,
            x if x < 0.975 => Self::Tiff,
            _ => Self::WebP,
        }
    }

    pub(crate) fn takes_exif(self) -> bool {
        matches!(self, Self::Jpeg(_))
    }

    pub(crate) fn extension(self) -> &'static str {
        match self {
            Self::Jpeg(_) => "jpg",
            Self::Png8 | Self::Png16 => "png",
            Self::Tiff => "tif",
            Self::WebP => "webp",
        }
    }

    /// The file's bytes; only JPEG takes EXIF, and is turned as its orientation says.
    pub(crate) fn store(self, picture: &Frame, grey: bool, exif: Option<&Exif>) -> Vec<u8> {
        let sixteen = self == Self::Png16;
        let image = match (grey, sixteen) {
            (false, false) => DynamicImage::ImageRgb8(rgb(picture, |v| (v * 255.0).round() as u8)),
            (false, true) => DynamicImage::ImageRgb16(rgb(picture, |v| (v * 65535.0).round() as u16)),
            (true, false) => DynamicImage::ImageLuma8(grey_of(picture, |v| (v * 255.0).round() as u8)),
            (true, true) => DynamicImage::ImageLuma16(grey_of(picture, |v| (v * 65535.0).round() as u16)),
        };
        let mut bytes = Cursor::new(Vec::new());
        match self {
            Self::Jpeg(quality) => {
                let encoder = JpegEncoder::new_with_quality(&mut bytes, quality);
                let stored = exif.map_or(image.clone(), |e| e.stored(&image));
                stored.write_with_encoder(encoder).expect("a JPEG is written to memory");
                let bytes = bytes.into_inner();
                return exif.map_or(bytes.clone(), |e| e.in_jpeg(&bytes));
            }
            Self::Png8 | Self::Png16 => image.write_to(&mut bytes, ImageFormat::Png).expect("a PNG"),
            Self::Tiff => image.write_to(&mut bytes, ImageFormat::Tiff).expect("a TIFF"),
            Self::WebP => {
                let colour = DynamicImage::ImageRgb8(image.to_rgb8());
                colour.write_to(&mut bytes, ImageFormat::WebP).expect("a WebP");
            }
        }
        bytes.into_inner()
    }
}

fn rgb<T: image::Primitive>(picture: &Frame, step: impl Fn(f32) -> T) -> ImageBuffer<Rgb<T>, Vec<T>>
where
    Rgb<T>: image::Pixel<Subpixel = T>,
{
    let [r, g, b] = &picture.planes;
    let data = r.iter().zip(g).zip(b).flat_map(|((r, g), b)| [step(*r), step(*g), step(*b)]).collect();
    ImageBuffer::from_raw(picture.width as u32, picture.height as u32, data)
        .expect("as many values as pixels")
}

fn grey_of<T: image::Primitive>(picture: &Frame, step: impl Fn(f32) -> T) -> ImageBuffer<Luma<T>, Vec<T>>
where
    Luma<T>: image::Pixel<Subpixel = T>,
{
    let data = picture.planes[1].iter().map(|v| step(*v)).collect();
    ImageBuffer::from_raw(picture.width as u32, picture.height as u32, data)
        .expect("as many values as pixels")
}
