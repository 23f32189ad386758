use super::plane::Plane;

/// One number for each square of the picture, read between the squares' middles.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tiles {
    size: usize,
    columns: usize,
    rows: usize,
    values: Vec<f32>,
}

impl Tiles {
    /// `of` sees every second pixel of every second row of a square; squares at the right and lower edge
    /// are as large as the picture leaves them.
    pub(super) fn of(plane: &Plane, size: usize, mut of: impl FnMut(&mut Vec<f32>) -> f32) -> Self {
        let (columns, rows) = (plane.width.div_ceil(size), plane.height.div_ceil(size));
        let mut values = Vec::with_capacity(columns * rows);
        let mut seen = Vec::with_capacity(size * size / 4);
        for row in 0..rows {
            for column in 0..columns {
                seen.clear();
                let right = ((column + 1) * size).min(plane.width);
                for y in (row * size..((row + 1) * size).min(plane.height)).step_by(2) {
                    seen.extend(plane.row(y)[column * size..right].iter().step_by(2));
                }
                values.push(of(&mut seen));
            }
        }
        Self { size, columns, rows, values }
    }

    /// Each square becomes what `of` makes of it and its eight neighbours.
    pub(super) fn around(&self, of: impl Fn(&mut [f32]) -> f32) -> Self {
        let mut values = Vec::with_capacity(self.values.len());
        for row in 0..self.rows {
            for column in 0..self.columns {
                let mut near = Vec::with_capacity(9);
                for y in row.saturating_sub(1)..(row + 2).min(self.rows) {
                    for x in column.saturating_sub(1)..(column + 2).min(self.columns) {
                        near.push(self.values[y * self.columns + x]);
                    }
                }
                values.push(of(&mut near));
            }
        }
        Self { values, ..self.clone() }
    }

    /// Each value at most `most` times what quiet squares of that `level` or darker have: the lower
    /// quarter of them, and never less than in darker squares.
    pub(super) fn capped_by_level(&self, level: &Self, most: f32) -> Self {
        let mut order: Vec<usize> = (0..self.values.len()).collect();
        order.sort_by(|a, b| level.values[*a].total_cmp(&level.values[*b]).then(a.cmp(b)));
        let groups = (order.len() / 24).clamp(1, 12);
        let mut capped = self.clone();
        let mut quiet = 0.0_f32;
        for group in 0..groups {
            let (from, to) = (group * order.len() / groups, (group + 1) * order.len() / groups);
            let mut values: Vec<f32> = order[from..to].iter().map(|i| self.values[*i]).collect();
            let here = quantile(&mut values, 0.25);
            // light has more noise the more there is of it, as its square root; the plane is in square roots
            quiet = if quiet == 0.0 { here } else { here.clamp(0.6 * quiet, 1.5 * quiet) };
            for i in &order[from..to] {
                capped.values[*i] = self.values[*i].min(most * quiet);
            }
        }
        capped
    }

    /// At the middles of all pixels of one row.
    pub(super) fn row(&self, y: f64, row: &mut [f32]) {
        for (x, value) in row.iter_mut().enumerate() {
            // squares change slowly: every eighth pixel is worked out, the others take it over
            if x % 8 == 0 {
                let at = self.at(x as f64 + 4.0, y) as f32;
                *value = at;
            } else {
                *value = f32::NAN;
            }
        }
        for x in 0..row.len() {
            if row[x].is_nan() {
                row[x] = row[x - x % 8];
            }
        }
    }

    /// At a place of the plane, between the middles of the squares.
    pub(super) fn at(&self, x: f64, y: f64) -> f64 {
        let size = self.size as f64;
        let fx = (x / size - 0.5).clamp(0.0, (self.columns - 1) as f64);
        let fy = (y / size - 0.5).clamp(0.0, (self.rows - 1) as f64);
        let (x0, y0) = (fx as usize, fy as usize);
        let (x1, y1) = ((x0 + 1).min(self.columns - 1), (y0 + 1).min(self.rows - 1));
        let (tx, ty) = (fx - x0 as f64, fy - y0 as f64);
        let value = |x: usize, y: usize| f64::from(self.values[y * self.columns + x]);
        let top = value(x0, y0) * (1.0 - tx) + value(x1, y0) * tx;
        let bottom = value(x0, y1) * (1.0 - tx) + value(x1, y1) * tx;
        top * (1.0 - ty) + bottom * ty
    }
}

/// The value with `share` of the others below it; the order of the values is lost.
pub(super) fn quantile(values: &mut [f32], share: f64) -> f32 {
    let Some(last) = values.len().checked_sub(1) else { return 0.0 };
    let at = (last as f64 * share).round() as usize;
    *values.select_nth_unstable_by(at, f32::total_cmp).1
}
