use super::border::Border;
use super::split::{Split, readable};
use super::strip::Strip;

/// Depths at which a border is first tried, shares of the way to the middle.
const FIRST: [f64; 6] = [0.06, 0.1, 0.16, 0.25, 0.4, 0.6];
/// A first depth beyond this counts as deep.
const DEEP: f64 = 0.3;
/// How often the looks of case and core and the border between them are fitted in turn, at most.
const ROUNDS: usize = 6;
/// Borders that lie no farther apart than this, rows on the mean, are one.
const SAME: f64 = 0.7;
/// How far a border moves over a length along the side, share of it (judgement).
const SLOPE: f64 = 0.10;
/// Regions that are this far apart are plain: more adds nothing (judgement).
const PLAIN: f64 = 1.5;
/// Cells farther apart than this count as strangers.
const LAGS: usize = 10;

/// Case and core told apart on one face.
pub(super) struct Regions {
    /// What each looks like.
    pub(super) split: Split,
    /// The border along each side.
    pub(super) borders: Vec<Border>,
    /// How plainly cells of case and of core speak for their own region, natural logarithm: the mean of the less plain.
    pub(super) apart: f64,
    /// How much better two regions describe the face than one, natural logarithm.
    pub(super) gain: f64,
}

impl Regions {
    /// What makes one reading of a face better than another.
    fn score(&self) -> f64 {
        self.gain * self.apart.clamp(0.0, PLAIN).powi(2)
    }

    /// Rows between the borders of two readings, on the mean.
    fn far(&self, other: &Self) -> f64 {
        let each = |(a, b): (&Border, &Border)| -> Vec<f64> {
            (0..a.columns()).map(|c| (a.quantile(c, 0.5) - b.quantile(c, 0.5)).abs()).collect()
        };
        let all: Vec<f64> = self.borders.iter().zip(&other.borders).flat_map(each).collect();
        all.iter().sum::<f64>() / all.len().max(1) as f64
    }
}

/// For each column of each side the rows before which all is case and after which all is core.
type Between = Vec<Vec<[f64; 2]>>;

/// The best reading from many beginnings: a case all round, on one side, on all but one; shallow and deep.
pub(super) fn searched(strips: &[Strip]) -> Option<Regions> {
    let mut tried: Vec<(f64, First)> =
        beginnings().into_iter().filter_map(|set| Some((first_gain(strips, &set)?, set))).collect();
    tried.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut kinds: Vec<(usize, bool)> = Vec::new();
    let mut found: Vec<Regions> = Vec::new();
    for (_, set) in tried {
        let deep = set.iter().copied().fold(0.0, f64::max) > DEEP;
        let kind = (set.iter().filter(|q| **q > 0.0).count(), deep);
        if !kinds.contains(&kind) {
            kinds.push(kind);
            found.extend(fitted(strips, &set, &found));
        }
    }
    found.into_iter().max_by(|a, b| a.score().total_cmp(&b.score()))
}

/// First depths of four parts of the outline: the sides, or the quarters of a round one.
type First = [f64; 4];

fn beginnings() -> Vec<First> {
    let mut sets = Vec::new();
    for depth in FIRST {
        sets.push([depth; 4]);
        for part in 0..4 {
            sets.push(std::array::from_fn(|p| if p == part { depth } else { 0.0 }));
            sets.push(std::array::from_fn(|p| if p == part { 0.0 } else { depth }));
            // two beside each other
            sets.push(std::array::from_fn(|p| if p == part || p == (part + 1) % 4 { depth } else { 0.0 }));
        }
    }
    sets
}

fn between(strips: &[Strip], set: &First) -> Between {
    let of = |(side, strip): (usize, &Strip)| {
        let part = |column: usize| if strips.len() == 1 { 4 * column / strip.columns } else { side };
        (0..strip.columns)
            .map(|column| {
                let rows = set[part(column).min(3)] * strip.rows as f64;
                [0.85 * rows, 1.15 * rows]
            })
            .collect()
    };
    strips.iter().enumerate().map(of).collect()
}

/// 0 for case, 1 for core, `None` between them.
fn region([low, high]: [f64; 2], row: usize) -> Option<usize> {
    let row = row as f64 + 0.5;
    if row < low {
        Some(0)
    } else if row > high {
        Some(1)
    } else {
        None
    }
}

fn split(strips: &[Strip], depth: &Between, every: usize) -> Option<Split> {
    Split::of(readable(strips).filter(|(_, c, ..)| c % every == 0).map(|(s, c, r, cell)| {
        let k = region(depth[s][c], r);
        (cell, [f64::from(u8::from(k == Some(0))), f64::from(u8::from(k == Some(1)))])
    }))
}

fn first_gain(strips: &[Strip], set: &First) -> Option<f64> {
    split(strips, &between(strips, set), 3).map(|s| s.gain)
}

/// Looks and border fitted in turn; `None` if that leads nowhere, or to one of `known`.
fn fitted(strips: &[Strip], set: &First, known: &[Regions]) -> Option<Regions> {
    let mut depth = between(strips, set);
    let mut last: Option<Regions> = None;
    for _ in 0..ROUNDS {
        let split = split(strips, &depth, 1)?;
        let says: Vec<Vec<f32>> = strips.iter().map(|s| says(s, &split)).collect();
        let own = own_share(strips, &says, &depth);
        let borders: Vec<Border> =
            strips.iter().zip(&says).map(|(s, says)| border(s, says, own, strips.len() == 1)).collect();
        depth = borders
            .iter()
            .map(|b| (0..b.columns()).map(|c| [b.quantile(c, 0.1) - 0.5, b.quantile(c, 0.9) + 0.5]).collect())
            .collect();
        let (apart, cells) = apart(strips, &says, &depth);
        let now = Regions { gain: split.gain * cells * own, split, borders, apart };
        let still = last.as_ref().is_some_and(|l| l.far(&now) < SAME);
        if last.is_some() && known.iter().any(|k| k.far(&now) < SAME) {
            return None;
        }
        last = Some(now);
        if still {
            break;
        }
    }
    last
}

/// How much each cell favours case, column by column; `NAN` where it cannot be read.
fn says(strip: &Strip, split: &Split) -> Vec<f32> {
    strip.cells.iter().map(|c| c.as_ref().map_or(f32::NAN, |c| split.favours_case(c) as f32)).collect()
}

fn border(strip: &Strip, says: &[f32], own: f64, ring: bool) -> Border {
    let change = SLOPE * strip.cell[0] / strip.cell[1];
    Border::of(strip.columns, strip.rows, change, ring, |c, r| {
        let v = f64::from(says[c * strip.rows + r]);
        if v.is_nan() { 0.0 } else { own * v }
    })
}

/// How plainly the less plain region's cells speak for it, and how many cells can be read.
fn apart(strips: &[Strip], says: &[Vec<f32>], depth: &Between) -> (f64, f64) {
    let mut sums = [[0.0; 2]; 2];
    let mut cells = 0.0;
    for ((strip, says), depth) in strips.iter().zip(says).zip(depth) {
        for (c, says) in says.chunks_exact(strip.rows).enumerate() {
            for (r, v) in says.iter().enumerate().filter(|(_, v)| !v.is_nan()) {
                cells += 1.0;
                if let Some(k) = region(depth[c], r) {
                    sums[k][0] += 1.0;
                    sums[k][1] += if k == 0 { f64::from(*v) } else { -f64::from(*v) };
                }
            }
        }
    }
    let mean = |s: &[f64; 2]| if s[0] > 0.0 { s[1] / s[0] } else { 0.0 };
    (mean(&sums[0]).min(mean(&sums[1])), cells)
}

/// Share of a cell's word that is its own: neighbours inside one region repeat each other. By the sum of the
/// correlations along and across the side.
/// Source: variance of a mean of a stationary series, Priestley, Spectral Analysis and Time Series, 1981, 5.3.2
/// (from memory).
fn own_share(strips: &[Strip], says: &[Vec<f32>], depth: &Between) -> f64 {
    let mut sums = [[[0.0_f64; 2]; LAGS + 1]; 2];
    for ((strip, says), depth) in strips.iter().zip(says).zip(depth) {
        let rows = strip.rows;
        let at = |c: usize, r: usize| {
            let v = says[c * rows + r];
            region(depth[c], r).filter(|_| !v.is_nan()).map(|k| (k, f64::from(v)))
        };
        let mut mean = [[0.0_f64; 2]; 2];
        for c in 0..strip.columns {
            for (k, v) in (0..rows).filter_map(|r| at(c, r)) {
                mean[k][0] += 1.0;
                mean[k][1] += v;
            }
        }
        let mean = mean.map(|m| if m[0] > 0.0 { m[1] / m[0] } else { 0.0 });
        // every second column is enough
        for c in (0..strip.columns).step_by(2) {
            for r in 0..rows {
                let Some((k, v)) = at(c, r) else { continue };
                let mut pair = |axis: usize, lag: usize, other: Option<(usize, f64)>| {
                    if let Some((_, w)) = other.filter(|(j, _)| *j == k) {
                        sums[axis][lag][0] += 1.0;
                        sums[axis][lag][1] += (v - mean[k]) * (w - mean[k]);
                    }
                };
                for lag in 0..=LAGS {
                    if r + lag < rows {
                        pair(0, lag, at(c, r + lag));
                    }
                    if c + lag < strip.columns {
                        pair(1, lag, at(c + lag, r));
                    }
                }
            }
        }
    }
    sums.iter().map(repeated).product::<f64>().recip()
}

/// How often each word is said along one way: one, and twice the sum of the correlations until they fade.
fn repeated(sums: &[[f64; 2]; LAGS + 1]) -> f64 {
    let mean = |[n, s]: [f64; 2]| if n > 30.0 { s / n } else { 0.0 };
    let all = mean(sums[0]);
    if all <= 0.0 {
        return 1.0;
    }
    let fading = sums[1..].iter().map(|s| mean(*s) / all).take_while(|rho| *rho > 0.05);
    1.0 + 2.0 * fading.sum::<f64>()
}
