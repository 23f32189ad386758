//! Parse, run, print the answer or the error, exit.

use std::process::ExitCode;

fn main() -> ExitCode {
    snapspark::cli::run()
}
