use super::look::{KINDS, Look};

/// A handful of usual looks of a region: means with a spread for each number.
#[derive(Clone)]
pub(in crate::fracture::measured) struct Shades {
    groups: Vec<Group>,
    shadows: bool,
}

#[derive(Clone, Copy)]
struct Group {
    mean: [f64; KINDS],
    /// One over the variance of each number.
    weight: [f64; KINDS],
    /// Logarithm of share over spread: the density at the mean.
    peak: f64,
}

/// Pixels that are enough to know a region by.
const MOST_SEEN: usize = 4000;
/// A shadow takes no more light than this (natural logarithm), and what it costs to call a place shadowed (judgement).
const DEEPEST: f64 = -1.8;
const SHADOW: f64 = 4.0;
/// Least spread of light, shades and texture: what no picture tells apart (judgement).
const LEAST: [f64; KINDS] = [0.06, 0.006, 0.006, 0.12];

impl Shades {
    /// Of pixels with weights: groups start at even steps of light and gather what is nearest (k-means, then one
    /// soft step).
    pub(in crate::fracture::measured) fn of(look: &Look, members: &[usize], count: usize) -> Option<Self> {
        if members.len() < 8 * count {
            return None;
        }
        let members: Vec<usize> =
            members.iter().copied().step_by(members.len().div_ceil(MOST_SEEN)).collect();
        let mut sorted = members.clone();
        sorted.sort_by(|a, b| look.planes[0].values[*a].total_cmp(&look.planes[0].values[*b]));
        let mut means: Vec<[f64; KINDS]> = (0..count)
            .map(|k| look.features(sorted[(2 * k + 1) * sorted.len() / (2 * count)]).map(f64::from))
            .collect();
        let scale = LEAST.map(|v| 1.0 / v);
        let mut groups = Vec::new();
        for _ in 0..8 {
            let mut sums = vec![(0.0, [0.0; KINDS], [0.0; KINDS]); count];
            for &i in &members {
                let f = look.features(i).map(f64::from);
                let near = (0..count)
                    .min_by(|a, b| far(&f, &means[*a], &scale).total_cmp(&far(&f, &means[*b], &scale)));
                let (n, first, second) = &mut sums[near.unwrap_or(0)];
                *n += 1.0;
                for k in 0..KINDS {
                    first[k] += f[k];
                    second[k] += f[k] * f[k];
                }
            }
            groups.clear();
            for ((n, first, second), mean) in sums.iter().zip(&mut means) {
                if *n < 4.0 {
                    continue;
                }
                let m: [f64; KINDS] = std::array::from_fn(|k| first[k] / n);
                let var: [f64; KINDS] =
                    std::array::from_fn(|k| (second[k] / n - m[k] * m[k]).max(LEAST[k] * LEAST[k]));
                *mean = m;
                let spread: f64 = var.iter().map(|v| libm::log(*v)).sum();
                let peak = libm::log(n / members.len() as f64) - 0.5 * spread;
                groups.push(Group { mean: m, weight: var.map(|v| 1.0 / v), peak });
            }
        }
        Some(Self { groups, shadows: false })
    }

    /// The same, where a shadow may lie on it: darker with the same shades and texture.
    pub(in crate::fracture::measured) fn with_shadows(mut self) -> Self {
        self.shadows = true;
        self
    }

    /// Logarithm of the density of a look.
    pub(in crate::fracture::measured) fn log_density(&self, f: &[f32; KINDS]) -> f64 {
        self.groups
            .iter()
            .map(|g| {
                let mut squares = 0.0;
                for (k, ((v, mean), weight)) in f.iter().zip(&g.mean).zip(&g.weight).enumerate() {
                    let d = f64::from(*v) - mean;
                    let square = d * d * weight;
                    let shaded = k == 0 && self.shadows && (DEEPEST..0.0).contains(&d);
                    squares += if shaded { square.min(SHADOW) } else { square };
                }
                g.peak - 0.5 * squares
            })
            .fold(f64::NEG_INFINITY, f64::max)
    }
}

fn far(a: &[f64; KINDS], b: &[f64; KINDS], scale: &[f64; KINDS]) -> f64 {
    (0..KINDS).map(|k| ((a[k] - b[k]) * scale[k]).powi(2)).sum()
}
