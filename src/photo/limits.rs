use super::PhotoError;

/// What a photo may be. The defaults fit phones and cameras and keep a hostile file from eating memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Least pixels: fewer cannot show single sparks.
    pub least_pixels: u64,
    /// Most pixels.
    pub most_pixels: u64,
    /// Longest side, px.
    pub longest_side: u32,
    /// Size of the file, bytes.
    pub most_bytes: u64,
    /// Memory for the pixels as decoded, before opacity is dropped, bytes.
    pub most_memory: u64,
}

impl Default for Limits {
    /// 0.3 to 50 MP, 20,000 px a side, files of 200 MB, 512 MiB of pixels: judgement. A 50 MP picture of four
    /// 16-bit channels takes 400 MB.
    fn default() -> Self {
        Self {
            least_pixels: 300_000,
            most_pixels: 50_500_000,
            longest_side: 20_000,
            most_bytes: 200_000_000,
            most_memory: 512 << 20,
        }
    }
}

impl Limits {
    /// Checks the size of a file in bytes, before it is read.
    pub fn check_bytes(&self, got: u64) -> Result<(), PhotoError> {
        if got == 0 {
            return Err(PhotoError::Empty);
        }
        if got > self.most_bytes {
            return Err(PhotoError::FileTooLarge { got, most: self.most_bytes });
        }
        Ok(())
    }

    /// Checks width and height in px, before anything is decoded.
    pub fn check_size(&self, width: u32, height: u32) -> Result<(), PhotoError> {
        let pixels = u64::from(width) * u64::from(height);
        if width.max(height) > self.longest_side {
            return Err(PhotoError::SideTooLong { width, height, most: self.longest_side });
        }
        if pixels > self.most_pixels {
            return Err(PhotoError::TooManyPixels { width, height, most: self.most_pixels });
        }
        if pixels < self.least_pixels {
            return Err(PhotoError::TooFewPixels { width, height, least: self.least_pixels });
        }
        Ok(())
    }

    /// Checks what the pixels need as decoded, in bytes.
    pub(super) fn check_memory(&self, got: u64) -> Result<(), PhotoError> {
        if got > self.most_memory {
            return Err(PhotoError::TooMuchMemory { got, most: self.most_memory });
        }
        Ok(())
    }
}
