use super::planes::Planes;

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
        let framed = Framed::of(seen, self.kernel / 2);
        let (width, height) = (seen.width.div_ceil(self.stride), seen.height.div_ceil(self.stride));
        let mut out = Planes::new(self.bias.len(), width, height);
        if width * height == 0 {
            return out;
        }
        let of_one = self.inputs * self.kernel * self.kernel;
        let planes = out.values.chunks_exact_mut(width * height).zip(&self.bias);
        for ((plane, bias), weights) in planes.zip(self.weights.chunks_exact(of_one)) {
            plane.fill(*bias);
            for (y, sums) in plane.chunks_exact_mut(width).enumerate() {
                for (i, kernel) in weights.chunks_exact(self.kernel * self.kernel).enumerate() {
                    for (ky, taps) in kernel.chunks_exact(self.kernel).enumerate() {
                        add(sums, framed.row(i, y * self.stride + ky), taps, self.stride);
                    }
                }
            }
        }
        out
    }
}

/// Adds to each sum what lies under one row of the kernel.
fn add(sums: &mut [f32], row: &[f32], taps: &[f32], stride: usize) {
    match (taps, stride) {
        // three at a time: sums are fetched once
        ([a, b, c], 1) => {
            for (sum, v) in sums.iter_mut().zip(row.windows(3)) {
                *sum += a * v[0] + b * v[1] + c * v[2];
            }
        }
        _ => {
            for (kx, tap) in taps.iter().enumerate() {
                for (sum, v) in sums.iter_mut().zip(row[kx..].iter().step_by(stride)) {
                    *sum += tap * v;
                }
            }
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
    fn of(planes: &Planes, frame: usize) -> Self {
        let (width, height) = (planes.width + 2 * frame, planes.height + 2 * frame);
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
