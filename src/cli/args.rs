use super::at_rig::{EdgeArgs, RigArgs, rig};
use super::earlier::HistoryArgs;
use super::face_args::FaceArgs;
use super::known::KnownArgs;
use super::plan::PlanArgs;
use crate::photo::ScaleMarks;
use crate::spark::SteelState;
use crate::units::{Depth, Quantity, TurningSpeed, parse};
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
    Plan(PlanArgs),
    Spark(SparkArgs),
    Face(FaceArgs),
    Known(KnownArgs),
    Train(TrainArgs),
}

/// Runs drawn where nobody asked for another number: their ranges move by about a hundredth of a millimetre with more.
pub(super) const USUAL_DRAWS: usize = 2048;

/// How what is not known exactly is followed.
#[derive(Debug, Clone, Copy, Default, clap::Args)]
pub(super) struct DrawsArgs {
    /// Runs drawn from everything that is not known exactly, 256 to 65536; more take longer and move the ranges less
    /// [default: 2048].
    #[arg(long, value_name = "COUNT", allow_negative_numbers = true, value_parser = draws)]
    draws: Option<usize>,

    /// Draw none: move each doubt alone to both its ends. At once, but rougher, and without what the run must have been.
    #[arg(long, conflicts_with = "draws")]
    quick: bool,
}

fn draws(text: &str) -> Result<usize, String> {
    let count = text.trim().parse().ok().filter(|count| (256..=65536).contains(count));
    count.ok_or_else(|| "allowed: 256 to 65536, such as --draws 4096".into())
}

impl DrawsArgs {
    /// How many to draw. `None`: none.
    pub(super) fn count(self) -> Option<usize> {
        (!self.quick).then_some(self.draws.unwrap_or(USUAL_DRAWS))
    }
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

    #[command(flatten)]
    pub(super) known: RigArgs,

    #[command(flatten)]
    pub(super) earlier: HistoryArgs,

    #[command(flatten)]
    pub(super) draws: DrawsArgs,

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

    #[command(flatten)]
    pub(super) known: EdgeArgs,

    #[command(flatten)]
    pub(super) earlier: HistoryArgs,

    #[command(flatten)]
    pub(super) draws: DrawsArgs,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,
}

/// Fit the trees again: those that ship, to compare them, or those of your rigs on your known steels.
///
/// Without --set the trees are fitted from the training data that ships and compared with the ones that ship. With --set
/// every rig of the known steels is fitted against the published trend, judged by its own sessions left out, and kept in
/// the set for `spark --rig` and `check --rig`. Photos are measured first where that is not done yet; it can be stopped
/// and gone on with, and the rig as it was serves until then.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  snapspark train               says whether models/ follows from training-data/
  snapspark train --out models  writes the trees anew
  snapspark train --set         fits your rigs on your known steels

Exit codes: 0 they are the same or were written; 1 they differ or cannot be
written; 2 wrong usage; 4 no rig has a known steel to be fitted on.")]
pub(super) struct TrainArgs {
    /// Write the trees into this folder instead of comparing.
    #[arg(long, value_name = "FOLDER", conflicts_with = "set")]
    pub(super) out: Option<PathBuf>,

    /// Fit the rigs of the known steels in this folder; without a folder, those in the platform's folder for data.
    #[arg(long, value_name = "DIR", num_args = 0..=1, default_missing_value = "")]
    pub(super) set: Option<PathBuf>,

    /// Only this rig.
    #[arg(long, value_name = "NAME", requires = "set", value_parser = rig)]
    pub(super) rig: Option<String>,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long, requires = "set")]
    pub(super) json: bool,
}

/// Measure spark photos, and say what they tell of carbon.
///
/// Counts carriers, bursts and rays photo by photo and puts them together; what is not in the photos, or
/// cannot be told apart there, is left out and said. With photos of untreated stock on the same wheel the
/// answer is far better. A photo that cannot be used is refused with the reason and what to do.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  snapspark spark coupon.jpg
  snapspark spark coupon1.jpg coupon2.jpg --against stock1.jpg stock2.jpg
  snapspark spark 'coupon/*.jpg' --against stock/ --overlay found.png
  snapspark spark a.jpg b.jpg c.jpg --touch 2,1 --scale 120,80,620,85=100mm

Photos taken within 20 s of each other are frames of one touch; without times
each is a touch of its own, of no known depth. --touch 2,3 says it for sure: the
first two photos are one touch, the next three another, each deeper than the one
before.

Exit codes: 0 an answer; 1 an error in the input or on disk; 2 wrong usage;
4 cannot tell, or no photo of the coupon can be used.")]
pub(super) struct SparkArgs {
    /// Photos of the coupon's sparks, in the order of the touches: JPEG, PNG, TIFF, WebP; a folder, or a
    /// pattern in quotes.
    #[arg(value_name = "PHOTO", required = true)]
    pub(super) photos: Vec<String>,

    /// Photos of untreated stock on the same wheel, with the same camera.
    #[arg(long, value_name = "PHOTO", num_args = 1..)]
    pub(super) against: Vec<String>,

    /// How many photos each touch of the coupon has.
    #[arg(long, value_name = "N,N", value_delimiter = ',', value_parser = clap::value_parser!(u16).range(1..))]
    pub(super) touch: Vec<u16>,

    /// How many photos each touch of the stock has.
    #[arg(long, value_name = "N,N", value_delimiter = ',', value_parser = clap::value_parser!(u16).range(1..))]
    pub(super) against_touch: Vec<u16>,

    /// Whether the coupon was sparked soft or hardened: a hard one throws more than its carbon says.
    #[arg(long, value_name = "soft|hardened", value_parser = state)]
    pub(super) state: Option<SteelState>,

    /// Whether the stock was sparked soft or hardened.
    #[arg(long, value_name = "soft|hardened", value_parser = state)]
    pub(super) stock_state: Option<SteelState>,

    /// Grade of the stock, such as 1018; without it, unknown mild steel.
    #[arg(long, value_name = "GRADE")]
    pub(super) stock: Option<String>,

    /// Scale from two points of the first photo and how far apart they are.
    #[arg(long, value_name = "x1,y1,x2,y2=100mm", value_parser = scale)]
    pub(super) scale: Option<ScaleMarks>,

    /// Diameter of the wheel, such as 150mm or 6in: the scale, where its rim is seen on a photo and no points are given.
    #[arg(long, value_name = "SIZE", value_parser = quantity::<Depth>)]
    pub(super) wheel: Option<Depth>,

    /// How fast the wheel turns.
    #[arg(long, value_name = "RPM", value_parser = rpm)]
    pub(super) rpm: Option<TurningSpeed>,

    /// Draw what was found over the photo; with several photos OUT-1.png, OUT-2.png and so on, in the order
    /// given, those of the stock last.
    #[arg(long, value_name = "OUT.png")]
    pub(super) overlay: Option<PathBuf>,

    #[command(flatten)]
    pub(super) known: RigArgs,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,
}

pub(super) fn scale(text: &str) -> Result<ScaleMarks, String> {
    ScaleMarks::parse(text).map_err(|e| format!("{e}; {}", e.help()))
}

pub(super) fn state(text: &str) -> Result<SteelState, String> {
    match text {
        "soft" | "annealed" => Ok(SteelState::Soft),
        "hardened" => Ok(SteelState::Hardened),
        _ => Err("allowed: soft, hardened".into()),
    }
}

pub(super) fn quantity<Q: Quantity + PartialOrd>(text: &str) -> Result<Q, String> {
    let value = parse::<Q>(text).map_err(|e| format!("{e}; {}", e.help()))?.value;
    let none = Q::from_si(0.0).is_ok_and(|zero| value <= zero);
    if none { Err(format!("the {} is 0", Q::NAME)) } else { Ok(value) }
}

fn rpm(text: &str) -> Result<TurningSpeed, String> {
    let bare = text.trim().parse::<f64>().is_ok();
    quantity(&if bare { format!("{} rpm", text.trim()) } else { text.to_string() })
}
