use super::RimHint;
use super::edges::{Edge, Edges};

/// A first guess at a rim.
#[derive(Debug, Clone, Copy)]
pub(super) struct Start {
    pub(super) centre: [f64; 2],
    pub(super) radius: f64,
    /// The disc is brighter than what surrounds it.
    pub(super) bright: bool,
}

/// Radius of the smallest wheel looked for, as a share of the picture's longer side: judgement.
pub(super) const LEAST_RADIUS: f64 = 0.04;
/// And of the largest.
const MOST_RADIUS: f64 = 1.0;
/// Cells along the longer side in which centres are counted: judgement.
const CELLS: f64 = 100.0;
/// Centres that are looked at, of bright and of dark discs each: judgement.
const CENTRES: usize = 25;
/// Edges stand within this angle of the way to the centre: cos 14 degrees, judgement.
pub(super) const UPRIGHT: f64 = 0.97;

/// Distance of two points.
pub(super) fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    let (dx, dy) = (a[0] - b[0], a[1] - b[1]);
    (dx * dx + dy * dy).sqrt()
}

/// How far an edge lies from `centre`, px, if its slope points along the way there, as on the rim of such a
/// disc; `least` is the cosine of the widest angle between the two.
pub(super) fn upright(edge: &Edge, centre: [f64; 2], bright: bool, least: f64) -> Option<f64> {
    let (dx, dy) = (edge.at[0] - centre[0], edge.at[1] - centre[1]);
    let distance = apart(edge.at, centre);
    let outward = (dx * edge.uphill[0] + dy * edge.uphill[1]) / distance.max(1e-9);
    let inward_if_bright = if bright { -outward } else { outward };
    (inward_if_bright > least).then_some(distance)
}

/// The likeliest rims, bright and dark.
pub(super) fn candidates(edges: &Edges, hint: Option<&RimHint>) -> Vec<Start> {
    let longest = edges.longest();
    let mut found = Vec::new();
    for bright in [true, false] {
        let votes = Votes::of(edges, bright, longest);
        for centre in votes.peaks() {
            found.extend(radii(edges, centre, bright, longest, hint));
        }
    }
    found
}

/// Counts of edges whose normals pass through each cell. Cells reach half the picture's longer side beyond it.
struct Votes {
    cell: f64,
    margin: f64,
    columns: usize,
    rows: usize,
    counts: Vec<f32>,
}

impl Votes {
    fn of(edges: &Edges, bright: bool, longest: f64) -> Self {
        let cell = (longest / CELLS).max(1.0);
        let margin = 0.5 * longest;
        let cells = |side: usize| ((side as f64 + 2.0 * margin) / cell) as usize + 1;
        let (columns, rows) = (cells(edges.width), cells(edges.height));
        let mut votes = Self { cell, margin, columns, rows, counts: vec![0.0; columns * rows] };
        let sign = if bright { 1.0 } else { -1.0 };
        for edge in &edges.all {
            let mut distance = LEAST_RADIUS * longest;
            while distance < MOST_RADIUS * longest {
                let x = edge.at[0] + sign * distance * edge.uphill[0];
                let y = edge.at[1] + sign * distance * edge.uphill[1];
                let Some(at) = votes.index(x, y) else { break };
                votes.counts[at] += 1.0;
                distance += cell;
            }
        }
        votes
    }

    fn index(&self, x: f64, y: f64) -> Option<usize> {
        let (column, row) = ((x + self.margin) / self.cell, (y + self.margin) / self.cell);
        let inside = column >= 0.0 && row >= 0.0 && column < self.columns as f64 && row < self.rows as f64;
        inside.then(|| row as usize * self.columns + column as usize)
    }

    /// Centres of the cells that, with their neighbours, gather most votes and more than any cell nearby.
    fn peaks(&self) -> Vec<[f64; 2]> {
        let gathered = |column: usize, row: usize| -> f32 {
            let rows = row - 1..=row + 1;
            rows.map(|r| {
                self.counts[r * self.columns + column - 1..=r * self.columns + column + 1].iter().sum::<f32>()
            })
            .sum()
        };
        let mut sums = vec![0.0_f32; self.counts.len()];
        for row in 1..self.rows.saturating_sub(1) {
            for column in 1..self.columns.saturating_sub(1) {
                sums[row * self.columns + column] = gathered(column, row);
            }
        }
        let mut peaks = Vec::new();
        for row in 2..self.rows.saturating_sub(2) {
            for column in 2..self.columns.saturating_sub(2) {
                let here = sums[row * self.columns + column];
                let beaten = (row - 2..=row + 2).any(|r| {
                    let from = r * self.columns + column;
                    sums[from - 2..=from + 2].iter().any(|&s| s > here)
                });
                if here > 0.0 && !beaten {
                    let middle = |at: usize| (at as f64 + 0.5) * self.cell - self.margin;
                    peaks.push((here, [middle(column), middle(row)]));
                }
            }
        }
        peaks.sort_by(|a, b| b.0.total_cmp(&a.0));
        peaks.truncate(CENTRES);
        peaks.into_iter().map(|(_, centre)| centre).collect()
    }
}

/// The radii around `centre` at which most of a turn is filled with edges, up to three.
fn radii(edges: &Edges, centre: [f64; 2], bright: bool, longest: f64, hint: Option<&RimHint>) -> Vec<Start> {
    const MOST: usize = 3;
    let bin = (longest / CELLS).max(1.0);
    let mut counts = vec![0.0_f64; (MOST_RADIUS * CELLS) as usize + 2];
    for edge in &edges.all {
        if let Some(distance) = upright(edge, centre, bright, UPRIGHT)
            && let Some(count) = counts.get_mut((distance / bin) as usize)
        {
            *count += 1.0;
        }
    }
    let fits = |radius: f64| {
        radius >= LEAST_RADIUS * longest
            && hint.is_none_or(|h| {
                let off = apart(h.at, centre) - radius;
                off.abs() <= h.within + 3.0 * bin
            })
    };
    let mut found: Vec<(f64, f64)> = (1..counts.len() - 1)
        .map(|i| {
            let radius = (i as f64 + 0.5) * bin;
            let around = counts[i - 1] + counts[i] + counts[i + 1];
            (around / (std::f64::consts::TAU * radius), radius)
        })
        .filter(|&(filled, radius)| filled > 0.1 && fits(radius))
        .collect();
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.truncate(MOST);
    found.into_iter().map(|(_, radius)| Start { centre, radius, bright }).collect()
}
