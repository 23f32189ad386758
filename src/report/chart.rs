use crate::diffusion::Profile;

/// A carbon profile drawn in characters, with depths marked under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    /// Lines, none wider than 76 characters.
    pub lines: Vec<String>,
}

const WIDTH: usize = 60;
const HEIGHT: usize = 11;

impl Chart {
    /// Draws `profile` to `depth_mm`; each mark is a letter and its depth in mm.
    pub fn new(profile: &Profile, depth_mm: f64, marks: &[(char, f64)]) -> Self {
        let top = (profile.peak() / 0.2).ceil().max(1.0) * 0.2;
        let mut rows = vec![vec![' '; WIDTH]; HEIGHT];
        let carbon: Vec<f64> =
            (0..WIDTH).map(|i| profile.at(depth_mm * 1e-3 * i as f64 / (WIDTH - 1) as f64)).collect();
        let row = |wt: f64| HEIGHT - 1 - ((wt / top * (HEIGHT - 1) as f64).round() as usize).min(HEIGHT - 1);
        for (i, wt) in carbon.iter().enumerate() {
            rows[row(*wt)][i] = '*';
        }
        let mut lines = vec!["  %C".to_string()];
        for (i, cells) in rows.iter().enumerate() {
            let label = if i % 5 == 0 {
                format!("{:5.2}", top * (HEIGHT - 1 - i) as f64 / (HEIGHT - 1) as f64)
            } else {
                "     ".into()
            };
            let line: String = cells.iter().collect();
            lines.push(format!("{label} |{}", line.trim_end()));
        }
        lines.push(format!("      +{}", axis(depth_mm, marks)));
        let end = format!("{depth_mm:.2} mm");
        lines.push(format!("       0{end:>width$}", width = WIDTH - 1));
        Self { lines }
    }
}

/// The depth axis with its marks; two in one place stand side by side.
fn axis(depth_mm: f64, marks: &[(char, f64)]) -> String {
    let mut axis = ['-'; WIDTH];
    for (letter, mm) in marks.iter().filter(|m| m.1 > 0.0 && m.1 <= depth_mm) {
        let column = (mm / depth_mm * (WIDTH - 1) as f64).round() as usize;
        if let Some(i) = (column..WIDTH).chain(0..column).find(|i| axis[*i] == '-') {
            axis[i] = *letter;
        }
    }
    axis.iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn depths_in_one_place_stand_side_by_side() {
        let axis = axis(1.0, &[('T', 0.5), ('V', 0.501), ('S', 1.0), ('X', 1.1), ('Y', 0.0)]);
        assert_eq!(axis.len(), WIDTH);
        assert!(axis.contains("TV") && axis.ends_with('S') && !axis.contains(['X', 'Y']), "{axis}");
    }
}
