//! Turning a picture upright.

use image::metadata::Orientation;

/// How a stored picture becomes upright: rows and columns swapped, then mirrored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Turn {
    transpose: bool,
    mirror_x: bool,
    mirror_y: bool,
}

impl Turn {
    /// What EXIF's Orientation asks for (EXIF 2.3, CIPA DC-008-2012, tag 274; from memory).
    pub(super) fn of(orientation: Orientation) -> Self {
        let turn = |transpose, mirror_x, mirror_y| Self { transpose, mirror_x, mirror_y };
        match orientation {
            Orientation::NoTransforms => turn(false, false, false),
            Orientation::FlipHorizontal => turn(false, true, false),
            Orientation::Rotate180 => turn(false, true, true),
            Orientation::FlipVertical => turn(false, false, true),
            Orientation::Rotate90FlipH => turn(true, false, false),
            Orientation::Rotate90 => turn(true, true, false),
            Orientation::Rotate270FlipH => turn(true, true, true),
            Orientation::Rotate270 => turn(true, false, true),
        }
    }

    /// Width and height after turning.
    pub(super) fn size(self, width: usize, height: usize) -> (usize, usize) {
        if self.transpose { (height, width) } else { (width, height) }
    }

    /// The samples turned; `width` is that of the stored picture, `N` the samples of a pixel.
    pub(super) fn apply<T: Copy + Default, const N: usize>(
        self,
        mut samples: Vec<T>,
        width: usize,
    ) -> Vec<T> {
        let mut row = width;
        if self.transpose {
            row = samples.len() / N / width.max(1);
            samples = transposed::<T, N>(&samples, width, row);
        }
        let (pixels, _) = samples.as_chunks_mut::<N>();
        match (self.mirror_x, self.mirror_y) {
            (false, false) => {}
            (true, true) => pixels.reverse(),
            (true, false) => pixels.chunks_exact_mut(row.max(1)).for_each(<[_]>::reverse),
            (false, true) => {
                let mut rows = pixels.chunks_exact_mut(row.max(1));
                while let (Some(top), Some(bottom)) = (rows.next(), rows.next_back()) {
                    top.swap_with_slice(bottom);
                }
            }
        }
        samples
    }
}

/// Rows become columns. In blocks, so that both sides stay in the cache.
fn transposed<T: Copy + Default, const N: usize>(samples: &[T], width: usize, height: usize) -> Vec<T> {
    const BLOCK: usize = 32;
    let mut out = vec![T::default(); samples.len()];
    let (from, _) = samples.as_chunks::<N>();
    let (to, _) = out.as_chunks_mut::<N>();
    for top in (0..height).step_by(BLOCK) {
        for left in (0..width).step_by(BLOCK) {
            for y in top..(top + BLOCK).min(height) {
                for x in left..(left + BLOCK).min(width) {
                    to[x * height + y] = from[y * width + x];
                }
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The figure of EXIF 2.3's table: where row 0 and column 0 of the stored picture are seen.
    #[test]
    fn turns_a_picture_of_two_by_three() {
        let turned = |orientation| {
            let turn = Turn::of(orientation);
            (turn.size(2, 3), turn.apply::<u8, 1>(vec![1, 2, 3, 4, 5, 6], 2))
        };
        assert_eq!(turned(Orientation::NoTransforms), ((2, 3), vec![1, 2, 3, 4, 5, 6]));
        assert_eq!(turned(Orientation::FlipHorizontal), ((2, 3), vec![2, 1, 4, 3, 6, 5]));
        assert_eq!(turned(Orientation::Rotate180), ((2, 3), vec![6, 5, 4, 3, 2, 1]));
        assert_eq!(turned(Orientation::FlipVertical), ((2, 3), vec![5, 6, 3, 4, 1, 2]));
        assert_eq!(turned(Orientation::Rotate90FlipH), ((3, 2), vec![1, 3, 5, 2, 4, 6]));
        assert_eq!(turned(Orientation::Rotate90), ((3, 2), vec![5, 3, 1, 6, 4, 2]));
        assert_eq!(turned(Orientation::Rotate270FlipH), ((3, 2), vec![6, 4, 2, 5, 3, 1]));
        assert_eq!(turned(Orientation::Rotate270), ((3, 2), vec![2, 4, 6, 1, 3, 5]));
    }

    #[test]
    fn keeps_pixels_together() {
        let turned = Turn::of(Orientation::Rotate90).apply::<u16, 3>(vec![1, 2, 3, 4, 5, 6], 1);
        assert_eq!(turned, [4, 5, 6, 1, 2, 3]);
    }
}
