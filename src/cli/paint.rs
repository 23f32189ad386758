//! Colours for a terminal. What is painted says the same in words.

use crate::files::problem::harmless;
use crate::report::{Page, Span, Tone};
use anstyle::{AnsiColor, Style};

/// A page as text with colours; whoever prints it takes them out where none are wanted.
pub(super) fn paint(page: &Page) -> String {
    page.lines
        .iter()
        .map(|line| line.iter().map(span).chain(["\n".to_string()]).collect::<String>())
        .collect()
}

fn span(span: &Span) -> String {
    // the sheet's own words are in it: nothing may be left that a terminal acts on
    let text = harmless(&span.text);
    let colour = match span.tone {
        Tone::Plain => return text,
        Tone::Good => AnsiColor::Green,
        Tone::Middling => AnsiColor::Yellow,
        Tone::Bad => AnsiColor::Red,
    };
    let style = Style::new().bold().fg_color(Some(colour.into()));
    format!("{style}{text}{style:#}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paints_words_with_a_tone_and_nothing_else() {
        let span = |text: &str, tone| Span { text: text.into(), tone };
        let lines = vec![
            vec![span("Took: ", Tone::Plain), span("NO", Tone::Bad)],
            vec![span("a\u{1b}b", Tone::Plain)],
        ];
        assert_eq!(paint(&Page { lines }), "Took: \u{1b}[1m\u{1b}[31mNO\u{1b}[0m\na\\u{1b}b\n");
    }
}
