//! What is no TOML at all, said for people who never heard of TOML.

use super::lines::Lines;
use crate::files::problem::{Problem, shown};
use std::collections::BTreeMap;

/// Whether a section's header is among the broken lines: then what follows it is in no section.
pub(in crate::files) fn breaks_a_section(lines: &Lines<'_>, problems: &[(usize, Problem)]) -> bool {
    problems.iter().filter_map(|(_, p)| p.line).any(|line| lines.line(line).trim_start().starts_with('['))
}

/// One problem a line, with its place in bytes.
pub(in crate::files) fn problems(
    file: &str,
    one: &str,
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
            (at, explain(problem, one, content, &section_above(lines, line), message))
        })
        .collect()
}

fn explain(problem: Problem, one: &str, content: &str, section: &str, message: &str) -> Problem {
    let pair = content.split_once('=').map(|(key, value)| (key.trim(), value.trim()));
    let bare_key =
        |key: &str| !key.is_empty() && key.chars().all(|c| c.is_alphanumeric() || "_-.\"".contains(c));
    let Some((key, value)) = pair.filter(|(key, _)| bare_key(key)) else {
        return explain_other(&problem, one, content.trim(), message);
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
    if let Some((whole, part)) = value.split_once(',')
        && [whole, part].iter().all(|v| v.starts_with(|c: char| c.is_ascii_digit()))
    {
        return with(format!("`{}` has a decimal comma and no quotes", shown(value))).help(format!(
            "write decimals with a point and the unit: {key} = \"{whole}.{} ...\"",
            digits(part)
        ));
    }
    if quotes == 0 && !value.starts_with(['[', '{', '\'']) {
        let plain = value.split('#').next().unwrap_or(value).trim();
        return with(format!("`{}` stands without quotes", shown(plain)))
            .help(format!("write {key} = \"{}\"", shown(plain)));
    }
    with(format!("`{}`: {message}", shown(value)))
        .help("texts stand in \"quotes\", lists in [brackets] with commas between the entries")
}

/// A line that is no `field = value`.
fn explain_other(problem: &Problem, one: &str, line: &str, message: &str) -> Problem {
    let with = |message: String| Problem { message, ..problem.clone() };
    let name = line.trim_matches(['[', ']', ' ']);
    if line.starts_with('[') && message.contains("duplicate") {
        return with(format!("the section [{}] stands here a second time", shown(name)))
            .help("put all its fields under one header");
    }
    if line.starts_with('[') && !line.contains(']') {
        return with(format!("the section name `{}` is not closed", shown(line)))
            .help(format!("write [{}]", shown(name)));
    }
    if line.is_empty() {
        return with(format!("the file ends too early: {message}"))
            .help("is a quote or a bracket not closed?");
    }
    let why = if message.starts_with("key with no value") { String::new() } else { format!(": {message}") };
    with(format!("`{}` is no line of {one}{why}", shown(line)))
        .help("every line is [section], field = \"value\", or a # comment")
}

fn digits(text: &str) -> &str {
    text.split(|c: char| !c.is_ascii_digit()).next().unwrap_or("")
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
