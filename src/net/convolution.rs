use super::planes::Planes;

// A run of places of two planes at a time: eight registers of four numbers, which every x86-64 and every 64 bit ARM has to
// spare. Nothing asks what more a processor can do: the same bits on every machine.
const RUN: usize = 16;
const TOGETHER: usize = 2;

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
    pub(super) fn over(&self, seen: &Planes) -> Planes {
        let (width, height) = (seen.width.div_ceil(self.stride), seen.height.div_ceil(self.stride));
        let mut out = Planes::new(self.bias.len(), width, height);
        if width * height == 0 {
            return out;
        }
        let reach = self.stride * width.next_multiple_of(RUN) + self.kernel;
        let framed = Framed::of(seen, self.kernel / 2, reach);
        let of_one = self.inputs * self.kernel * self.kernel;
        let some = self.bias.chunks(TOGETHER).zip(self.weights.chunks(TOGETHER * of_one));
        for ((bias, weights), planes) in some.zip(out.values.chunks_mut(TOGETHER * width * height)) {
            match (bias, self.kernel, self.stride) {
                ([a, b], 3, 1) => self.together::<2, true>([*a, *b], weights, &framed, planes, width),
                ([a, b], ..) => self.together::<2, false>([*a, *b], weights, &framed, planes, width),
                ([a], ..) => self.together::<1, false>([*a], weights, &framed, planes, width),
                _ => {}
            }
        }
        out
    }

    /// So many planes that come out; whether it is the usual kernel, three by three in steps of one.
    fn together<const N: usize, const USUAL: bool>(
        &self,
        bias: [f32; N],
        weights: &[f32],
        seen: &Framed,
        out: &mut [f32],
        width: usize,
    ) {
        let size = out.len() / N;
        for y in 0..size / width {
            for x in (0..width).step_by(RUN) {
                let sums = self.run::<N, USUAL>(bias, weights, seen, [x, y]);
                let last = RUN.min(width - x);
                for (sums, plane) in sums.iter().zip(out.chunks_exact_mut(size)) {
                    plane[y * width + x..][..last].copy_from_slice(&sums[..last]);
                }
            }
        }
    }

    /// The sums of a run of places: few enough to stay in registers, as long as everything is added to them.
    #[inline]
    fn run<const N: usize, const USUAL: bool>(
        &self,
        bias: [f32; N],
        weights: &[f32],
        seen: &Framed,
        [x, y]: [usize; 2],
    ) -> [[f32; RUN]; N] {
        let (kernel, stride) = if USUAL { (3, 1) } else { (self.kernel, self.stride) };
        let of_one = weights.len() / N;
        let mut sums = bias.map(|b| [b; RUN]);
        for i in 0..self.inputs {
            for ky in 0..kernel {
                let row = &seen.row(i, y * stride + ky)[x * stride..][..(RUN - 1) * stride + kernel];
                for kx in 0..kernel {
                    let at = (i * kernel + ky) * kernel + kx;
                    match row[kx..].first_chunk() {
                        Some(under) if USUAL => add(&mut sums, under, &weights[at..], of_one),
                        _ => add(&mut sums, &apart(&row[kx..], stride), &weights[at..], of_one),
                    }
                }
            }
        }
        sums
    }
}

/// Every so manieth number.
#[inline]
fn apart(row: &[f32], stride: usize) -> [f32; RUN] {
    let mut some = [0.0; RUN];
    for (to, v) in some.iter_mut().zip(row.iter().step_by(stride)) {
        *to = *v;
    }
    some
}

/// What lies under one place of the kernel, times the weight that each plane has there.
// Iterators over arrays in arrays are not kept in registers: two and a half times as slow.
#[allow(clippy::needless_range_loop)]
#[inline]
fn add<const N: usize>(sums: &mut [[f32; RUN]; N], under: &[f32; RUN], weights: &[f32], of_one: usize) {
    for o in 0..N {
        let weight = weights[o * of_one];
        for k in 0..RUN {
            sums[o][k] += weight * under[k];
        }
    }
}

/// Planes with a frame of zeros.
struct Framed {
    width: usize,
    height: usize,
    values: Vec<f32>,
}

impl Framed {
    /// At least so wide.
    fn of(planes: &Planes, frame: usize, width: usize) -> Self {
        let (width, height) = (width.max(planes.width + 2 * frame), planes.height + 2 * frame);
        let mut values = vec![0.0; planes.count() * width * height];
        for k in 0..planes.count() {
            for (y, row) in planes.plane(k).chunks_exact(planes.width.max(1)).enumerate() {
                values[(k * height + y + frame) * width + frame..][..planes.width].copy_from_slice(row);
            }
        }
        Self { width, height, values }
    }

    fn row(&self, k: usize, y: usize) -> &[f32] {
        &self.values[(k * self.height + y) * self.width..][..self.width]
    }
}
