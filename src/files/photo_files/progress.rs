use crate::files::problem::harmless;
use std::io::{IsTerminal, Write, stderr};

/// One line on the terminal that says which of many photos is being read; nothing where there is no terminal.
/// The library for such bars would add six crates for a line that needs neither speed nor time left.
#[derive(Debug)]
pub struct PhotoProgress {
    total: usize,
    shown: bool,
}

impl PhotoProgress {
    /// Fewer photos than this are read before a line could be.
    const LEAST: usize = 3;
    /// Columns that names may take.
    const NAME: usize = 50;

    /// For so many photos.
    pub fn new(total: usize) -> Self {
        Self { total, shown: total >= Self::LEAST && stderr().is_terminal() }
    }

    /// Says that photo `number`, from 1, is now read.
    pub fn show(&self, number: usize, name: &str) {
        if self.shown {
            let name: String = harmless(name).chars().take(Self::NAME).collect();
            write(&format!("\r\x1b[K{number} of {}: {name}", self.total));
        }
    }
}

impl Drop for PhotoProgress {
    /// Wipes the line, so that answers stand alone.
    fn drop(&mut self) {
        if self.shown {
            write("\r\x1b[K");
        }
    }
}

fn write(text: &str) {
    let mut out = stderr();
    // A terminal that went away misses nothing that matters.
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}
