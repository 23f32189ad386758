/// Where lines begin in a text.
#[derive(Debug)]
pub(in crate::files) struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    pub(in crate::files) fn of(text: &'t str) -> Self {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(i, _)| i + 1)).collect();
        Self { text, starts }
    }

    /// Line and character, both from 1, of the byte at `offset`.
    pub(in crate::files) fn place(&self, offset: usize) -> (usize, usize) {
        let line = self.starts.partition_point(|&s| s <= offset).max(1);
        let start = self.starts.get(line - 1).copied().unwrap_or(0);
        let before = self.text.get(start..offset).unwrap_or("");
        (line, before.chars().count() + 1)
    }

    /// The line, from 1, without its end.
    pub(in crate::files) fn line(&self, number: usize) -> &'t str {
        let start = number.checked_sub(1).and_then(|i| self.starts.get(i));
        let rest = start.and_then(|&s| self.text.get(s..)).unwrap_or("");
        rest.split('\n').next().unwrap_or("").trim_end_matches('\r')
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_lines_and_characters() {
        let lines = Lines::of("a = 1\r\n\nµm = 2");
        assert_eq!(lines.place(0), (1, 1));
        assert_eq!(lines.place(4), (1, 5));
        assert_eq!(lines.place(8), (3, 1));
        assert_eq!(lines.place(10), (3, 2));
        assert_eq!(lines.place(999), (3, 1));
        assert_eq!((lines.line(1), lines.line(2), lines.line(3), lines.line(9)), ("a = 1", "", "µm = 2", ""));
    }
}
