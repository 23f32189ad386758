//! Bytes of a log: what kind of file it is, its separator, its lines.

use crate::files::log_csv::MOST_BYTES;
use crate::files::problem::Problem;
use std::borrow::Cow;

/// Why `bytes` are no table in text at all.
pub(in crate::files) fn not_a_table(bytes: &[u8], file: &str) -> Option<Problem> {
    let problem = |message: &str, help: &str| Some(Problem::error(file, message).help(help));
    if bytes.len() as u64 > MOST_BYTES {
        return problem(
            "longer than 64 MiB",
            "write one reading every few seconds, and only the columns needed",
        );
    }
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        return problem("saved as UTF-16", "save it as \"CSV UTF-8\"");
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xd0\xcf\x11\xe0") {
        return problem("a spreadsheet, not a CSV file", "save it from the spreadsheet as CSV");
    }
    if bytes.contains(&0) {
        return problem("not a text file", "export the log as CSV");
    }
    None
}

/// The separator that the first line with content uses: tab, semicolon or comma.
pub(in crate::files) fn separator(bytes: &[u8]) -> u8 {
    let mut lines = bytes.split(|&b| b == b'\n' || b == b'\r');
    let header = lines.find(|l| !l.trim_ascii().is_empty() && !l.starts_with(b"#")).unwrap_or_default();
    [b'\t', b';'].into_iter().find(|s| header.contains(s)).unwrap_or(b',')
}

/// Text of a cell: UTF-8, or else one character a byte as old loggers write (° is 0xB0).
pub(in crate::files) fn latin(bytes: &[u8]) -> Cow<'_, str> {
    match std::str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(bytes.iter().map(|&b| char::from(b)).collect()),
    }
}

/// Counts lines up to each record. The csv crate counts from the end of the record before, so
/// comments and blank lines in between are skipped here.
pub(in crate::files) struct Lines<'b> {
    bytes: &'b [u8],
    at: usize,
    line: usize,
}

impl<'b> Lines<'b> {
    pub(in crate::files) fn of(bytes: &'b [u8]) -> Self {
        Self { bytes, at: 0, line: 1 }
    }

    /// The line, from 1, on which `record` begins.
    pub(in crate::files) fn of_record(&mut self, record: &csv::ByteRecord) -> usize {
        let start = record.position().and_then(|p| usize::try_from(p.byte()).ok()).unwrap_or(self.at);
        while self.at < start.min(self.bytes.len()) {
            self.step();
        }
        loop {
            match self.bytes.get(self.at) {
                Some(b'\n' | b'\r') => self.step(),
                Some(b'#') => self.skip_comment(),
                _ => return self.line,
            }
        }
    }

    fn step(&mut self) {
        let next_is_newline = || self.bytes.get(self.at + 1) == Some(&b'\n');
        match self.bytes.get(self.at) {
            Some(b'\n') => self.line += 1,
            Some(b'\r') if !next_is_newline() => self.line += 1,
            _ => {}
        }
        self.at += 1;
    }

    fn skip_comment(&mut self) {
        while !matches!(self.bytes.get(self.at), None | Some(b'\n' | b'\r')) {
            self.at += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record_lines(text: &str) -> Vec<usize> {
        let mut lines = Lines::of(text.as_bytes());
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .comment(Some(b'#'))
            .from_reader(text.as_bytes());
        reader.byte_records().map(|r| lines.of_record(&r.unwrap())).collect()
    }

    #[test]
    fn counts_lines_across_comments_and_blanks() {
        assert_eq!(record_lines("# a\n\nt,c\n1,2\n# b\n\n3,4"), [3, 4, 7]);
        assert_eq!(record_lines("# a\r\n\r\nt,c\r\n1,2\r\n# b\r\n3,4\r\n"), [3, 4, 6]);
        assert_eq!(record_lines("t,c\r1,2\r\r3,4"), [1, 2, 4]);
    }

    #[test]
    fn finds_the_separator_in_the_header() {
        assert_eq!(separator(b"# a;b\ntime,temp\n1;2"), b',');
        assert_eq!(separator(b"\ntime;temp\n"), b';');
        assert_eq!(separator(b"time\ttemp (C, inside)\n"), b'\t');
    }

    #[test]
    fn keeps_the_degree_sign_of_old_loggers() {
        assert_eq!(latin(b"temp \xb0C"), "temp °C");
        assert_eq!(latin("temp °C".as_bytes()), "temp °C");
    }
}
