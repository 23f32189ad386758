//! Where the face ends: along each side of a first outline, from well outside of it to the middle of the face, by what the
//! network says.

use super::border::Border;
use super::layout::Layout;
use super::rim::{Offsets, STEP};
use super::sight::Sight;

// All of these are judgements on drawn development faces.

/// Cells along the smaller extent, and rows across it.
const CELLS: [f64; 2] = [60.0, 120.0];
/// Least number of columns.
const LEAST: usize = 8;
/// Share of the margin that is looked at, and how far inward rows go, share of the smaller extent.
const OUTWARD: f64 = 0.9;
const INWARD: f64 = 0.46;
/// Share of a cell's word that is its own, and the most it may say: its neighbours repeat it.
const OWN: f64 = 0.15;
const MOST: f64 = 4.0;
/// How far on both sides of the outline it is asked how plain it is, share of the smaller extent.
const BESIDE: f64 = 0.08;
/// How far the outline moves over a length along it, share of that.
const SLOPE: f64 = 0.06;

/// Where a face begins.
pub(super) struct Ends {
    /// How far below each side's line, px at the steps of a rim.
    pub(super) offsets: Offsets,
    /// How much more cells just inside look like the face than those just outside, natural logarithm of the odds, on the
    /// side where it is least.
    pub(super) plain: f64,
}

impl Ends {
    /// Of what was laid flat.
    pub(super) fn of(sight: &Sight, layout: &Layout) -> Self {
        let mut ends = Self { offsets: Vec::new(), plain: f64::INFINITY };
        for side in 0..layout.sides() {
            let cells = Cells::of(sight, layout, side);
            let change = SLOPE * cells.size[0] / cells.size[1];
            let border = Border::of(cells.columns, cells.rows, change, layout.sides() == 1, |column, row| {
                -OWN * cells.says[column * cells.rows + row].unwrap_or(0.0)
            });
            ends.plain = ends.plain.min(cells.plain(&border, BESIDE * layout.thickness() / cells.size[1]));
            let steps = (layout.length(side) / STEP).ceil().max(1.0) as usize;
            let at = |i: usize| border.quantile((i * cells.columns / steps).min(cells.columns - 1), 0.5);
            ends.offsets.push((0..steps).map(|i| (at(i) - cells.outside as f64) * cells.size[1]).collect());
        }
        ends
    }
}

/// What is said of cells along one side, from outside inward.
struct Cells {
    columns: usize,
    rows: usize,
    /// Rows that lie outside the first outline.
    outside: usize,
    /// Length of a cell along the side and inward, px.
    size: [f64; 2],
    /// Natural logarithm of the odds that it lies on the face, column by column; `None` nearer to another side.
    says: Vec<Option<f64>>,
}

impl Cells {
    fn of(sight: &Sight, layout: &Layout, side: usize) -> Self {
        let across = layout.thickness();
        let columns = ((layout.length(side) / across * CELLS[0]).round() as usize).max(LEAST);
        let size = [layout.length(side) / columns as f64, across / CELLS[1]];
        let outside = (OUTWARD * layout.margin / size[1]) as usize;
        let rows = outside + (INWARD * CELLS[1]) as usize;
        let says = (0..columns * rows).map(|i| {
            let along = ((i / rows) as f64 + 0.5) * size[0];
            let deep = ((i % rows) as f64 + 0.5 - outside as f64) * size[1];
            let beyond = deep > 0.0 && layout.next_side_off(side, along, deep) < deep;
            (!beyond).then(|| sight.at(layout.place(side, along, deep))[0].clamp(-MOST, MOST))
        });
        Self { columns, rows, outside, size, says: says.collect() }
    }

    /// How much more cells within so many rows inside a border look like the face than those as near outside.
    fn plain(&self, border: &Border, beside: f64) -> f64 {
        let mut sums = [[0.0_f64; 2]; 2];
        for column in 0..self.columns {
            let deep = border.quantile(column, 0.5);
            for row in (deep - beside).max(0.0) as usize..((deep + beside) as usize).min(self.rows) {
                if let Some(says) = self.says[column * self.rows + row] {
                    let k = usize::from(row as f64 + 0.5 > deep);
                    sums[k][0] += 1.0;
                    sums[k][1] += says;
                }
            }
        }
        let [outside, inside] = sums.map(|[n, sum]| sum / n.max(1.0));
        inside - outside
    }
}
