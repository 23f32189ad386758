//! A little EXIF (CIPA DC-008, version 2.3): orientation, exposure time, focal length.

use super::dice::Dice;
use image::DynamicImage;

/// What a camera notes.
#[derive(Clone, Debug)]
pub(crate) struct Exif {
    /// 1 upright, 3 half a turn, 6 a quarter turn clockwise to be upright, 8 a quarter turn the other way.
    pub(crate) orientation: u16,
    /// s, as a fraction.
    exposure: [u32; 2],
    /// mm, as a fraction.
    focal: [u32; 2],
}

impl Exif {
    pub(crate) fn draw(shutter: f64, dice: &mut Dice) -> Self {
        let orientation = if dice.chance(0.3) { dice.pick(&[3, 6, 8]) } else { 1 };
        let focal = [dice.pick(&[425, 510, 2600, 5000]), 100];
        Self { orientation, exposure: [1, (1.0 / shutter).round() as u32], focal }
    }

    /// A phone's, held upright.
    pub(crate) fn upright(shutter: f64) -> Self {
        Self { orientation: 1, exposure: [1, (1.0 / shutter).round() as u32], focal: [510, 100] }
    }

    /// The pixels as they are stored, so that the orientation turns them upright.
    pub(crate) fn stored(&self, upright: &DynamicImage) -> DynamicImage {
        match self.orientation {
            3 => upright.rotate180(),
            6 => upright.rotate270(),
            8 => upright.rotate90(),
            _ => upright.clone(),
        }
    }

    /// A JPEG with this right after its start marker.
    pub(crate) fn in_jpeg(&self, jpeg: &[u8]) -> Vec<u8> {
        let tiff = self.tiff();
        let mut bytes = jpeg[..2].to_vec();
        bytes.extend([0xFF, 0xE1]);
        bytes.extend(((tiff.len() + 8) as u16).to_be_bytes());
        bytes.extend(b"Exif\0\0");
        bytes.extend(tiff);
        bytes.extend(&jpeg[2..]);
        bytes
    }

    /// Little-endian TIFF: one directory of two entries at 8, the EXIF directory of two at 38.
    fn tiff(&self) -> Vec<u8> {
        const EXIF_AT: u32 = 38;
        const VALUES_AT: u32 = 68;
        let mut t = Vec::new();
        t.extend(b"II*\0");
        t.extend(8_u32.to_le_bytes());
        t.extend(2_u16.to_le_bytes());
        entry(&mut t, 0x0112, 3, u32::from(self.orientation));
        entry(&mut t, 0x8769, 4, EXIF_AT);
        t.extend(0_u32.to_le_bytes());
        t.extend(2_u16.to_le_bytes());
        entry(&mut t, 0x829A, 5, VALUES_AT);
        entry(&mut t, 0x920A, 5, VALUES_AT + 8);
        t.extend(0_u32.to_le_bytes());
        for part in self.exposure.iter().chain(&self.focal) {
            t.extend(part.to_le_bytes());
        }
        t
    }
}

/// Tag, type (3 short, 4 long, 5 rational), one value or its place.
fn entry(tiff: &mut Vec<u8>, tag: u16, kind: u16, value: u32) {
    tiff.extend(tag.to_le_bytes());
    tiff.extend(kind.to_le_bytes());
    tiff.extend(1_u32.to_le_bytes());
    tiff.extend(value.to_le_bytes());
}
