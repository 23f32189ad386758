use super::{Line, SoakReport};

/// Widest line, characters.
const WIDTH: usize = 80;

/// Lays a report out for a terminal of 80 columns.
pub fn text(report: &SoakReport) -> String {
    let mut out = String::new();
    paragraph(&mut out, "", "", &report.title);
    paragraph(
        &mut out,
        "",
        "",
        "Best value, then the range it should lie in nine times out of ten (judged).",
    );
    for section in &report.sections {
        out.push('\n');
        paragraph(&mut out, "", "  ", &section.heading);
        rows(&mut out, &section.lines);
    }
    out.push('\n');
    for line in &report.chart.lines {
        out.push_str(line);
        out.push('\n');
    }
    paragraph(&mut out, "       ", "       ", &report.legend);
    if !report.doubts.is_empty() {
        out.push_str("\nWhere the doubt in the visible case depth comes from\n");
        rows(&mut out, &report.doubts);
    }
    list(&mut out, "To know", &report.notes);
    list(&mut out, "Rests on", &report.rests_on);
    list(&mut out, "Cautions", &report.cautions);
    out
}

fn rows(out: &mut String, lines: &[Line]) {
    let wide = |f: fn(&Line) -> &String| lines.iter().map(|l| f(l).chars().count()).max().unwrap_or(0);
    let (label, value) = (wide(|l| &l.label), wide(|l| &l.value));
    for line in lines {
        let start = format!("  {:<label$}  {:>value$}", line.label, line.value);
        let row = format!("{start}  {}", line.range);
        // a range that does not fit goes below its value
        if row.trim_end().chars().count() > WIDTH {
            let range = format!("{:>WIDTH$}", line.range);
            out.extend([start.trim_end(), "\n", &range, "\n"]);
        } else {
            out.extend([row.trim_end(), "\n"]);
        }
    }
}

fn list(out: &mut String, heading: &str, items: &[String]) {
    if items.is_empty() {
        return;
    }
    out.push('\n');
    out.push_str(heading);
    out.push('\n');
    for item in items {
        paragraph(out, "  - ", "    ", item);
    }
}

/// Breaks `words` at spaces, and words that are longer than a line anywhere.
fn paragraph(out: &mut String, first: &str, rest: &str, words: &str) {
    let mut line = first.to_string();
    let mut empty = true;
    let longest = WIDTH - first.len().max(rest.len());
    for word in words.split_whitespace().flat_map(|word| pieces(word, longest)) {
        if !empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
            out.push_str(line.trim_end());
            out.push('\n');
            line = rest.to_string();
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(&word);
        empty = false;
    }
    out.push_str(line.trim_end());
    out.push('\n');
}

/// `word` in pieces of at most `longest` characters.
fn pieces(word: &str, longest: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters.chunks(longest.max(1)).map(|part| part.iter().collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_that_does_not_fit_goes_below() {
        let mut out = String::new();
        let range = "-268.6 to -178.7 g/m²".to_string();
        rows(&mut out, &[Line { label: "x".repeat(44), value: "-241.9 g/m²".into(), range }]);
        assert_eq!(out.lines().count(), 2, "{out}");
        assert!(out.lines().all(|l| l.chars().count() <= WIDTH), "{out}");
    }

    #[test]
    fn stays_within_the_line() {
        let mut out = String::new();
        let long = "x".repeat(200);
        paragraph(&mut out, "  - ", "    ", &format!("a {long} end"));
        assert!(out.lines().all(|l| l.chars().count() <= WIDTH), "{out}");
        assert!(out.contains("end"));
    }
}
