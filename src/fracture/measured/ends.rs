//! Where the face ends: cells along each side of a first outline, from well outside of it to the middle of the face,
//! each told against the middle of this face, against the ground beside this side, and against what lies inward of it.

use super::blur::boxed;
use super::border::Border;
use super::flattened::Flattened;
use super::layout::Layout;
use super::rim::STEP;
use super::shown::ShownCell;
use crate::photo::Plane;
use crate::stats::Logistic;

// All of these are judgements on drawn development faces.

/// Cells along the smaller extent, and rows across it.
const CELLS: [f64; 2] = [30.0, 80.0];
/// Least number of columns.
const LEAST: usize = 8;
/// Share of the margin that is looked at, and how far inward rows go, share of the smaller extent.
const OUTWARD: f64 = 0.9;
const INWARD: f64 = 0.46;
/// Rows inward from the first outline on that are the middle of the face.
const MIDDLE: usize = 24;
/// Added to swings and slopes before their logarithm is taken.
const STILL: f32 = 0.002;
/// Share of a cell's word that is its own, and the most it may say.
const OWN: f64 = 0.2;
const MOST: f64 = 4.0;
/// Rows on both sides of the outline that tell how plain it is.
const BESIDE: f64 = 8.0;
/// How far the outline moves over a length along it, share of that.
const SLOPE: f64 = 0.06;

/// Numbers of a cell: light, two shades, three swings, slopes along and across the side.
const RAW: [&str; 8] = ["light", "warm", "cold", "fine", "middle", "coarse", "along", "across"];
type Raw = [f64; RAW.len()];

/// The cells of one side.
struct Side {
    number: usize,
    columns: usize,
    rows: usize,
    cell: [f64; 2],
    /// Rows that lie outside the first outline.
    outside: usize,
    cells: Vec<Raw>,
}

/// A face with what its cells are told against.
pub(super) struct Ends<'l> {
    layout: &'l Layout,
    sides: Vec<Side>,
    /// Middle values of the inner part of the face, and how far its light goes from a tenth to nine tenths.
    middle: Raw,
    spread: f64,
    /// Means of the outermost rows of each side.
    grounds: Vec<Raw>,
}

/// Where a face begins.
pub(super) struct FoundEnds {
    /// How far below each side's line, px at the steps of a rim.
    pub(super) offsets: Vec<Vec<f64>>,
    /// How much more cells just inside look like the face than those just outside, natural logarithm of the odds, on the
    /// side where it is least.
    pub(super) plain: f64,
}

impl<'l> Ends<'l> {
    pub(super) fn of(face: &Flattened, layout: &'l Layout) -> Self {
        let planes = planes(face);
        let sides: Vec<Side> = (0..layout.sides()).map(|side| Side::of(side, layout, &planes)).collect();
        let (middle, spread) = middle(&sides);
        let grounds = sides.iter().map(|s| s.mean([0, s.columns as isize - 1], [0, 2])).collect();
        Self { layout, sides, middle, spread, grounds }
    }

    /// Where the face begins.
    pub(super) fn found(&self, model: &Logistic) -> FoundEnds {
        let ring = self.layout.sides() == 1;
        let mut offsets = Vec::new();
        let mut plain = f64::INFINITY;
        for (k, side) in self.sides.iter().enumerate() {
            let says: Vec<f64> = (0..side.columns * side.rows)
                .map(|i| {
                    let (column, row) = (i / side.rows, i % side.rows);
                    if self.beyond(side, column, row) {
                        return f64::NAN;
                    }
                    let odds = model.log_odds(&self.values(k, column, row));
                    odds.clamp(-MOST, MOST)
                })
                .collect();
            let change = SLOPE * side.cell[0] / side.cell[1];
            let border = Border::of(side.columns, side.rows, change, ring, |column, row| {
                let says = says[column * side.rows + row];
                if says.is_nan() { 0.0 } else { -OWN * says }
            });
            plain = plain.min(side.plain(&says, &border));
            let steps = (self.layout.length(side.number) / STEP).ceil().max(1.0) as usize;
            let at = |i: usize| border.quantile((i * side.columns / steps).min(side.columns - 1), 0.5);
            offsets.push((0..steps).map(|i| (at(i) - side.outside as f64) * side.cell[1]).collect());
        }
        FoundEnds { offsets, plain }
    }

    /// Every cell with its place in the photo.
    pub(super) fn cells(&self) -> Vec<ShownCell> {
        let mut out = Vec::new();
        for (k, side) in self.sides.iter().enumerate() {
            for column in 0..side.columns {
                for row in (0..side.rows).filter(|row| !self.beyond(side, column, *row)) {
                    let at = self.layout.place(side.number, side.along(column), side.deep(row));
                    let values = self.values(k, column, row).to_vec();
                    out.push(ShownCell { at: self.layout.to_photo.map(at), values });
                }
            }
        }
        out
    }

    /// Whether a cell lies nearer to another side.
    fn beyond(&self, side: &Side, column: usize, row: usize) -> bool {
        let (along, deep) = (side.along(column), side.deep(row));
        deep > 0.0 && self.layout.next_side_off(side.number, along, deep) < deep
    }

    /// What is told of a cell, in the order of [`columns`].
    fn values(&self, side: usize, column: usize, row: usize) -> [f64; 35] {
        let (s, ground, mid) = (&self.sides[side], &self.grounds[side], &self.middle);
        let (c, r) = (column as isize, row as isize);
        let near = |from: isize, to: isize| s.mean([c - 1, c + 1], [r + from, r + to]);
        let (own, inner, deeper) = (near(-1, 1), near(3, 5), near(8, 12));
        let deep = s.deep(row) / self.layout.thickness();
        let m: Raw = std::array::from_fn(|k| own[k] - mid[k]);
        let g: Raw = std::array::from_fn(|k| own[k] - ground[k]);
        let i: Raw = std::array::from_fn(|k| own[k] - inner[k]);
        let d: Raw = std::array::from_fn(|k| own[k] - deeper[k]);
        let lie = own[6] - own[7];
        [
            deep,
            m[0],
            m[1],
            m[2],
            m[3],
            m[4],
            m[5],
            lie,
            g[0],
            g[1],
            g[2],
            g[3],
            g[4],
            g[5],
            i[0],
            i[3],
            i[4],
            d[0],
            d[3],
            own[3],
            own[0],
            self.spread,
            m[0].abs(),
            m[1].abs(),
            m[2].abs(),
            m[3].abs(),
            g[0].abs(),
            g[1].abs(),
            g[2].abs(),
            g[3].abs(),
            deep * deep,
            m[0] * m[0],
            m[3] * m[3],
            i[0] * i[0],
            i[3] * i[3],
        ]
    }
}

/// Names of what is told of a cell.
pub(super) fn columns() -> Vec<String> {
    let named = |of: &str, which: &[usize]| -> Vec<String> {
        which.iter().map(|k| format!("{of}{}", RAW[*k])).collect()
    };
    let mut names = vec!["deep".to_owned()];
    names.extend(named("middle_", &[0, 1, 2, 3, 4, 5]));
    names.push("lie".to_owned());
    names.extend(named("ground_", &[0, 1, 2, 3, 4, 5]));
    names.extend(named("inner_", &[0, 3, 4]));
    names.extend(named("deeper_", &[0, 3]));
    names.extend(["fine", "light", "spread"].map(str::to_owned));
    names.extend(named("far_middle_", &[0, 1, 2, 3]));
    names.extend(named("far_ground_", &[0, 1, 2, 3]));
    names.push("deep_squared".to_owned());
    names.extend(named("squared_middle_", &[0, 3]));
    names.extend(named("squared_inner_", &[0, 3]));
    names
}

/// Light, shades, swings in three bands, and slopes in x and y.
fn planes(face: &Flattened) -> [Plane; RAW.len()] {
    let light = &face.light;
    let (w, h) = (light.width, light.height);
    let mut last = light.clone();
    let [fine, mid, coarse] = [1, 2, 4].map(|radius| {
        let smooth = boxed(&boxed(light, radius), radius);
        let mut band = last.clone();
        for (b, s) in band.values.iter_mut().zip(&smooth.values) {
            *b = (*b - s).abs();
        }
        last = smooth;
        band
    });
    let near = boxed(light, 1);
    let (mut x_slope, mut y_slope) = (Plane::new(w, h), Plane::new(w, h));
    for y in 1..h.saturating_sub(1) {
        for i in y * w + 1..(y * w + w).saturating_sub(1) {
            x_slope.values[i] = ((near.values[i + 1] - near.values[i - 1]) / 2.0).abs();
            y_slope.values[i] = ((near.values[i + w] - near.values[i - w]) / 2.0).abs();
        }
    }
    let [warm, cold] = face.shades.clone();
    [light.clone(), warm, cold, fine, mid, coarse, x_slope, y_slope]
}

/// Middle value of each number over the inner part of the face, and how far its light goes.
fn middle(sides: &[Side]) -> (Raw, f64) {
    let mut values: [Vec<f64>; RAW.len()] = Default::default();
    for s in sides {
        for column in s.columns / 4..(3 * s.columns).div_ceil(4) {
            for row in s.outside + MIDDLE..s.rows {
                for (values, v) in values.iter_mut().zip(s.at(column, row)) {
                    values.push(*v);
                }
            }
        }
    }
    let mut spread = 0.0;
    let middle = std::array::from_fn(|k| {
        values[k].sort_by(f64::total_cmp);
        let n = values[k].len();
        if n == 0 {
            return 0.0;
        }
        if k == 0 {
            spread = values[k][n * 9 / 10] - values[k][n / 10];
        }
        values[k][n / 2]
    });
    (middle, spread)
}

impl Side {
    fn of(side: usize, layout: &Layout, planes: &[Plane; RAW.len()]) -> Self {
        let across = layout.thickness();
        let length = layout.length(side);
        let columns = ((length / across * CELLS[0]).round() as usize).max(LEAST);
        let cell = [length / columns as f64, across / CELLS[1]];
        let outside = (OUTWARD * layout.margin / cell[1]) as usize;
        let rows = outside + (INWARD * CELLS[1]) as usize;
        let mut own =
            Self { number: side, columns, rows, cell, outside, cells: Vec::with_capacity(columns * rows) };
        for column in 0..columns {
            let [a, b] = [-0.5, 0.5].map(|by| layout.place(side, own.along(column) + by, 0.0));
            let way = [(b[0] - a[0]).abs(), (b[1] - a[1]).abs()];
            for row in 0..rows {
                let cell = own.cell(column, row, layout, planes, way);
                own.cells.push(cell);
            }
        }
        own
    }

    /// How much more cells just inside a border look like the face than those just outside.
    fn plain(&self, says: &[f64], border: &Border) -> f64 {
        let mut sums = [[0.0_f64; 2]; 2];
        for column in 0..self.columns {
            let deep = border.quantile(column, 0.5);
            let from = (deep - BESIDE).max(0.0) as usize;
            let rows = from..((deep + BESIDE) as usize).min(self.rows);
            for row in rows.filter(|row| !says[column * self.rows + row].is_nan()) {
                let k = usize::from(row as f64 + 0.5 > deep);
                sums[k][0] += 1.0;
                sums[k][1] += says[column * self.rows + row];
            }
        }
        let [outside, inside] = sums.map(|[n, sum]| sum / n.max(1.0));
        inside - outside
    }

    fn deep(&self, row: usize) -> f64 {
        (row as f64 + 0.5 - self.outside as f64) * self.cell[1]
    }

    fn along(&self, column: usize) -> f64 {
        (column as f64 + 0.5) * self.cell[0]
    }

    /// Means over a cell; `way` is how far the side runs in x and in y there.
    fn cell(
        &self,
        column: usize,
        row: usize,
        layout: &Layout,
        planes: &[Plane; RAW.len()],
        way: [f64; 2],
    ) -> Raw {
        let (along, deep) = (self.along(column), self.deep(row));
        let steps = self.cell.map(|size| (size.round() as usize).max(1));
        let (w, h) = (planes[0].width, planes[0].height);
        let mut sums = [0.0; RAW.len()];
        for i in 0..steps[0] {
            for j in 0..steps[1] {
                let part = |k: usize, at: usize| ((at as f64 + 0.5) / steps[k] as f64 - 0.5) * self.cell[k];
                let [x, y] = layout.place(self.number, along + part(0, i), deep + part(1, j));
                let at = (y.max(0.0) as usize).min(h - 1) * w + (x.max(0.0) as usize).min(w - 1);
                for (sum, plane) in sums.iter_mut().zip(planes) {
                    *sum += f64::from(plane.values[at]);
                }
            }
        }
        let [light, warm, cold, fine, mid, coarse, x, y] = sums.map(|s| s / (steps[0] * steps[1]) as f64);
        let [one, other] = [way[0] * x + way[1] * y, way[1] * x + way[0] * y];
        let [fine, mid, coarse, one, other] =
            [fine, mid, coarse, one, other].map(|v| libm::log(v + f64::from(STILL)));
        [light, warm, cold, fine, mid, coarse, one, other]
    }

    fn at(&self, column: usize, row: usize) -> &Raw {
        &self.cells[column * self.rows + row]
    }

    /// Mean of a box of cells, its ends included; past the last cell the last counts again.
    fn mean(&self, columns: [isize; 2], rows: [isize; 2]) -> Raw {
        let inside = |v: isize, most: usize| v.clamp(0, most as isize - 1) as usize;
        let mut sums = [0.0; RAW.len()];
        let mut count = 0.0;
        for column in columns[0]..=columns[1] {
            for row in rows[0]..=rows[1] {
                let cell = self.at(inside(column, self.columns), inside(row, self.rows));
                for (sum, v) in sums.iter_mut().zip(cell) {
                    *sum += v;
                }
                count += 1.0;
            }
        }
        sums.map(|s| s / count)
    }
}
