use super::patch::{Patch, SIDE, TOLD, patches};
use super::shown::ShownPlace;

/// Layers of a tower: side of a kernel, places from one to the next, kernels. The last is followed by the brightest of
/// two by two.
const TOWER: [(usize, usize, usize); 3] = [(5, 2, 12), (3, 2, 16), (3, 1, 16)];
/// Sums between what towers see and what is told.
const HIDDEN: usize = 32;
/// Measured numbers of a place that are seen beside its pixels.
pub(super) const FEATURES: usize = 10;
/// What is told of a place: the log odds that it is a burst, and the logarithm of its number of rays.
const ANSWERS: usize = 2;

/// Logarithm of the most rays that are told: an answer to pixels unlike all others stays a number (judgement: 33).
const MOST_RAYS: f64 = 3.5;

/// One layer: sums of what it sees by its weights.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// One for each output.
    pub bias: Vec<f32>,
    /// By input (for kernels row, column, what is told of a place), then output.
    pub weights: Vec<f32>,
}

impl Layer {
    /// What it adds up, from sums that are there already.
    fn add(&self, inputs: &[f32], from_input: usize, sums: &mut [f32]) {
        let outputs = self.bias.len();
        for (i, input) in inputs.iter().enumerate() {
            let weights = &self.weights[(from_input + i) * outputs..][..outputs];
            for (sum, weight) in sums.iter_mut().zip(weights) {
                *sum += input * weight;
            }
        }
    }
}

/// A small convolutional network that tells bursts from other places where lines meet, by what lies around them.
///
/// Two towers of three convolutions look at a fine and at a coarse patch; their outputs and some measured numbers of
/// the place go through one hidden layer.
// Y. LeCun, L. Bottou, Y. Bengio and P. Haffner, "Gradient-based learning applied to document recognition", Proc. IEEE 86
// (1998) 2278-2324, section II, with rectified sums in place of sigmoids (from memory).
#[derive(Debug, Clone, PartialEq)]
pub struct BurstNet {
    /// For the fine and the coarse patch.
    pub towers: [[Layer; 3]; 2],
    /// Mean and spread of each measured number.
    pub usual: Vec<[f32; 2]>,
    /// From towers and measured numbers.
    pub hidden: Layer,
    /// From those.
    pub answer: Layer,
}

/// What towers make of a place: sums for the hidden layer.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SeenPlace(Vec<f32>);

impl BurstNet {
    /// How many numbers each layer has, bias and weights: towers' three layers each, then hidden, then answer.
    pub fn shape() -> [(usize, usize); 5] {
        let mut told = TOLD;
        let tower = TOWER.map(|(kernel, _, kernels)| {
            let weights = kernel * kernel * told * kernels;
            told = kernels;
            (kernels, weights)
        });
        [
            tower[0],
            tower[1],
            tower[2],
            (HIDDEN, (2 * out_of_tower() + FEATURES) * HIDDEN),
            (ANSWERS, HIDDEN * ANSWERS),
        ]
    }

    /// Numbers of a place that are measured beside its pixels.
    pub fn features() -> usize {
        FEATURES
    }

    /// Log odds that a place is a burst, and its number of rays, if it is one.
    pub fn tell(&self, place: &ShownPlace) -> (f64, f64) {
        self.judge(&self.see(&patches(&place.light, place.noise)), &place.features)
    }

    /// Looks at a place.
    pub(super) fn see(&self, patches: &[Patch; 2]) -> SeenPlace {
        let mut sums = self.hidden.bias.clone();
        for (which, (tower, patch)) in self.towers.iter().zip(patches).enumerate() {
            self.hidden.add(&climb(tower, patch), which * out_of_tower(), &mut sums);
        }
        SeenPlace(sums)
    }

    /// Log odds that a place is a burst, and its number of rays.
    pub(super) fn judge(&self, seen: &SeenPlace, features: &[f64; FEATURES]) -> (f64, f64) {
        let mut hidden = seen.0.clone();
        let scaled: Vec<f32> =
            features.iter().zip(&self.usual).map(|(f, [mean, spread])| (*f as f32 - mean) / spread).collect();
        self.hidden.add(&scaled, 2 * out_of_tower(), &mut hidden);
        rectify(&mut hidden);
        let mut answer = self.answer.bias.clone();
        self.answer.add(&hidden, 0, &mut answer);
        (f64::from(answer[0]), libm::exp(f64::from(answer[1]).clamp(0.0, MOST_RAYS)))
    }
}

/// Numbers that come out of a tower.
fn out_of_tower() -> usize {
    let side = TOWER.iter().fold(SIDE, |side, (_, stride, _)| side / stride) / 2;
    side * side * TOWER[TOWER.len() - 1].2
}

fn rectify(values: &mut [f32]) {
    for v in values {
        *v = v.max(0.0);
    }
}

fn climb(tower: &[Layer; 3], patch: &Patch) -> Vec<f32> {
    let (mut side, mut told) = (SIDE, TOLD);
    let mut values = patch.clone();
    for (layer, (kernel, stride, kernels)) in tower.iter().zip(TOWER) {
        values = convolve(layer, &values, (side, told), (kernel, stride));
        rectify(&mut values);
        (side, told) = (side / stride, kernels);
    }
    brightest(&values, side, told)
}

/// Sums under a kernel that moves over a square; beyond its edge there is nothing.
fn convolve(
    layer: &Layer,
    values: &[f32],
    (side, told): (usize, usize),
    (kernel, stride): (usize, usize),
) -> Vec<f32> {
    let kernels = layer.bias.len();
    let (out, reach) = (side / stride, kernel / 2);
    let mut sums = Vec::with_capacity(out * out * kernels);
    for (row, column) in (0..out * out).map(|i| (i / out * stride, i % out * stride)) {
        let begin = sums.len();
        sums.extend_from_slice(&layer.bias);
        let inside = |place: usize, k: usize| (place + k).checked_sub(reach).filter(|p| *p < side);
        for ky in 0..kernel {
            let Some(y) = inside(row, ky) else { continue };
            for kx in 0..kernel {
                let Some(x) = inside(column, kx) else { continue };
                let seen = &values[(y * side + x) * told..][..told];
                layer.add(seen, (ky * kernel + kx) * told, &mut sums[begin..]);
            }
        }
    }
    sums
}

/// The largest of two by two.
fn brightest(values: &[f32], side: usize, told: usize) -> Vec<f32> {
    let half = side / 2;
    let mut most = Vec::with_capacity(half * half * told);
    for (row, column) in (0..half * half).map(|i| (i / half * 2, i % half * 2)) {
        for k in 0..told {
            let at = |y: usize, x: usize| values[(y * side + x) * told + k];
            most.push(
                at(row, column)
                    .max(at(row, column + 1))
                    .max(at(row + 1, column))
                    .max(at(row + 1, column + 1)),
            );
        }
    }
    most
}
