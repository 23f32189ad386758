use super::{Linear, Shrink};

/// Samples of a picture, row by row from the top left, the channels of a pixel side by side, as encoded in the
/// file (sRGB transfer function, not linear light).
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Samples {
    /// 0 to 255.
    Eight(Vec<u8>),
    /// 0 to 65535.
    Sixteen(Vec<u16>),
}

impl Samples {
    /// How many samples there are.
    pub fn len(&self) -> usize {
        match self {
            Self::Eight(samples) => samples.len(),
            Self::Sixteen(samples) => samples.len(),
        }
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}

/// What a pixel holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Channels {
    /// One sample: brightness.
    Grey,
    /// Three samples: red, green, blue.
    Rgb,
}

impl Channels {
    /// Samples of one pixel: 1 or 3.
    pub fn count(self) -> usize {
        match self {
            Self::Grey => 1,
            Self::Rgb => 3,
        }
    }
}

/// A picture as it is meant to be seen: turned upright, without opacity. At least one pixel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    width: usize,
    height: usize,
    channels: Channels,
    samples: Samples,
}

impl Picture {
    /// A picture of `width` by `height` px; `None` unless there are exactly as many samples as that needs.
    pub fn new(width: usize, height: usize, channels: Channels, samples: Samples) -> Option<Self> {
        let needed = width.checked_mul(height)?.checked_mul(channels.count())?;
        (needed > 0 && needed == samples.len()).then_some(Self { width, height, channels, samples })
    }

    /// Width, px.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Height, px.
    pub fn height(&self) -> usize {
        self.height
    }

    /// Grey or colour.
    pub fn channels(&self) -> Channels {
        self.channels
    }

    /// The samples as encoded, `width * height * channels` of them. Whole pixels at the top of their scale
    /// (255 or 65535) are clipped.
    pub fn samples(&self) -> &Samples {
        &self.samples
    }

    /// The picture in linear light, shrunk by `shrink`.
    pub fn linear(&self, shrink: Shrink) -> Linear<'_> {
        Linear::of(self, shrink)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_exactly_its_samples() {
        let made = |width, height, count| {
            Picture::new(width, height, Channels::Rgb, Samples::Eight(vec![0; count])).is_some()
        };
        assert!(made(2, 3, 18));
        assert!(!made(2, 3, 17) && !made(2, 3, 19) && !made(0, 3, 0));
        assert!(!made(usize::MAX, 2, 0), "the product must not wrap");
    }
}
