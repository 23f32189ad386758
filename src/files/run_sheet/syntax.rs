//! What is no TOML at all, said for people who never heard of TOML.

use super::lines::Lines;
use crate::files::problem::{Problem, shown};
use std::collections::BTreeMap;

/// One problem a line, with its place in bytes.
pub(super) fn problems(
    file: &str,
    text: &str,
    lines: &Lines<'_>,
    errors: &[toml::de::Error],
) -> Vec<(usize, Problem)> {
    let mut first_on_line = BTreeMap::new();
    for error in errors {
        let at = error.span().map_or(text.len(), |span| span.start.min(text.len()));
        let (line, column) = lines.place(at);
        first_on_line.entry(line).or_insert((at, column, error.message()));
    }
    first_on_line
        .into_iter()
        .map(|(line, (at, column, message))| {
            let content = lines.line(line);
            let problem = Problem::error(file, "").at(line, column);
            (at, explain(problem, content, &section_above(lines, line), message))
        })
        .collect()
}

fn explain(problem: Problem, content: &str, section: &str, message: &str) -> Problem {
    let pair = content.split_once('=').map(|(key, value)| (key.trim(), value.trim()));
    let bare_key =
        |key: &str| !key.is_empty() && key.chars().all(|c| c.is_alphanumeric() || "_-.\"".contains(c));
    let Some((key, value)) = pair.filter(|(key, _)| bare_key(key)) else {
        let said = Problem { message: format!("`{}`: {message}", shown(content.trim())), ..problem };
        return said.help("every line is [section], field = \"value\", or a # comment");
    };
    let field = if section.is_empty() { key.to_string() } else { format!("{section}.{key}") };
    let problem = problem.in_field(&field);
    let with = |message: String| Problem { message, ..problem.clone() };
    let quotes = value.matches('"').count();
    if message.contains("duplicate") {
        return with(format!("`{key}` stands here a second time")).help("keep one of the two lines");
    }
    if value.is_empty() {
        return with("no value after the `=`".into())
            .help(format!("write {key} = \"...\", \"unknown\", or take the line out"));
    }
    if value.starts_with(['“', '”', '„', '‘']) {
        return with(format!("`{}` has curly quotes", shown(value))).help("write straight quotes: \"...\"");
    }
    if value.starts_with('"') && quotes == 1 {
        return with(format!("the text `{}` is not closed", shown(value))).help("end it with a \"");
    }
    if value.starts_with('"') && value.ends_with('"') && value.contains('\\') {
        return with(format!("`{}` has a backslash, which stands for special characters", shown(value)))
            .help("write paths with / instead of \\");
    }
    if quotes == 0 && !value.starts_with(['[', '{', '\'']) {
        let plain = value.split('#').next().unwrap_or(value).trim();
        return with(format!("`{}` stands without quotes", shown(plain)))
            .help(format!("write {key} = \"{}\"", shown(plain)));
    }
    with(format!("`{}`: {message}", shown(value)))
        .help("texts stand in \"quotes\", lists in [brackets] with commas between the entries")
}

/// The section whose header stands last above `line`.
fn section_above(lines: &Lines<'_>, line: usize) -> String {
    (1..=line)
        .rev()
        .map(|n| lines.line(n).trim())
        .find(|l| l.starts_with('['))
        .map(|l| l.trim_start_matches('[').split(']').next().unwrap_or("").trim().to_string())
        .unwrap_or_default()
}
