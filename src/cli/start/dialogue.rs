use std::io::{self, BufRead, Read, Write};

/// More of one line is not kept, in bytes.
const LONGEST: u64 = 4096;
/// So much of the rest is passed over; a line that goes on even then counts as the next ones.
const MOST_PASSED_OVER: usize = 1024 * 1024;

/// Lines out, lines in: a person at a terminal or a pipe.
pub(super) struct Dialogue<'d> {
    pub(super) input: &'d mut dyn BufRead,
    pub(super) output: &'d mut dyn Write,
    /// Whether answers are shown after their question, which a terminal does by itself.
    pub(super) echo: bool,
}

impl Dialogue<'_> {
    /// Says one or more lines.
    pub(super) fn say(&mut self, lines: &str) {
        // who cannot hear can still answer; the sheet is kept either way
        let _ = writeln!(self.output, "{lines}");
    }

    /// Asks, and gives the answer without what a terminal would act on; `None` at the end of input.
    pub(super) fn ask(&mut self, question: &str) -> io::Result<Option<String>> {
        let _ = write!(self.output, "{question} ").and_then(|()| self.output.flush());
        let answer = self.line()?;
        if self.echo || answer.is_none() {
            self.say(answer.as_deref().unwrap_or_default());
        }
        Ok(answer)
    }

    fn line(&mut self) -> io::Result<Option<String>> {
        let mut bytes = Vec::new();
        if (&mut *self.input).take(LONGEST).read_until(b'\n', &mut bytes)? == 0 {
            return Ok(None);
        }
        if !bytes.ends_with(b"\n") {
            self.skip_the_rest()?;
        }
        let text = String::from_utf8_lossy(&bytes);
        let text = text.trim_start_matches('\u{feff}').replace(char::is_control, " ");
        Ok(Some(text.trim().to_string()))
    }

    fn skip_the_rest(&mut self) -> io::Result<()> {
        let mut passed = 0;
        while passed < MOST_PASSED_OVER {
            let there = self.input.fill_buf()?;
            let end = there.iter().position(|&b| b == b'\n');
            let length = end.map_or(there.len(), |end| end + 1);
            self.input.consume(length);
            if end.is_some() || length == 0 {
                break;
            }
            passed += length;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answers(input: &[u8]) -> (Vec<String>, String) {
        let (mut input, mut output) = (input, Vec::new());
        let mut dialogue = Dialogue { input: &mut input, output: &mut output, echo: true };
        let answers = std::iter::from_fn(|| dialogue.ask("Why?").unwrap()).collect();
        (answers, String::from_utf8(output).unwrap())
    }

    #[test]
    fn takes_lines_as_they_come() {
        let (got, shown) = answers(b"\xef\xbb\xbf 3 mm\r\n\n\x1b[2Jx\xff");
        assert_eq!(got, ["3 mm", "", "[2Jx\u{fffd}"]);
        assert_eq!(shown, "Why? 3 mm\nWhy? \nWhy? [2Jx\u{fffd}\nWhy? \n");
    }

    #[test]
    fn a_line_without_end_is_cut() {
        let mut long = vec![b'a'; 3 * LONGEST as usize];
        long.extend(b"\nnext");
        let (got, _) = answers(&long);
        assert_eq!((got[0].len(), got[1].as_str(), got.len()), (LONGEST as usize, "next", 2));
    }
}
