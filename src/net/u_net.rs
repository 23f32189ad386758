use super::convolution::Convolution;
use super::planes::Planes;

/// A small U-shaped convolutional network: it looks at planes at halves, quarters and so on of their size, comes back up,
/// and at each size sees again what it saw there on its way down.
///
/// Each step down takes the largest of two by two, then two convolutions; each step up doubles, sets what was seen at
/// that size beside it, and convolves once. Sums are rectified. The last convolution gives the answer at the size of the
/// first.
// O. Ronneberger, P. Fischer and T. Brox, "U-Net: convolutional networks for biomedical image segmentation", MICCAI 2015,
// LNCS 9351, 234-241, with nearest neighbours instead of learned steps up (from memory).
#[derive(Debug, Clone, PartialEq)]
pub struct UNet {
    /// At the size of the answer, one after the other.
    pub first: [Convolution; 2],
    /// From large to small.
    pub down: Vec<[Convolution; 2]>,
    /// From small to large: as many as go down.
    pub up: Vec<Convolution>,
    /// What is told of each place.
    pub answer: Convolution,
}

impl UNet {
    /// What it says of each place; of each `stride` by `stride` places of the first convolution.
    pub fn over(&self, seen: &Planes) -> Planes {
        let stride = self.first[0].stride;
        let (width, height) = (seen.width.div_ceil(stride), seen.height.div_ceil(stride));
        let whole = stride << self.down.len();
        let even = |v: usize| v.next_multiple_of(whole);
        let mut now = twice(&self.first, &seen.resized(even(seen.width), even(seen.height)));
        let mut passed = Vec::with_capacity(self.down.len());
        for down in &self.down {
            let half = now.halved();
            passed.push(now);
            now = twice(down, &half);
        }
        for (up, beside) in self.up.iter().zip(passed.iter().rev()) {
            now = up.over(&now.doubled().with(beside)).rectified();
        }
        self.answer.over(&now).resized(width, height)
    }
}

fn twice([first, second]: &[Convolution; 2], seen: &Planes) -> Planes {
    second.over(&first.over(seen).rectified()).rectified()
}
