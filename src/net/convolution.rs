// What is done with all that a processor can do at once must lie within what asks for it.
#![allow(clippy::inline_always)]

use super::planes::Planes;
use pulp::Arch;
use std::ops::Range;

/// Places of a row, and planes, that are summed at a time: their sums stay in registers. With eight numbers to a register
/// (AVX2) they fill eight of sixteen; with four (any x86-64, any 64 bit ARM) all, and are still faster than fewer.
const RUN: usize = 16;
const TOGETHER: usize = 4;
/// Rows that are summed at a time: what lies under them stays near the processor while all planes are.
const BAND: usize = 8;

/// Sums under a square kernel that moves over planes; beyond their edge there is nothing (0).
#[derive(Debug, Clone, PartialEq)]
pub struct Convolution {
    /// Planes that it sees.
    pub inputs: usize,
    /// Places along a side of the kernel: odd.
    pub kernel: usize,
    /// Places from one sum to the next, in x and in y.
    pub stride: usize,
    /// One for each plane that comes out.
    pub bias: Vec<f32>,
    /// By plane that comes out, plane that is seen, row and column of the kernel.
    pub weights: Vec<f32>,
}

impl Convolution {
    /// How many weights there are between so many planes.
    pub fn weights_of(inputs: usize, outputs: usize, kernel: usize) -> usize {
        inputs * outputs * kernel * kernel
    }

    /// The sums; there must be as many planes as it sees. A part of a stride at the right or bottom counts as a whole.
    ///
    /// Each is added up in one order, and multiplied and added apart: the same bits whatever the processor can do at once.
    pub(super) fn over(&self, seen: &Planes) -> Planes {
        let (width, height) = (seen.width.div_ceil(self.stride), seen.height.div_ceil(self.stride));
        let mut out = Planes::new(self.bias.len(), width, height);
        if out.values.is_empty() {
            return out;
        }
        let packed = self.packed();
        let arch = Arch::new();
        let mut under = Under::new(self, seen);
        for top in (0..height).step_by(BAND) {
            under.fill(seen, top);
            let rows = top..(top + BAND).min(height);
            arch.dispatch(
                #[inline(always)]
                || match (self.kernel, self.stride) {
                    (3, 1) => self.rows::<3, 1>(&packed, &under, rows, &mut out),
                    (3, 2) => self.rows::<3, 2>(&packed, &under, rows, &mut out),
                    _ => self.rows::<0, 0>(&packed, &under, rows, &mut out),
                },
            );
        }
        out
    }

    /// Weights of one plane that comes out.
    fn taps(&self) -> usize {
        self.inputs * self.kernel * self.kernel
    }

    /// The weights in the order in which they are used: of so many planes at a time, those that meet the same place. Planes
    /// that the last lack have 0.
    fn packed(&self) -> Vec<[f32; TOGETHER]> {
        let of = |planes: &[f32], tap| {
            let mut some = [0.0; TOGETHER];
            for (to, plane) in some.iter_mut().zip(planes.chunks_exact(self.taps())) {
                *to = plane[tap];
            }
            some
        };
        let groups = self.weights.chunks(TOGETHER * self.taps());
        groups.flat_map(|planes| (0..self.taps()).map(move |tap| of(planes, tap))).collect()
    }

    /// Some rows of all planes that come out. `K` and `S` are kernel and stride, or 0 for any.
    #[inline(always)]
    fn rows<const K: usize, const S: usize>(
        &self,
        packed: &[[f32; TOGETHER]],
        under: &Under,
        rows: Range<usize>,
        out: &mut Planes,
    ) {
        let (width, size) = (out.width, out.width * out.height);
        let some = self.bias.chunks(TOGETHER).zip(packed.chunks_exact(self.taps()));
        for ((bias, weights), planes) in some.zip(out.values.chunks_mut(TOGETHER * size)) {
            for y in rows.clone() {
                for x in (0..width).step_by(RUN) {
                    let sums = self.run::<K, S>(bias, weights, under, [x, y - rows.start]);
                    let last = RUN.min(width - x);
                    for (sums, plane) in sums.iter().zip(planes.chunks_exact_mut(size)) {
                        plane[y * width + x..][..last].copy_from_slice(&sums[..last]);
                    }
                }
            }
        }
    }

    /// The sums of a run of places.
    #[inline(always)]
    fn run<const K: usize, const S: usize>(
        &self,
        bias: &[f32],
        weights: &[[f32; TOGETHER]],
        under: &Under,
        [x, y]: [usize; 2],
    ) -> [[f32; RUN]; TOGETHER] {
        let (kernel, stride) = if K == 0 { (self.kernel, self.stride) } else { (K, S) };
        let mut sums = std::array::from_fn(|o| [bias.get(o).copied().unwrap_or(0.0); RUN]);
        for (line, weights) in weights.chunks_exact(kernel).enumerate() {
            let row = under.row(line / kernel, y * stride + line % kernel);
            for (kx, weights) in weights.iter().enumerate() {
                if let Some(under) = row[kx % stride * under.reach + x + kx / stride..].first_chunk() {
                    add(&mut sums, under, weights);
                }
            }
        }
        sums
    }
}

/// What lies under one place of the kernel, times the weight that each plane has there.
// Iterators over arrays in arrays are not kept in registers: two and a half times as slow.
#[allow(clippy::needless_range_loop)]
#[inline(always)]
fn add(sums: &mut [[f32; RUN]; TOGETHER], under: &[f32; RUN], weights: &[f32; TOGETHER]) {
    for o in 0..TOGETHER {
        for k in 0..RUN {
            sums[o][k] += weights[o] * under[k];
        }
    }
}

/// What lies under a band of sums: rows of all planes with a frame of zeros around them. Of each row first those numbers that
/// the first place of the kernel meets, then those of the second, as many as the stride has: each run lies in one piece.
struct Under {
    frame: usize,
    stride: usize,
    /// Rows of each plane.
    rows: usize,
    /// Numbers of each part of a row.
    reach: usize,
    values: Vec<f32>,
}

impl Under {
    fn new(sums: &Convolution, seen: &Planes) -> Self {
        let (kernel, stride) = (sums.kernel, sums.stride);
        let rows = (BAND - 1) * stride + kernel;
        let reach = seen.width.div_ceil(stride).next_multiple_of(RUN) + kernel;
        let values = vec![0.0; seen.count() * rows * reach * stride];
        Self { frame: kernel / 2, stride, rows, reach, values }
    }

    /// The rows that the sums from `top` on need.
    fn fill(&mut self, seen: &Planes, top: usize) {
        let to = self.values.chunks_exact_mut(self.reach * self.stride);
        for (i, to) in to.enumerate() {
            let (k, y) = (i / self.rows, (top * self.stride + i % self.rows).checked_sub(self.frame));
            let Some(y) = y.filter(|y| *y < seen.height) else {
                to.fill(0.0);
                continue;
            };
            let row = &seen.plane(k)[y * seen.width..][..seen.width];
            if self.stride == 1 {
                to[self.frame..][..row.len()].copy_from_slice(row);
            } else {
                for (x, v) in row.iter().enumerate() {
                    let x = x + self.frame;
                    to[x % self.stride * self.reach + x / self.stride] = *v;
                }
            }
        }
    }

    #[inline(always)]
    fn row(&self, k: usize, y: usize) -> &[f32] {
        let row = self.reach * self.stride;
        &self.values[(k * self.rows + y) * row..][..row]
    }
}
