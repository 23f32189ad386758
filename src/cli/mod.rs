//! The command line: arguments, one file per command, exit codes.

mod args;
mod at_rig;
mod check;
mod drawings;
mod earlier;
mod exit;
mod face;
mod face_args;
mod face_looking;
mod known;
mod looking;
mod paint;
mod plan;
mod soak;
mod spark;
mod start;
mod told_run;
mod train;
mod train_known;

pub use exit::Exit;

use anstream::AutoStream;
use args::{Args, Command};
use clap::{ColorChoice, Parser};
use std::io::{self, Write};
use std::process::ExitCode;

/// Runs the program on its arguments. Usage errors leave with clap's code, which is
/// [`Exit::Usage`].
pub fn run() -> ExitCode {
    let args = Args::parse();
    let answer = match args.command {
        Command::Check(args) => check::check(&args),
        Command::Start(args) => start::start(&args),
        Command::Soak(args) => soak::soak(&args),
        Command::Plan(args) => plan::plan(&args),
        Command::Spark(args) => spark::spark(&args),
        Command::Face(args) => face::face(&args),
        Command::Known(args) => known::known(&args),
        Command::Train(args) => train::train(&args),
    };
    let exit = match answer {
        Ok(answer) => print(&answer, args.color),
        Err(message) => {
            // nothing is left to do if even this cannot be written
            let _ = writeln!(io::stderr(), "{message}");
            Exit::Input
        }
    };
    exit.into()
}

/// What a command says: the answer, remarks that must not mix with it, and how the program ends.
struct Answer {
    /// May hold colours.
    text: String,
    remarks: String,
    exit: Exit,
}

impl Answer {
    /// An answer without remarks that leaves nothing open.
    fn done(text: String) -> Self {
        Self { text, remarks: String::new(), exit: Exit::Done }
    }
}

fn print(answer: &Answer, color: ColorChoice) -> Exit {
    let _ = io::stderr().write_all(answer.remarks.as_bytes());
    let choice = match color {
        // terminals, NO_COLOR and the like
        ColorChoice::Auto => anstream::ColorChoice::Auto,
        ColorChoice::Always => anstream::ColorChoice::Always,
        ColorChoice::Never => anstream::ColorChoice::Never,
    };
    let mut out = AutoStream::new(io::stdout().lock(), choice);
    match out.write_all(answer.text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => answer.exit,
        // the reader has seen enough: `| head`
        Err(e) if e.kind() == io::ErrorKind::BrokenPipe => answer.exit,
        Err(e) => {
            let _ = writeln!(io::stderr(), "error: the answer cannot be written: {e}");
            Exit::Input
        }
    }
}
