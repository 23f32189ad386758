//! The command line: arguments, one file per command, exit codes.

mod args;
mod check;
mod exit;
mod soak;
mod start;
mod train;

pub use exit::Exit;

use args::{Args, Command};
use clap::Parser;
use std::io::{self, Write};
use std::process::ExitCode;

/// Runs the program on its arguments. Usage errors leave with clap's code, which is
/// [`Exit::Usage`].
pub fn run() -> ExitCode {
    let answer = match Args::parse().command {
        Command::Check(args) => check::check(&args),
        Command::Start(args) => start::start(&args),
        Command::Soak(args) => soak::soak(&args),
        Command::Train(args) => train::train(&args),
    };
    let exit = match answer {
        Ok(answer) => print(&answer),
        Err(message) => {
            // nothing is left to do if even this cannot be written
            let _ = writeln!(io::stderr(), "{message}");
            Exit::Input
        }
    };
    exit.into()
}

/// What a command says: the answer, and remarks that must not mix with it.
struct Answer {
    text: String,
    remarks: String,
}

fn print(answer: &Answer) -> Exit {
    let _ = io::stderr().write_all(answer.remarks.as_bytes());
    match io::stdout().write_all(answer.text.as_bytes()).and_then(|()| io::stdout().flush()) {
        Ok(()) => Exit::Done,
        // the reader has seen enough: `| head`
        Err(e) if e.kind() == io::ErrorKind::BrokenPipe => Exit::Done,
        Err(e) => {
            let _ = writeln!(io::stderr(), "error: the answer cannot be written: {e}");
            Exit::Input
        }
    }
}
