//! The first page of a TIFF file, as far as it tells a photo from a camera's raw data.
//! Source: TIFF Revision 6.0, 1992, section 2; tags of DNG 1.4, 2012; from memory.

/// What the first page tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct FirstPage {
    /// Raw data: a DNG version, a colour filter array, or a page that is a mere preview of another.
    pub(super) raw: bool,
    /// Another page follows.
    pub(super) more: bool,
}

const NEW_SUBFILE_TYPE: u16 = 254;
const PHOTOMETRIC: u16 = 262;
const SUB_IFDS: u16 = 330;
const DNG_VERSION: u16 = 50706;
/// Photometric interpretations of raw data: colour filter array, linear raw.
const RAW_PHOTOMETRIC: [u32; 2] = [32803, 34892];

impl FirstPage {
    /// Reads the first page of `bytes`; what cannot be read tells nothing. The 64-bit variant is not looked into.
    pub(super) fn of(bytes: &[u8]) -> Self {
        Self::read(bytes).unwrap_or_default()
    }

    fn read(bytes: &[u8]) -> Option<Self> {
        let little = bytes.starts_with(b"II*\0");
        if !little && !bytes.starts_with(b"MM\0*") {
            return None;
        }
        let u16_at = |at: usize| {
            let two = *bytes.get(at..)?.first_chunk::<2>()?;
            Some(if little { u16::from_le_bytes(two) } else { u16::from_be_bytes(two) })
        };
        let u32_at = |at: usize| {
            let four = *bytes.get(at..)?.first_chunk::<4>()?;
            Some(if little { u32::from_le_bytes(four) } else { u32::from_be_bytes(four) })
        };
        // "CR" behind the header marks one family of raw files.
        let mut page = Self { raw: bytes.get(8..10) == Some(b"CR"), more: false };
        let start = u32_at(4)? as usize;
        let entries = usize::from(u16_at(start)?);
        let (mut preview, mut others) = (false, false);
        for entry in 0..entries {
            let at = start.checked_add(2 + 12 * entry)?;
            let tag = u16_at(at)?;
            // A SHORT stands in the first two bytes of the value, a LONG in all four.
            let value = if u16_at(at + 2)? == 3 { u32::from(u16_at(at + 8)?) } else { u32_at(at + 8)? };
            match tag {
                NEW_SUBFILE_TYPE => preview = value & 1 == 1,
                SUB_IFDS => others = true,
                PHOTOMETRIC => page.raw |= RAW_PHOTOMETRIC.contains(&value),
                DNG_VERSION => page.raw = true,
                _ => {}
            }
        }
        page.raw |= preview && others;
        page.more = u32_at(start.checked_add(2 + 12 * entries)?)? != 0;
        Some(page)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A little-endian file of one page with these entries (tag, LONG value).
    fn file(entries: &[(u16, u32)], next: u32) -> Vec<u8> {
        let mut bytes = b"II*\0\x08\0\0\0".to_vec();
        bytes.extend_from_slice(&(entries.len() as u16).to_le_bytes());
        for (tag, value) in entries {
            bytes.extend_from_slice(&tag.to_le_bytes());
            bytes.extend_from_slice(&[4, 0, 1, 0, 0, 0]);
            bytes.extend_from_slice(&value.to_le_bytes());
        }
        bytes.extend_from_slice(&next.to_le_bytes());
        bytes
    }

    #[test]
    fn tells_raw_data_from_photos() {
        let raw = |entries: &[(u16, u32)]| FirstPage::of(&file(entries, 0)).raw;
        assert!(raw(&[(DNG_VERSION, 4)]) && raw(&[(PHOTOMETRIC, 32803)]));
        assert!(raw(&[(NEW_SUBFILE_TYPE, 1), (SUB_IFDS, 400)]));
        assert!(!raw(&[(NEW_SUBFILE_TYPE, 0), (SUB_IFDS, 400), (PHOTOMETRIC, 2)]));
        assert!(FirstPage::of(&file(&[], 400)).more && !FirstPage::of(&file(&[], 0)).more);
        assert_eq!(FirstPage::of(b"II*\0\xff\xff\xff\xff"), FirstPage::default());
        assert_eq!(FirstPage::of(b"MM\0*"), FirstPage::default());
    }
}
