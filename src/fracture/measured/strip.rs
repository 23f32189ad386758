use super::layout::Layout;
use super::outlined::Outlined;
use super::sight::Sight;
use super::texture::{FEATURES, Texture};
use crate::photo::Plane;

/// Added to swings before their logarithm is taken (judgement: an eighth of a step of an 8 bit picture in its middle).
const STILL: f32 = 0.001;

/// Cells of one side: columns along it, clockwise, and in each rows from the outline inward.
pub(super) struct Strip {
    pub(super) side: usize,
    pub(super) columns: usize,
    pub(super) rows: usize,
    /// Length of a cell along the side and inward, px of the flat picture.
    pub(super) cell: [f64; 2],
    /// Outline of each column below the side's ideal line, px.
    pub(super) outline: Vec<f64>,
    /// Column by column; `None` where nothing can be read.
    pub(super) cells: Vec<Option<Cell>>,
}

/// What a cell shows.
#[derive(Clone, Copy)]
pub(super) struct Cell {
    pub(super) at: [f32; 2],
    pub(super) features: [f32; FEATURES],
    /// Products of the light's slopes: xx, xy, yy.
    pub(super) slopes: [f32; 3],
    /// Natural logarithm of the odds of case, as the network says.
    pub(super) case: f32,
    /// The same of neither case nor core.
    pub(super) neither: f32,
}

impl Strip {
    pub(super) fn of(side: usize, seen: &Outlined, texture: &Texture, sight: &Sight, cell: [f64; 2]) -> Self {
        let Outlined { layout, rim, .. } = seen;
        let mask = &rim.inner;
        let columns = ((layout.length(side) / cell[0]).floor() as usize).max(1);
        let rows = ((layout.reach(side) / cell[1]).floor() as usize).max(1);
        let mut strip =
            Self { side, columns, rows, cell, outline: Vec::with_capacity(columns), cells: Vec::new() };
        for column in 0..columns {
            let along = (column as f64 + 0.5) * cell[0];
            strip.outline.push(rim.offset(side, along));
        }
        for column in 0..columns {
            for row in 0..rows {
                let mut seen = strip.cell(column, row, layout, mask, texture);
                if let Some(cell) = &mut seen {
                    [_, cell.case, cell.neither] = sight.at(cell.at.map(f64::from)).map(|v| v as f32);
                }
                strip.cells.push(seen);
            }
        }
        strip
    }

    fn cell(
        &self,
        column: usize,
        row: usize,
        layout: &Layout,
        mask: &Plane,
        texture: &Texture,
    ) -> Option<Cell> {
        let [ds, dd] = self.cell;
        let (along, deep) = ((column as f64 + 0.5) * ds, (row as f64 + 0.5) * dd + self.outline[column]);
        if layout.next_side_off(self.side, along, deep) < deep {
            return None;
        }
        let (mut light, mut tilt, mut swings, mut count) = (0.0, 0.0, [0.0; 4], 0.0_f32);
        let mut slopes = [0.0; 3];
        let steps = |size: f64| (size.round() as usize).max(1);
        for i in 0..steps(ds) {
            for j in 0..steps(dd) {
                let a = along + (i as f64 + 0.5) / steps(ds) as f64 * ds - ds / 2.0;
                let d = deep + (j as f64 + 0.5) / steps(dd) as f64 * dd - dd / 2.0;
                let [x, y] = layout.place(self.side, a, d);
                let (x, y) = (x as usize, y as usize);
                if x >= mask.width || y >= mask.height || mask.values[y * mask.width + x] == 0.0 {
                    continue;
                }
                let at = y * mask.width + x;
                light += texture.light.values[at];
                tilt += texture.tilt.values[at];
                for (sum, swing) in swings.iter_mut().zip(&texture.swings) {
                    *sum += swing.values[at];
                }
                for (sum, slope) in slopes.iter_mut().zip(&texture.slopes) {
                    *sum += slope.values[at];
                }
                count += 1.0;
            }
        }
        if count < 0.5 * (steps(ds) * steps(dd)) as f32 {
            return None;
        }
        let at = layout.place(self.side, along, deep).map(|v| v as f32);
        let [a, b, c, d] = swings.map(|s| (s / count + STILL).ln());
        Some(Cell {
            at,
            features: [light / count, a, b, c, d, tilt / count],
            slopes: slopes.map(|s| s / count),
            case: 0.0,
            neither: 0.0,
        })
    }

    pub(super) fn at(&self, column: usize, row: usize) -> Option<&Cell> {
        self.cells[column * self.rows + row].as_ref()
    }
}
