//! Cells told against the middle of their own face.
//!
//! A face's middle is nearly always core: each number of a cell is told as how far it lies from there, in spreads of
//! the middle's cells. Next to each other stand long thin patches along the side, the profile of the whole side by
//! depth, how both differ from what lies outward and inward, and how far along the way from core to rim they are.

use super::layout::Layout;
use super::strip::Strip;
use crate::stats::quantile;

/// Numbers of a cell: light, four swings, tilt, how its slopes lie against the side, fine against coarse, what the network
/// says.
const CHANNELS: usize = 9;
/// The last one is no look that could be told against the middle: it is told as it is.
const LOOKS: usize = CHANNELS - 1;
/// Numbers told of a cell.
const FEATURES: usize = 5 * LOOKS + 4;

// All of these are judgements on drawn development faces.

/// Rows that are taken for the middle, and those that are taken for the rim: shares of the thickness.
const MIDDLE: [f64; 2] = [0.34, 0.48];
const RIM: [f64; 2] = [0.008, 0.045];
/// Cells of the middle that are enough.
const ENOUGH: usize = 20;
/// Added to the spread of a number in the middle, in its own unit.
const LEAST: f64 = 0.02;
/// Columns on both sides that make a long patch; rows outward and inward that it is held against.
const LONG: usize = 5;
const BESIDE: usize = 9;
/// Share of a side at each end that its profile leaves out.
const ENDS: f64 = 0.12;
/// How far from the middle a rim must lie to count half, in spreads of the middle.
const PLAIN: f64 = 0.3;

/// Farthest that anything is told to lie from the middle, in its spreads.
const FARTHEST: f64 = 60.0;

type Numbers = [f64; CHANNELS];

/// One side's cells, relative.
pub(super) struct Relative {
    columns: usize,
    rows: usize,
    ring: bool,
    /// Sums over columns and rows from the first, of numbers and of cells; wide enough to wrap a ring.
    sums: Vec<[f64; CHANNELS + 1]>,
    /// Columns added before the first.
    before: usize,
    /// Profiles by depth: one, or one a column of a ring.
    profiles: Vec<Profile>,
}

struct Profile {
    rows: Vec<Numbers>,
    steps: Vec<Numbers>,
    rim: Numbers,
}

/// All sides of a face; `None` if its middle cannot be seen.
pub(super) fn relative(strips: &[Strip], layout: &Layout) -> Option<Vec<Relative>> {
    let across = layout.thickness();
    let numbers: Vec<Vec<Option<Numbers>>> = strips.iter().map(|s| numbers(s, layout)).collect();
    let (mut all, mut own) = (Sums::default(), Vec::new());
    for (strip, numbers) in strips.iter().zip(&numbers) {
        let mut side = Sums::default();
        for (i, n) in numbers.iter().enumerate() {
            let deep = (i % strip.rows) as f64 + 0.5;
            if let (Some(n), true) = (n, within(deep * strip.cell[1] / across, MIDDLE)) {
                side.add(n);
                all.add(n);
            }
        }
        own.push(side);
    }
    if all.count < ENOUGH as f64 {
        return None;
    }
    let (mean, spread) = (all.mean(), all.spread());
    let of = |((strip, numbers), own): ((&Strip, Vec<Option<Numbers>>), Sums)| {
        let side = if own.count > ENOUGH as f64 { own.mean() } else { mean };
        // light falls off over a face: its own side counts
        let middle: Numbers =
            std::array::from_fn(|k| if k == 0 { side[0] } else { f64::midpoint(side[k], mean[k]) });
        let told = |n: Numbers| -> Numbers {
            std::array::from_fn(|k| if k < LOOKS { (n[k] - middle[k]) / spread[k] } else { n[k] })
        };
        let cells: Vec<Option<Numbers>> = numbers.into_iter().map(|n| n.map(told)).collect();
        Relative::of(strip, &cells, layout)
    };
    Some(strips.iter().zip(numbers).zip(own).map(of).collect())
}

fn within(v: f64, [low, high]: [f64; 2]) -> bool {
    v > low && v < high
}

#[derive(Default)]
struct Sums {
    count: f64,
    first: Numbers,
    second: Numbers,
}

impl Sums {
    fn add(&mut self, n: &Numbers) {
        self.count += 1.0;
        for ((first, second), v) in self.first.iter_mut().zip(&mut self.second).zip(n) {
            *first += v;
            *second += v * v;
        }
    }

    fn mean(&self) -> Numbers {
        self.first.map(|v| v / self.count)
    }

    fn spread(&self) -> Numbers {
        let mean = self.mean();
        std::array::from_fn(|k| (self.second[k] / self.count - mean[k] * mean[k]).max(0.0).sqrt() + LEAST)
    }
}

/// The numbers of each cell of a strip.
fn numbers(strip: &Strip, layout: &Layout) -> Vec<Option<Numbers>> {
    let mut out = Vec::with_capacity(strip.cells.len());
    for column in 0..strip.columns {
        let along = (column as f64 + 0.5) * strip.cell[0];
        let [a, b] = [along - 0.5, along + 0.5].map(|s| layout.place(strip.side, s, 0.0));
        let (tx, ty) = (b[0] - a[0], b[1] - a[1]);
        for row in 0..strip.rows {
            out.push(strip.at(column, row).map(|cell| {
                let [light, a, b, c, d, tilt] = cell.features.map(f64::from);
                let [xx, xy, yy] = cell.slopes.map(f64::from);
                let one = tx * tx * xx + 2.0 * tx * ty * xy + ty * ty * yy;
                let other = ty * ty * xx - 2.0 * tx * ty * xy + tx * tx * yy;
                let lie = 0.5 * (libm::log(one.max(0.0) + 1e-6) - libm::log(other.max(0.0) + 1e-6));
                [light, a, b, c, d, 5.0 * tilt, lie, a - c, f64::from(cell.case)]
            }));
        }
    }
    out
}

impl Relative {
    fn of(strip: &Strip, cells: &[Option<Numbers>], layout: &Layout) -> Self {
        let ring = layout.sides() == 1;
        let (columns, rows) = (strip.columns, strip.rows);
        // a ring's profile is that of the quarter round each column
        let wide = if ring { (columns / 8).max(LONG) } else { 0 };
        let before = wide;
        let width = columns + 2 * before;
        let mut sums = vec![[0.0; CHANNELS + 1]; (width + 1) * (rows + 1)];
        let line = rows + 1;
        for c in 0..width {
            let column = (c + columns * (1 + before / columns) - before) % columns;
            for r in 0..rows {
                let at = (c + 1) * line + r + 1;
                let mut sum: [f64; CHANNELS + 1] =
                    std::array::from_fn(|k| sums[at - 1][k] + sums[at - line][k] - sums[at - line - 1][k]);
                if let Some(n) = &cells[column * rows + r] {
                    for k in 0..CHANNELS {
                        sum[k] += n[k];
                    }
                    sum[CHANNELS] += 1.0;
                }
                sums[at] = sum;
            }
        }
        let mut own = Self { columns, rows, ring, sums, before, profiles: Vec::new() };
        let rim: Vec<usize> = (0..rows)
            .filter(|r| within((*r as f64 + 0.5) * strip.cell[1] / layout.thickness(), RIM))
            .collect();
        let all = if ring { columns } else { 1 };
        own.profiles = (0..all)
            .map(|c| {
                let (from, to) = if ring {
                    (c, c + 2 * wide + 1)
                } else {
                    let out = (ENDS * columns as f64) as usize;
                    (out, columns - out)
                };
                own.profile(from, to, &rim)
            })
            .collect();
        own
    }

    /// Of padded columns from `from` to before `to`.
    fn profile(&self, from: usize, to: usize, rim: &[usize]) -> Profile {
        let rows: Vec<Numbers> = (0..self.rows)
            .map(|r| self.mean(from, to, r.saturating_sub(1), (r + 2).min(self.rows)))
            .collect();
        let mean = |rows: &[Numbers], or: usize| -> Numbers {
            let n = rows.len() as f64;
            if rows.is_empty() {
                return self.mean(from, to, or, or + 1);
            }
            std::array::from_fn(|k| rows.iter().map(|v| v[k]).sum::<f64>() / n)
        };
        let steps = (0..self.rows)
            .map(|r| {
                let out = mean(&rows[r.saturating_sub(BESIDE)..r], 0);
                let inn = mean(&rows[(r + 1).min(self.rows)..(r + 1 + BESIDE).min(self.rows)], self.rows - 1);
                std::array::from_fn(|k| out[k] - inn[k])
            })
            .collect();
        let picked: Vec<Numbers> = rim.iter().map(|r| rows[*r]).collect();
        let rim = mean(&picked, 0);
        Profile { rows, steps, rim }
    }

    /// Mean over padded columns and rows, 0 where there is no cell.
    fn mean(&self, c0: usize, c1: usize, r0: usize, r1: usize) -> Numbers {
        let line = self.rows + 1;
        let s = |c: usize, r: usize| &self.sums[c * line + r];
        let (a, b, c, d) = (s(c1, r1), s(c0, r1), s(c1, r0), s(c0, r0));
        let of = |k: usize| a[k] - b[k] - c[k] + d[k];
        let n = of(CHANNELS).max(1.0);
        std::array::from_fn(|k| of(k) / n)
    }

    /// How far its rim lies from the middle of the face, in spreads of the middle; the middle one of a ring.
    pub(super) fn contrast(&self) -> f64 {
        let far = |p: &Profile| p.rim[..LOOKS].iter().map(|v| v * v).sum::<f64>().sqrt();
        quantile(self.profiles.iter().map(far).collect(), 0.5)
    }

    /// What is told of a cell, in the order of [`columns`].
    pub(super) fn values(&self, column: usize, row: usize) -> [f64; FEATURES] {
        let at = column + self.before;
        let (c0, c1) = (at.saturating_sub(LONG), (at + LONG + 1).min(self.columns + 2 * self.before));
        let long = self.mean(c0, c1, row.saturating_sub(1), (row + 2).min(self.rows));
        let out = self.mean(c0, c1, row.saturating_sub(BESIDE), row);
        let inn = self.mean(c0, c1, row + 1, (row + 1 + BESIDE).min(self.rows).max(row + 1));
        let profile = &self.profiles[if self.ring { column } else { 0 }];
        let (own, rim) = (&profile.rows[row], &profile.rim);
        let square = rim[..LOOKS].iter().map(|v| v * v).sum::<f64>();
        let along =
            |n: &Numbers| n[..LOOKS].iter().zip(rim).map(|(a, b)| a * b).sum::<f64>() / (square + PLAIN);
        let mut f = [0.0; FEATURES];
        for k in 0..LOOKS {
            f[k] = long[k];
            f[LOOKS + k] = own[k];
            f[2 * LOOKS + k] = out[k] - inn[k];
            f[3 * LOOKS + k] = profile.steps[row][k];
            f[4 * LOOKS + k] = rim[k];
        }
        f[5 * LOOKS] = along(&long);
        f[5 * LOOKS + 1] = along(own);
        f[5 * LOOKS + 2] = square.sqrt();
        f[5 * LOOKS + 3] = long[LOOKS];
        f.map(|v| v.clamp(-FARTHEST, FARTHEST))
    }
}

/// Names of what is told of a cell.
pub(super) fn columns() -> Vec<String> {
    const NAMES: [&str; LOOKS] = ["light", "fine", "middle", "coarse", "wide", "tilt", "lie", "grain"];
    let of = ["long", "profile", "step", "profile_step", "rim"];
    let mut names: Vec<String> =
        of.iter().flat_map(|of| NAMES.iter().map(move |name| format!("{of}_{name}"))).collect();
    names.extend(["long_as_rim", "profile_as_rim", "contrast", "long_said"].map(str::to_owned));
    names
}
