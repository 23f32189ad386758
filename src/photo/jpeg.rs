//! The markers of a JPEG file: whether it ends as it should, and how much of the picture is there. The decoder
//! does not tell: it fills what is missing.
//! Source: ITU-T T.81 (1992), annexes B and G; from memory.

use super::{PhotoError, PhotoNote};

/// Share of rows that may be missing before a photo is refused: judgement. What is left shows the stream
/// as a crop would.
const MOST_MISSING: f64 = 0.03;
/// What the decoder fills rows with that it could not read.
const FILLER: u8 = 128;
/// Zeros at the end of a file that no picture's data end with, bytes: judgement.
const PADDING: usize = 64;

/// In which order a file brings its picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Coding {
    /// From top to bottom.
    Baseline,
    /// The whole picture, again and again, each time sharper.
    Progressive {
        /// Brightness has fine detail, from scans that are whole.
        detail: bool,
    },
}

/// What the markers of a file tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Markers {
    /// The end marker was found after the last scan. What follows it (a film, padding) does not matter.
    ended: bool,
    /// Height of a row of blocks, px: 8 to 32.
    block_height: usize,
    coding: Coding,
    /// The file ends with many zeros.
    padded: bool,
}

impl Markers {
    /// Walks the markers of `bytes`.
    pub(super) fn of(bytes: &[u8]) -> Self {
        let mut walk = Walk { bytes, at: 2 };
        let padded = bytes.len() > PADDING && bytes.iter().rev().take(PADDING).all(|&b| b == 0);
        let mut found = Self { ended: false, block_height: 8, coding: Coding::Baseline, padded };
        // Frequencies of brightness that whole scans have brought; the first is the mean and no detail.
        let mut brought: u64 = 1;
        let mut open: u64 = 0;
        let mut progressive = false;
        while let Some((marker, body)) = walk.next() {
            brought |= std::mem::take(&mut open);
            match marker {
                0xd9 => {
                    found.ended = true;
                    break;
                }
                0xc0..=0xc3 | 0xc5..=0xc7 | 0xc9..=0xcb | 0xcd..=0xcf => {
                    progressive = marker == 0xc2;
                    found.block_height = block_height(body);
                }
                0xda => {
                    open = brightness_band(body);
                    walk.skip_scan();
                }
                _ => {}
            }
        }
        if progressive {
            found.coding = Coding::Progressive { detail: brought == u64::MAX };
        }
        found
    }

    /// Whether the end mark was found.
    pub(super) fn ended(self) -> bool {
        self.ended
    }

    /// Given the picture as decoded and not yet turned, `stride` samples a row: how many rows to keep, and what
    /// to say of the rest.
    pub(super) fn missing(
        self,
        samples: &[u8],
        stride: usize,
    ) -> Result<(usize, Option<PhotoNote>), PhotoError> {
        let of = samples.len() / stride.max(1);
        let most = (of as f64 * MOST_MISSING) as usize;
        let missing = self.rows_lost(samples, stride).min(of);
        if self.ended {
            return match missing {
                0 => Ok((of, None)),
                _ if missing <= most => Ok((of - missing, Some(PhotoNote::Damaged { missing, of }))),
                _ => Err(PhotoError::RowsDamaged { missing, of, most }),
            };
        }
        match self.coding {
            _ if missing > most => Err(PhotoError::RowsMissing { missing, of, most }),
            Coding::Baseline => Ok((of - missing, Some(PhotoNote::CutOff { missing, of }))),
            Coding::Progressive { detail: false } => Err(PhotoError::DetailMissing),
            Coding::Progressive { detail: true } => {
                Ok((of - missing, Some(PhotoNote::CutOffWhileSharpening)))
            }
        }
    }

    /// Rows at the bottom that are no picture, with the row of blocks in which it broke off.
    fn rows_lost(self, samples: &[u8], stride: usize) -> usize {
        let rows = || samples.chunks_exact(stride).rev();
        let filled = rows().take_while(|row| row.iter().all(|&v| v == FILLER)).count();
        // A copy that broke off is often padded with zeros: read as data, they make all blocks alike.
        let repeated =
            rows().zip(rows().skip(self.block_height)).take_while(|(row, above)| row == above).count();
        if filled >= self.block_height {
            filled + self.block_height
        } else if self.padded && repeated >= self.block_height {
            repeated + 2 * self.block_height
        } else {
            0
        }
    }
}

/// Height of a row of blocks in px, from the body of a frame header: 8 times the largest vertical sampling.
fn block_height(body: &[u8]) -> usize {
    let components = body.get(6..).unwrap_or_default().chunks_exact(3);
    components.map(|c| 8 * usize::from(c[1] & 0x0f)).max().unwrap_or(8).clamp(8, 32)
}

/// The band of frequencies that a scan brings for the first component, one bit each, from its header's body.
fn brightness_band(body: &[u8]) -> u64 {
    let count = usize::from(body.first().copied().unwrap_or(0));
    // Components are numbered as they like; the first of all is brightness and has the lowest number.
    let brightness = body.get(1).is_some_and(|&id| id <= 1 || id == b'Y' || id == b'R');
    match body.get(1 + 2 * count..) {
        Some(&[first, last, ..]) if brightness && first <= last && last < 64 => {
            (u64::MAX >> (63 - last)) & (u64::MAX << first)
        }
        _ => 0,
    }
}

/// A place among the markers.
struct Walk<'b> {
    bytes: &'b [u8],
    at: usize,
}

impl<'b> Walk<'b> {
    /// The next marker and its body; behind it afterwards.
    fn next(&mut self) -> Option<(u8, &'b [u8])> {
        let marker = self.seek(|marker| !matches!(marker, 0x00 | 0x01 | 0xd0..=0xd8 | 0xff))?;
        if marker == 0xd9 {
            return Some((marker, &[]));
        }
        let length = usize::from(u16::from_be_bytes(*self.bytes.get(self.at..)?.first_chunk::<2>()?));
        let body = self.bytes.get(self.at + 2..self.at + length)?;
        self.at += length;
        Some((marker, body))
    }

    /// Goes on to just before the marker that ends the data of a scan, or to the end.
    fn skip_scan(&mut self) {
        let ends = |marker| matches!(marker, 0xc0..=0xc4 | 0xd9..=0xdd | 0xe0..=0xef | 0xfe);
        self.at = if self.seek(ends).is_some() { self.at - 2 } else { self.bytes.len() };
    }

    /// Goes on to behind the next marker of this kind.
    fn seek(&mut self, wanted: impl Fn(u8) -> bool) -> Option<u8> {
        loop {
            let rest = self.bytes.get(self.at..)?;
            self.at += rest.iter().position(|&b| b == 0xff)? + 1;
            let marker = *self.bytes.get(self.at)?;
            if wanted(marker) {
                self.at += 1;
                return Some(marker);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A frame header (2 x 2 sampling), then scans of brightness over these bands, each with a few bytes of data.
    fn file(frame: u8, bands: &[(u8, u8)]) -> Vec<u8> {
        let mut bytes = vec![0xff, 0xd8, 0xff, frame, 0, 11, 8, 0, 32, 0, 32, 1, 1, 0x22, 0];
        for (first, last) in bands {
            bytes.extend([0xff, 0xda, 0, 8, 1, 1, 0, *first, *last, 0, 0x12, 0xff, 0x00, 0xff, 0xd0, 0x34]);
        }
        bytes
    }

    #[test]
    fn finds_the_end_among_the_data() {
        let whole = [file(0xc0, &[(0, 63)]), vec![0xff, 0xd9, 0, 0, 0xff, 0xda]].concat();
        let markers = Markers::of(&whole);
        assert!(markers.ended && markers.block_height == 16);
        for cut in 0..whole.len() - 5 {
            assert!(!Markers::of(&whole[..cut]).ended, "{cut}");
        }
    }

    #[test]
    fn a_progressive_file_has_detail_when_all_bands_are_whole() {
        let coding = |bands: &[(u8, u8)], end: &[u8]| Markers::of(&[&file(0xc2, bands), end].concat()).coding;
        let sharp = Coding::Progressive { detail: true };
        let blur = Coding::Progressive { detail: false };
        assert_eq!(coding(&[(0, 0), (1, 5), (6, 63)], &[0xff, 0xd9]), sharp);
        assert_eq!(coding(&[(0, 0), (1, 5), (6, 63)], &[]), blur, "the last scan is not known to be whole");
        assert_eq!(coding(&[(0, 0), (1, 5)], &[0xff, 0xd9]), blur);
        assert_eq!(Markers::of(&file(0xc0, &[])).coding, Coding::Baseline);
    }

    #[test]
    fn counts_missing_rows_and_refuses_many() {
        let cut = Markers { ended: false, block_height: 8, coding: Coding::Baseline, padded: false };
        let picture = |real: usize, filled: usize| {
            let mut rows: Vec<u8> = (0..real * 4).map(|v| (v * 7 % 251) as u8).collect();
            rows.extend(vec![FILLER; filled * 4]);
            rows
        };
        assert_eq!(
            cut.missing(&picture(1000, 0), 4),
            Ok((1000, Some(PhotoNote::CutOff { missing: 0, of: 1000 })))
        );
        let note = PhotoNote::CutOff { missing: 24, of: 1000 };
        assert_eq!(cut.missing(&picture(984, 16), 4), Ok((976, Some(note))));
        assert!(matches!(cut.missing(&picture(500, 500), 4), Err(PhotoError::RowsMissing { .. })));
        let ended = Markers { ended: true, ..cut };
        assert_eq!(ended.missing(&picture(1000, 0), 4), Ok((1000, None)));
        assert!(matches!(
            ended.missing(&picture(900, 100), 4),
            Err(PhotoError::RowsDamaged { missing: 108, .. })
        ));
        let blur = Markers { coding: Coding::Progressive { detail: false }, ..cut };
        assert_eq!(blur.missing(&picture(1000, 0), 4), Err(PhotoError::DetailMissing));
    }
}
