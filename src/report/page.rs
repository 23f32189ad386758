use super::{Chart, Line};

/// Widest line, characters.
const WIDTH: usize = 80;
/// Columns of a comparison: what, seen, should be, word.
const COLUMNS: [usize; 4] = [21, 23, 20, 9];

/// What a word stands for, for whoever shows colours. The word says the same without them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// Plain text.
    Plain,
    /// As it should be.
    Good,
    /// Open, or neither.
    Middling,
    /// Not as it should be.
    Bad,
}

/// A stretch of a line in one tone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Span {
    /// The text.
    pub text: String,
    /// Its tone.
    pub tone: Tone,
}

/// Text laid out for 80 columns.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Page {
    /// Lines, none wider than 80 characters.
    pub lines: Vec<Vec<Span>>,
}

/// One row of a comparison, as shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Comparison {
    /// What it is, with its criterion.
    pub what: String,
    /// What was seen.
    pub seen: String,
    /// What should have been.
    pub expected: String,
    /// What that comes to.
    pub word: &'static str,
    /// Its tone.
    pub tone: Tone,
}

impl Page {
    /// The lines as plain text.
    pub fn text(&self) -> String {
        let line =
            |spans: &Vec<Span>| spans.iter().map(|s| s.text.as_str()).chain(["\n"]).collect::<String>();
        self.lines.iter().map(line).collect()
    }

    pub(super) fn line(&mut self, text: &str) {
        self.lines.push(vec![plain(text.trim_end())]);
    }

    pub(super) fn blank(&mut self) {
        self.lines.push(Vec::new());
    }

    /// An empty line, then a heading.
    pub(super) fn heading(&mut self, text: &str) {
        self.blank();
        self.paragraph("", "  ", text);
    }

    /// "label: ANSWER", and a sentence below.
    pub(super) fn headline(&mut self, label: &str, answer: &str, tone: Tone, words: &str) {
        let answer = Span { text: answer.to_string(), tone };
        self.lines.push(vec![plain(&format!("{label}: ")), answer]);
        self.paragraph("  ", "  ", words);
    }

    /// Breaks `words` at spaces, and words that are longer than a line anywhere.
    pub(super) fn paragraph(&mut self, first: &str, rest: &str, words: &str) {
        let width = WIDTH - first.len().max(rest.len());
        for (i, line) in wrapped(words, width).iter().enumerate() {
            self.line(&format!("{}{line}", if i == 0 { first } else { rest }));
        }
    }

    pub(super) fn list(&mut self, heading: &str, items: &[String]) {
        if items.is_empty() {
            return;
        }
        self.heading(heading);
        for item in items {
            self.paragraph("  - ", "    ", item);
        }
    }

    pub(super) fn rows(&mut self, lines: &[Line]) {
        let wide = |f: fn(&Line) -> &String| lines.iter().map(|l| f(l).chars().count()).max().unwrap_or(0);
        let (label, value) = (wide(|l| &l.label), wide(|l| &l.value));
        for line in lines {
            let start = format!("  {:<label$}  {:>value$}", line.label, line.value);
            let row = format!("{start}  {}", line.range);
            // a range that does not fit goes below its value
            if row.trim_end().chars().count() > WIDTH {
                self.line(&start);
                self.line(&format!("{:>WIDTH$}", line.range));
            } else {
                self.line(&row);
            }
        }
    }

    pub(super) fn chart(&mut self, chart: &Chart, legend: &str) {
        self.blank();
        for line in &chart.lines {
            self.line(line);
        }
        self.paragraph("       ", "       ", legend);
    }

    /// Rows of cells; what is too long for its column takes several lines.
    pub(super) fn table<const N: usize>(&mut self, widths: [usize; N], rows: &[[String; N]]) {
        for row in rows {
            let cells: Vec<Vec<String>> =
                row.iter().zip(widths).map(|(text, width)| wrapped(text, width)).collect();
            for i in 0..cells.iter().map(Vec::len).max().unwrap_or(0) {
                let cell = |(lines, width): (&Vec<String>, usize)| {
                    let text = lines.get(i).map_or("", String::as_str);
                    format!(" {text:width$}")
                };
                let line: String = cells.iter().zip(widths).map(cell).collect();
                self.line(&format!(" {line}"));
            }
        }
    }

    /// Rows of what was seen beside what should have been; cells that are too long take several lines.
    pub(super) fn comparison(&mut self, rows: &[Comparison]) {
        let [what, seen, expected, _] = COLUMNS;
        self.line(&format!("  {:what$} {:seen$} {:expected$}", "", "seen", "should be"));
        for row in rows {
            let cells = [(&row.what, what), (&row.seen, seen), (&row.expected, expected)];
            let cells = cells.map(|(text, width)| wrapped(text, width));
            let height = cells.iter().map(Vec::len).max().unwrap_or(0);
            for i in 0..height {
                let cell = |n: usize| cells[n].get(i).map_or("", String::as_str);
                let text = format!("  {:what$} {:seen$} {:expected$}", cell(0), cell(1), cell(2));
                if i == 0 {
                    let word = Span { text: row.word.to_string(), tone: row.tone };
                    self.lines.push(vec![plain(&format!("{text} ")), word]);
                } else {
                    self.line(&text);
                }
            }
        }
    }
}

fn plain(text: &str) -> Span {
    Span { text: text.to_string(), tone: Tone::Plain }
}

/// `words` in lines of at most `width` characters; at least one line.
pub(super) fn wrapped(words: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in with_units(words).iter().flat_map(|word| pieces(word, width)) {
        let last = lines.len() - 1;
        let long = lines[last].chars().count() + 1 + word.chars().count();
        if lines[last].is_empty() {
            lines[last] = word;
        } else if long > width {
            lines.push(word);
        } else {
            lines[last] += " ";
            lines[last] += &word;
        }
    }
    lines
}

/// Words, a number and its unit as one.
fn with_units(words: &str) -> Vec<String> {
    const UNITS: [&str; 9] = ["%C", "%", "mm", "°C", "HRC", "HV", "mg", "min", "g/m²"];
    let mut list: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        let unit = UNITS.contains(&word.trim_end_matches(['.', ',', ';', ':', ')']));
        match list.last_mut().filter(|last| unit && last.ends_with(|c: char| c.is_ascii_digit())) {
            Some(number) => {
                number.push(' ');
                number.push_str(word);
            }
            None => list.push(word.to_string()),
        }
    }
    list
}

/// `word` in pieces of at most `longest` characters.
fn pieces(word: &str, longest: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters.chunks(longest.max(1)).map(|part| part.iter().collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn widths(page: &Page) -> Vec<usize> {
        page.text().lines().map(|l| l.chars().count()).collect()
    }

    #[test]
    fn a_range_that_does_not_fit_goes_below() {
        let mut page = Page::default();
        let range = "-268.6 to -178.7 g/m²".to_string();
        page.rows(&[Line { label: "x".repeat(44), value: "-241.9 g/m²".into(), range }]);
        assert_eq!(widths(&page), [59, 80]);
    }

    #[test]
    fn stays_within_the_line() {
        let mut page = Page::default();
        let long = "ü".repeat(200);
        page.paragraph("  - ", "    ", &format!("a {long} end"));
        page.comparison(&[Comparison {
            what: long.clone(),
            seen: long.clone(),
            expected: long,
            word: "shallower",
            tone: Tone::Bad,
        }]);
        assert!(widths(&page).iter().all(|w| *w <= WIDTH), "{}", page.text());
        assert!(page.text().contains("end"));
    }

    #[test]
    fn a_number_keeps_its_unit() {
        assert_eq!(wrapped("left is 0.35 mm, at 20 °C", 12), ["left is", "0.35 mm, at", "20 °C"]);
        assert_eq!(wrapped("no mm here", 5), ["no mm", "here"]);
    }

    #[test]
    fn only_the_last_word_of_a_row_has_a_tone() {
        let mut page = Page::default();
        let cell = String::from;
        let (what, seen, expected) = (cell("sparks"), cell("a b ".repeat(12).as_str()), cell("1"));
        page.comparison(&[Comparison { what, seen, expected, word: "fits", tone: Tone::Good }]);
        let toned: Vec<&Span> = page.lines.iter().flatten().filter(|s| s.tone != Tone::Plain).collect();
        assert_eq!(toned, [&Span { text: "fits".into(), tone: Tone::Good }]);
    }
}
