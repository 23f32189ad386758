use clap::{ColorChoice, Parser, Subcommand};
use std::path::PathBuf;

/// Read a pack-carburized coupon: what the soak should have given, what it shows, what to do now.
///
/// An aid to judgement, not a certificate. Local codes and licensed practice come first.
#[derive(Debug, Parser)]
#[command(version, max_term_width = 80)]
pub(super) struct Args {
    #[command(subcommand)]
    pub(super) command: Command,

    /// Colour the answer words: auto (a terminal, unless `NO_COLOR` is set), always or never.
    #[arg(
        long,
        global = true,
        value_name = "WHEN",
        default_value = "auto",
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub(super) color: ColorChoice,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    Check(CheckArgs),
    Start(StartArgs),
    Soak(SoakArgs),
    Train(TrainArgs),
}

/// Say whether it took, whether that fits the soak, and what to do now.
///
/// Reads a run sheet with what was seen of the coupon (sparks, fracture, file, skin, weight), holds it
/// against what the soak should have given, and names what explains it best. What nobody saw counts as
/// missing; "cannot tell" is a normal answer.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  snapspark check examples/first-run/run.toml
  snapspark check run.toml --json > answer.json

Exit codes: 0 it took, or partly; 1 an error in the input or on disk; 2 wrong
usage; 3 it did not take; 4 cannot tell whether it took. A case deeper than the
soak explains is no failed run.")]
pub(super) struct CheckArgs {
    /// Run sheet (TOML); its temperature log is looked for beside it.
    #[arg(value_name = "RUN.toml")]
    pub(super) run: PathBuf,

    /// Also write the predicted carbon profile after each stage: stage, depth in mm, carbon in wt%.
    #[arg(long, value_name = "OUT.csv")]
    pub(super) profile: Option<PathBuf>,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,
}

/// Ask ten plain questions about a run, write its run sheet, and answer at once.
///
/// Enter takes what stands in brackets, "?" means that nobody knows. Each answer is kept in the
/// sheet as soon as it is given, so the questions can be left at any time; the same command goes on
/// with those that are open. Questions go to standard error, the answer to standard output; answers
/// may come through a pipe, one a line.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  snapspark start marking-knife.toml

Exit codes: 0 it took, or partly, or left before the end; 1 an error in the
input or on disk; 2 wrong usage; 3 it did not take; 4 cannot tell whether it
took.")]
pub(super) struct StartArgs {
    /// Run sheet to write, or to go on with. One that was finished, or that has other lines than
    /// these questions make, is never written over.
    #[arg(value_name = "RUN.toml", default_value = "run.toml")]
    pub(super) run: PathBuf,

    /// Start anew; the file that is there is kept as RUN.toml.bak (.bak2, .bak3 and so on).
    #[arg(long)]
    pub(super) over: bool,
}

/// Predict what a logged soak should have given: carbon profile, case depths, edge carbon.
///
/// Reads a run sheet, follows the steel's own temperature through pack and wall, and moves carbon
/// through it. Every number has a range; every depth names its criterion.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  snapspark soak examples/first-run/run.toml --profile profile.csv

Exit codes: 0 done, 1 an error in the input or on disk, 2 wrong usage.")]
pub(super) struct SoakArgs {
    /// Run sheet (TOML); its temperature log is looked for beside it.
    #[arg(value_name = "RUN.toml")]
    pub(super) run: PathBuf,

    /// Also write the carbon profile after each stage: stage, depth in mm, carbon in wt%.
    #[arg(long, value_name = "OUT.csv")]
    pub(super) profile: Option<PathBuf>,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,
}

/// Fit the trees again from the training data that ships, and compare them with the ones that ship.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  snapspark train               says whether models/ follows from training-data/
  snapspark train --out models  writes the trees anew

Exit codes: 0 they are the same or were written, 1 they differ or cannot be written, 2 wrong usage.")]
pub(super) struct TrainArgs {
    /// Write the trees into this folder instead of comparing.
    #[arg(long, value_name = "FOLDER")]
    pub(super) out: Option<PathBuf>,
}
