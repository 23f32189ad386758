use std::process::ExitCode;

/// How the program ends. The only place where exit codes are given numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// It did what was asked; for `check`: it took, or partly.
    Done = 0,
    /// Something in the input or on disk was wrong.
    Input = 1,
    /// The command line made no sense (clap leaves with this one).
    Usage = 2,
    /// It did not take.
    NotTaken = 3,
    /// Whether it took cannot be told.
    CannotTell = 4,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}
