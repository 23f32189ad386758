//! The built program: whole answers, errors and exit codes.

mod check;
mod face;
mod face_bad;
mod history;
mod plan;
mod published;
mod regressions;
mod soak;
pub(crate) mod spark;
mod start;
mod stories;

use assert_cmd::Command;
use std::path::Path;

/// `snapspark` with a plain environment.
pub(crate) fn snapspark() -> Command {
    let mut command = Command::cargo_bin("snapspark").expect("the program is built");
    command.env_remove("RUST_BACKTRACE").current_dir(crate::support::project(""));
    command
}

/// Standard output, standard error and exit code.
pub(crate) struct Said {
    pub(crate) out: String,
    pub(crate) err: String,
    pub(crate) code: Option<i32>,
}

pub(crate) fn run(command: &mut Command) -> Said {
    let output = command.output().expect("the program starts");
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("it speaks UTF-8");
    Said { out: text(&output.stdout), err: text(&output.stderr), code: output.status.code() }
}

/// A run sheet in a folder of its own.
fn sheet(folder: &Path, text: &str) -> std::path::PathBuf {
    let path = folder.join("run.toml");
    std::fs::write(&path, text).expect("the folder can be written to");
    path
}
