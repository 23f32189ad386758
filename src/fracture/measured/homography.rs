/// A projective map of a plane: eight numbers and a one, row by row.
/// Source: Hartley & Zisserman, Multiple View Geometry, 2nd ed. 2004, 2.3 and 4.1 (from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Homography([f64; 9]);

impl Homography {
    /// The map that takes each point of `from` to the one of `to` in its place; `None` if three of `from` lie on a
    /// line.
    pub(super) fn of_four(from: &[[f64; 2]; 4], to: &[[f64; 2]; 4]) -> Option<Self> {
        // each pair gives two rows of  h·(x, y, 1) - u·(x, y)·(h7, h8) = u
        let mut rows = [[0.0; 9]; 8];
        for (pair, (&[x, y], &[u, v])) in from.iter().zip(to).enumerate() {
            rows[2 * pair] = [x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, u];
            rows[2 * pair + 1] = [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y, v];
        }
        let h = solved(rows)?;
        Some(Self([h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0]))
    }

    /// Where a point goes.
    pub(super) fn map(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let h = &self.0;
        let w = h[6] * x + h[7] * y + h[8];
        [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w]
    }
}

/// Eight equations in eight unknowns, the right side last, by elimination with pivots.
fn solved(mut rows: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    let size = rows.iter().flatten().fold(0.0_f64, |most, v| most.max(v.abs()));
    for column in 0..8 {
        let pivot = (column..8).max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))?;
        rows.swap(column, pivot);
        let by = rows[column][column];
        if by.is_nan() || by.abs() <= 1e-12 * size {
            return None;
        }
        let row = rows[column].map(|v| v / by);
        rows[column] = row;
        for (other, values) in rows.iter_mut().enumerate() {
            if other != column {
                let times = values[column];
                for (v, r) in values.iter_mut().zip(row) {
                    *v -= times * r;
                }
            }
        }
    }
    Some(rows.map(|row| row[8]))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: `OpenCV` 5.0.0, `getPerspectiveTransform`; tests/reference/homography.py.
    #[test]
    fn maps_as_opencv_does() {
        let table = include_str!("../../../tests/reference/homography.csv");
        let mut rows = 0;
        for line in table.lines().filter(|l| !l.starts_with('#')).skip(1) {
            let v: Vec<f64> = line.split(',').map(|n| n.parse().unwrap()).collect();
            // OpenCV takes 32-bit numbers: the rows hold only such as lose nothing by it
            let from = [[0.0, 0.0], [v[0], 0.0], [v[0], v[1]], [0.0, v[1]]];
            let to = std::array::from_fn(|k| [v[2 + 2 * k], v[3 + 2 * k]]);
            let map = Homography::of_four(&from, &to).unwrap();
            for (own, theirs) in map.0.iter().zip(&v[10..19]) {
                assert!((own - theirs).abs() <= 1e-9 * theirs.abs().max(1.0), "{line}: {own} and {theirs}");
            }
            let middle = map.map([v[0] / 2.0, v[1] / 2.0]);
            assert!(
                (middle[0] - v[19]).abs() < 1e-6 && (middle[1] - v[20]).abs() < 1e-6,
                "{line}: {middle:?}"
            );
            rows += 1;
        }
        assert!(rows >= 3, "{rows} rows");
    }

    #[test]
    fn three_on_a_line_are_no_square() {
        let square = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let line = [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [0.0, 1.0]];
        assert!(Homography::of_four(&line, &square).is_none());
        assert!(Homography::of_four(&square, &[[f64::NAN; 2]; 4]).is_none());
    }
}
