use crate::photo::Plane;

/// Groups of squares of like brightness.
const GROUPS: usize = 12;
/// Squares in a group, at least.
const GROUP: usize = 24;
/// Quiet squares: this share of a group has less noise.
const QUIET: f64 = 0.25;
/// Noise of quiet squares from one group to the next, at least and at most.
const STEP: [f32; 2] = [0.6, 1.5];
/// Pixels over which a value between squares is taken as one.
const RUN: usize = 8;

/// One number for each square of a plane, read between the squares' middles.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tiles {
    pub(super) size: usize,
    pub(super) columns: usize,
    pub(super) rows: usize,
    pub(super) values: Vec<f32>,
}

impl Tiles {
    /// `of` sees every second pixel of every second row of a square; those at the right and lower edge are as large
    /// as the picture leaves them.
    pub(super) fn of(plane: &Plane, size: usize, of: impl Fn(&mut [f32]) -> f32) -> Self {
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

    /// Each square becomes what `of` makes of it and its neighbours.
    pub(super) fn around(&self, of: impl Fn(&mut [f32]) -> f32) -> Self {
        let mut values = Vec::with_capacity(self.values.len());
        for row in 0..self.rows {
            for column in 0..self.columns {
                let rows = row.saturating_sub(1)..(row + 2).min(self.rows);
                let columns = column.saturating_sub(1)..(column + 2).min(self.columns);
                let near = rows.flat_map(|y| columns.clone().map(move |x| (x, y)));
                let mut near: Vec<f32> = near.map(|(x, y)| self.values[y * self.columns + x]).collect();
                values.push(of(&mut near));
            }
        }
        Self { values, ..*self }
    }

    /// Each value times a factor.
    pub(super) fn scaled(&self, factor: f32) -> Self {
        Self { values: self.values.iter().map(|v| v * factor).collect(), ..*self }
    }

    /// Each value at most `most` times what quiet squares as bright have. Brightness is that of `level`; from the
    /// darkest on, noise changes in small steps only.
    pub(super) fn capped_by_level(&self, level: &Self, most: f32) -> Self {
        let mut order: Vec<usize> = (0..self.values.len()).collect();
        order.sort_by(|a, b| level.values[*a].total_cmp(&level.values[*b]).then(a.cmp(b)));
        let groups = (order.len() / GROUP).clamp(1, GROUPS);
        let mut capped = self.clone();
        let mut quiet: Option<f32> = None;
        for group in 0..groups {
            let members = &order[group * order.len() / groups..(group + 1) * order.len() / groups];
            let mut values: Vec<f32> = members.iter().map(|i| self.values[*i]).collect();
            let here = quantile(&mut values, QUIET);
            let now = quiet.map_or(here, |before| here.clamp(STEP[0] * before, STEP[1] * before));
            for i in members {
                capped.values[*i] = self.values[*i].min(most * now);
            }
            quiet = Some(now);
        }
        capped
    }

    /// At the middles of all pixels of one row.
    pub(super) fn row(&self, y: f64, row: &mut [f32]) {
        for (run, values) in row.chunks_mut(RUN).enumerate() {
            values.fill(self.at((run * RUN + RUN / 2) as f64, y) as f32);
        }
    }

    /// At a place of the plane, between the middles of the squares.
    pub(super) fn at(&self, x: f64, y: f64) -> f64 {
        let place = |v: f64, count: usize| (v / self.size as f64 - 0.5).clamp(0.0, (count - 1) as f64);
        let (fx, fy) = (place(x, self.columns), place(y, self.rows));
        let (x0, y0) = (fx as usize, fy as usize);
        let (x1, y1) = ((x0 + 1).min(self.columns - 1), (y0 + 1).min(self.rows - 1));
        let (tx, ty) = (fx - x0 as f64, fy - y0 as f64);
        let value = |x: usize, y: usize| f64::from(self.values[y * self.columns + x]);
        let top = value(x0, y0) * (1.0 - tx) + value(x1, y0) * tx;
        let bottom = value(x0, y1) * (1.0 - tx) + value(x1, y1) * tx;
        top * (1.0 - ty) + bottom * ty
    }
}

/// The value with `share` of the others below it, 0 if there is none; the order of the values is lost.
pub(super) fn quantile(values: &mut [f32], share: f64) -> f32 {
    let Some(last) = values.len().checked_sub(1) else { return 0.0 };
    let at = (last as f64 * share).round() as usize;
    *values.select_nth_unstable_by(at, f32::total_cmp).1
}
