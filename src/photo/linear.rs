//! Linear light out of encoded samples.

use super::{Channels, Picture, Samples};
use std::ops::Range;
use std::sync::LazyLock;

/// By how many pixels a side a picture is shrunk: 1 to 8.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Shrink(usize);

impl Shrink {
    /// Not at all.
    pub const NONE: Self = Self(1);
    /// Half width, half height.
    pub const HALF: Self = Self(2);

    /// By `factor` px a side; `None` unless 1 to 8.
    pub fn by(factor: usize) -> Option<Self> {
        (1..=8).contains(&factor).then_some(Self(factor))
    }

    /// Pixels of the picture along one side of a cell: 1 to 8.
    pub fn factor(self) -> usize {
        self.0
    }
}

/// Share of red, green and blue in luminance.
/// Source: IEC 61966-2-1:1999 (sRGB), primaries of ITU-R BT.709; from memory, unit 1, they sum to 1.
const LUMINANCE: [f32; 3] = [0.2126, 0.7152, 0.0722];

/// Linear light, 0 to 1, of an encoded value, 0 to 1.
/// Source: IEC 61966-2-1:1999, 5.2: linear below 0.04045, else ((v + 0.055) / 1.055)^2.4; from memory.
fn to_linear(encoded: f64) -> f64 {
    if encoded <= 0.040_45 { encoded / 12.92 } else { libm::pow((encoded + 0.055) / 1.055, 2.4) }
}

/// Linear light of each 8-bit value.
static EIGHT: LazyLock<[f32; 256]> =
    LazyLock::new(|| std::array::from_fn(|v| to_linear(v as f64 / 255.0) as f32));
/// Linear light of each 16-bit value: 256 KiB, made when the first 16-bit picture is read.
static SIXTEEN: LazyLock<Vec<f32>> =
    LazyLock::new(|| (0..=u16::MAX).map(|v| to_linear(f64::from(v) / 65535.0) as f32).collect());

/// A picture in linear light, where equal steps are equal amounts of light: 0 is none, 1 the brightest that
/// the picture can hold. Shrunk by averaging cells of [`Shrink::factor`] px a side, in linear light; pixels
/// at the right and the bottom that fill no whole cell are left out. Nothing is computed until rows are asked for.
///
/// The middle of cell `(x, y)` lies at pixel `(x + 0.5) * factor - 0.5`, likewise for `y`, where whole
/// numbers are the middles of pixels.
#[derive(Debug, Clone, Copy)]
pub struct Linear<'p> {
    picture: &'p Picture,
    factor: usize,
}

impl<'p> Linear<'p> {
    pub(super) fn of(picture: &'p Picture, shrink: Shrink) -> Self {
        Self { picture, factor: shrink.factor() }
    }

    /// Width in cells.
    pub fn width(&self) -> usize {
        self.picture.width() / self.factor
    }

    /// Height in cells.
    pub fn height(&self) -> usize {
        self.picture.height() / self.factor
    }

    /// Relative luminance, 0 to 1, of these rows of cells: `width * rows` values. Rows past the last are left out.
    pub fn luminance(&self, rows: Range<usize>) -> Vec<f32> {
        let mut out = Vec::with_capacity(self.rows(&rows).len() * self.width());
        let of = |[r, g, b]: &[f32; 3]| LUMINANCE[0] * r + LUMINANCE[1] * g + LUMINANCE[2] * b;
        match self.picture.channels() {
            Channels::Grey => self.each::<1>(rows, |row| out.extend(row.as_flattened())),
            Channels::Rgb => self.each::<3>(rows, |row| out.extend(row.iter().map(of))),
        }
        out
    }

    /// Red, green and blue, each 0 to 1, of these rows of cells: `width * rows` values each. Grey pictures give
    /// the same three times. Rows past the last are left out.
    pub fn rgb(&self, rows: Range<usize>) -> [Vec<f32>; 3] {
        let size = self.rows(&rows).len() * self.width();
        let mut out = std::array::from_fn(|_| Vec::with_capacity(size));
        match self.picture.channels() {
            Channels::Grey => self.each::<1>(rows, |row| {
                for plane in &mut out {
                    plane.extend(row.as_flattened());
                }
            }),
            Channels::Rgb => self.each::<3>(rows, |row| {
                for (k, plane) in out.iter_mut().enumerate() {
                    plane.extend(row.iter().map(|cell| cell[k]));
                }
            }),
        }
        out
    }

    fn rows(&self, rows: &Range<usize>) -> Range<usize> {
        rows.start.min(self.height())..rows.end.min(self.height())
    }

    /// Gives the mean of each cell, a row at a time; `N` is the picture's count of channels.
    fn each<const N: usize>(&self, rows: Range<usize>, into: impl FnMut(&[[f32; N]])) {
        match self.picture.samples() {
            Samples::Eight(samples) => {
                let table: &[f32; 256] = &EIGHT;
                self.cells(samples, |v| table[usize::from(v)], rows, into);
            }
            Samples::Sixteen(samples) => {
                let table = SIXTEEN.as_slice();
                self.cells(samples, |v| table.get(usize::from(v)).copied().unwrap_or(1.0), rows, into);
            }
        }
    }

    fn cells<T: Copy, const N: usize>(
        &self,
        samples: &[T],
        light: impl Fn(T) -> f32,
        rows: Range<usize>,
        into: impl FnMut(&[[f32; N]]),
    ) {
        // The compiler unrolls the factors it knows: two to three times as fast.
        match self.factor {
            1 => self.averaged::<T, N, 1>(samples, light, rows, into),
            2 => self.averaged::<T, N, 2>(samples, light, rows, into),
            3 => self.averaged::<T, N, 3>(samples, light, rows, into),
            4 => self.averaged::<T, N, 4>(samples, light, rows, into),
            _ => self.averaged::<T, N, 0>(samples, light, rows, into),
        }
    }

    /// `F` is the factor, or 0 for any.
    fn averaged<T: Copy, const N: usize, const F: usize>(
        &self,
        samples: &[T],
        light: impl Fn(T) -> f32,
        rows: Range<usize>,
        mut into: impl FnMut(&[[f32; N]]),
    ) {
        let factor = if F == 0 { self.factor } else { F };
        let stride = self.picture.width() * N;
        let share = 1.0 / (factor * factor) as f32;
        let mut sums = vec![[0.0_f32; N]; self.width()];
        for row in self.rows(&rows) {
            sums.fill([0.0; N]);
            for line in samples.chunks_exact(stride).skip(row * factor).take(factor) {
                for (sum, cell) in sums.iter_mut().zip(line.chunks_exact(N * factor)) {
                    let mut of_line = [0.0; N];
                    for pixel in cell.chunks_exact(N) {
                        for (s, &v) in of_line.iter_mut().zip(pixel) {
                            *s += light(v);
                        }
                    }
                    for (s, v) in sum.iter_mut().zip(of_line) {
                        *s += v;
                    }
                }
            }
            for v in sums.as_flattened_mut() {
                *v *= share;
            }
            into(&sums);
        }
    }
}
