//! The file of bent lines by which photos of faces are read.

use super::face_model::FaceModelError;
use super::problem::shown;
use crate::stats::Additive;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fmt::Write;

/// Its name, and what ships.
pub(super) const LINES: &str = "face-lines.toml";
pub(super) const SHIPPED_LINES: &str = include_str!("../../models/face-lines.toml");
/// Figures that are kept of a number.
const FIGURES: usize = 5;
const FORMAT: &str = "snapspark lines";
const VERSION: i64 = 1;

/// The file as it is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FaceLinesTwin {
    format: String,
    version: i64,
    pub(super) patches: LinesTwin,
    pub(super) border: LinesTwin,
    pub(super) all_round: LinesTwin,
    pub(super) through: LinesTwin,
    pub(super) side: LinesTwin,
}

/// Odds to which each value adds the height of its line.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LinesTwin {
    offset: f64,
    lines: BTreeMap<String, Vec<[f64; 2]>>,
}

fn wrong(place: String, got: &str, allowed: String) -> FaceModelError {
    FaceModelError::Value { file: LINES, place, got: shown(got), allowed }
}

impl FaceLinesTwin {
    pub(super) fn read(text: &str) -> Result<Self, FaceModelError> {
        let twin: Self =
            toml::from_str(text).map_err(|e| FaceModelError::Lines { file: LINES, problem: Box::new(e) })?;
        if twin.format != FORMAT {
            return Err(wrong("format".to_owned(), &twin.format, FORMAT.to_owned()));
        }
        if twin.version != VERSION {
            return Err(wrong("version".to_owned(), &twin.version.to_string(), VERSION.to_string()));
        }
        Ok(twin)
    }
}

/// How the file begins.
pub(super) fn head() -> String {
    format!("format = \"{FORMAT}\"\nversion = {VERSION}\n")
}

/// Adds lines under a name.
pub(super) fn add_lines(text: &mut String, name: &str, found: &Additive, columns: &[String]) {
    let _ = write!(text, "\n[{name}]\noffset = {}\n\n[{name}.lines]\n", figures(found.offset));
    for (column, line) in columns.iter().zip(&found.lines) {
        let points: Vec<String> =
            line.iter().map(|[x, y]| format!("[{}, {}]", figures(*x), figures(*y))).collect();
        let _ = writeln!(text, "{column} = [{}]", points.join(", "));
    }
}

/// A number with so many figures as are kept, as TOML has it.
fn figures(v: f64) -> String {
    let text = format!("{v:.*e}", FIGURES - 1);
    format!("{:?}", text.parse::<f64>().unwrap_or(v))
}

/// What is told of these columns, all of them and no others.
fn told<T: Clone>(
    name: &str,
    of: &BTreeMap<String, T>,
    columns: &[String],
) -> Result<Vec<T>, FaceModelError> {
    if let Some(strange) = of.keys().find(|column| !columns.contains(column)) {
        return Err(wrong(format!("a name in {name}"), strange, columns.join(", ")));
    }
    let one = |column: &String| {
        let missing = || wrong(format!("{name}, {column}"), "missing", "one for each name".to_owned());
        of.get(column).cloned().ok_or_else(missing)
    };
    columns.iter().map(one).collect()
}

/// Whether all of these are numbers.
fn numbers(name: &str, of: impl IntoIterator<Item = f64>) -> Result<(), FaceModelError> {
    match of.into_iter().find(|v| !v.is_finite()) {
        Some(v) => Err(wrong(format!("a number of {name}"), &v.to_string(), "a finite number".to_owned())),
        None => Ok(()),
    }
}

impl LinesTwin {
    /// The lines of these columns.
    pub(super) fn lines(&self, name: &str, columns: &[String]) -> Result<Additive, FaceModelError> {
        let lines = told(&format!("{name}.lines"), &self.lines, columns)?;
        numbers(name, lines.iter().flatten().flatten().copied().chain([self.offset]))?;
        let falls = |line: &[[f64; 2]]| line.is_empty() || line.windows(2).any(|p| p[1][0] <= p[0][0]);
        if let Some((column, line)) = columns.iter().zip(&lines).find(|(_, line)| falls(line)) {
            let allowed = "one point or more, first numbers rising".to_owned();
            return Err(wrong(format!("{name}.lines, {column}"), &format!("{line:?}"), allowed));
        }
        Ok(Additive { offset: self.offset, lines })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read<T: for<'d> Deserialize<'d>>(text: &str) -> T {
        let body = text.strip_prefix("\n[x]\n").unwrap();
        toml::from_str(&body.replace("[x.", "[")).unwrap()
    }

    #[test]
    fn lines_come_back_as_they_were_written_and_bad_ones_are_named() {
        let columns = ["a".to_owned()];
        let odds = Additive { offset: -1.0, lines: vec![vec![[0.0, 0.5], [1.0, -0.123_456_78]]] };
        let mut text = String::new();
        add_lines(&mut text, "x", &odds, &columns);
        let back = read::<LinesTwin>(&text).lines("x", &columns).unwrap();
        assert_eq!(back.lines, [[[0.0, 0.5], [1.0, -0.123_46]]]);
        let strange = |columns: &[&str]| {
            let columns: Vec<String> = columns.iter().map(|c| (*c).to_owned()).collect();
            read::<LinesTwin>(&text).lines("x", &columns).unwrap_err().to_string()
        };
        assert_eq!(strange(&["b"]), "face-lines.toml: a name in x.lines is `a`; allowed: b");
        assert_eq!(
            strange(&["a", "b"]),
            "face-lines.toml: x.lines, b is `missing`; allowed: one for each name"
        );
        let fault = |line: &str| {
            let twin: LinesTwin = toml::from_str(&format!("offset = 0.0\nlines = {{ a = {line} }}")).unwrap();
            twin.lines("x", &columns).unwrap_err().to_string()
        };
        assert_eq!(
            fault("[[1.0, 0.0], [1.0, 2.0]]"),
            "face-lines.toml: x.lines, a is `[[1.0, 0.0], [1.0, 2.0]]`; allowed: one point or more, first numbers rising"
        );
        assert!(fault("[]").contains("one point or more"));
        assert_eq!(
            fault("[[nan, 0.0]]"),
            "face-lines.toml: a number of x is `NaN`; allowed: a finite number"
        );
    }
}
