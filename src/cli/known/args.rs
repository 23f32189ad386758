use crate::cli::args::state;
use crate::known::Session;
use crate::spark::SteelState;
use clap::Subcommand;
use std::path::PathBuf;

/// Keep photos or descriptions of steels whose carbon is known: the personal calibration set.
///
/// A published trend cannot know this grinder, this camera, this hand. A handful of known steels, sparked soft with
/// one light touch beside untreated stock, session after session, can. Everything is kept as plain files in one
/// folder; photos are copied, hand edits are welcome.
#[derive(Debug, clap::Args)]
pub(in crate::cli) struct KnownArgs {
    #[command(subcommand)]
    pub(super) command: KnownCommand,
}

#[derive(Debug, Subcommand)]
pub(super) enum KnownCommand {
    Add(Box<AddArgs>),
    List(ListArgs),
    Show(ShowArgs),
    Remove(RemoveArgs),
    Export(ExportArgs),
    Import(ImportArgs),
    Audit(AuditArgs),
    Advise(AdviseArgs),
}

/// Which set.
#[derive(Debug, clap::Args)]
pub(super) struct SetArg {
    /// Folder of the set; without it, one in the platform's folder for data.
    #[arg(long, value_name = "DIR")]
    pub(super) set: Option<PathBuf>,
}

/// Add one steel of one session, a folder of photos with a table of labels, or a coupon measured another way.
///
/// The photos are copied into the set first, then the record that names them; what is reported as added is on disk. Then
/// they are measured, and what was read is told. A photo that cannot be used is kept all the same. The same again
/// changes nothing; the same picture under two labels is refused.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  snapspark known add --steel 1095 --rig bench 1095/*.jpg --against mild/*.jpg
  snapspark known add --steel \"old drill rod\" --carbon 0.9-1.1 --state soft \\
      --rig bench --session 2026-03-14 rod1.jpg rod2.jpg
  snapspark known add --steel 1045 --rig bench --session 2026-03-14 --told seen.toml
  snapspark known add --dir photos --labels labels.csv --rig bench
  snapspark known add --steel 1018 --session 2026-03-14 --face coupon.toml

seen.toml holds the fields of a run sheet's [spark]. labels.csv has the columns
photo,steel and perhaps carbon,state,rig,session,touch,notes,reference.
coupon.toml holds a run sheet's [fracture], and [[point]]s with depth and one of
carbon, hardness, file (where it first bites) or etched = true: from layers, a
traverse, a file taper or a section. It says where a rim ends for an eye.

Wear a shield, keep the phone on a stand out of the stream, and both hands on
the work. Break hard coupons wrapped, behind a shield; etch in open air, with
gloves and glasses.

Exit codes: 0 done, or there already; 1 an error in the input or on disk;
2 wrong usage.")]
pub(super) struct AddArgs {
    /// Photos of its sparks, in the order of the touches: JPEG, PNG, TIFF, WebP; a folder, or a pattern in quotes.
    #[arg(value_name = "PHOTO", required_unless_present_any = ["told", "dir", "face"], conflicts_with_all = ["told", "dir"])]
    pub(super) photos: Vec<String>,

    /// What it is: a grade such as 1095, a found steel such as "leaf spring", or free words with --carbon.
    #[arg(long, value_name = "STEEL", required_unless_present = "dir", conflicts_with = "dir")]
    pub(super) steel: Option<String>,

    /// Name of the rig: grinder, wheel, camera and light that its photos share.
    #[arg(long, value_name = "NAME", required_unless_present_any = ["dir", "face"])]
    pub(super) rig: Option<String>,

    /// Its carbon in percent, if it is known better than by the grade: 0.95, or 0.9-1.1.
    #[arg(long, value_name = "PERCENT", conflicts_with = "dir")]
    pub(super) carbon: Option<String>,

    /// Whether it was sparked soft or hardened: a hard one throws more than its carbon says.
    #[arg(long, value_name = "soft|hardened", value_parser = state)]
    pub(super) state: Option<SteelState>,

    /// The day it was sparked, with a word where a day has several sessions; else the day that its photos tell.
    #[arg(long, value_name = "2026-03-14", value_parser = session)]
    pub(super) session: Option<Session>,

    /// It is the untreated stock that ties this session to others.
    #[arg(long, conflicts_with = "dir")]
    pub(super) reference: bool,

    /// Whatever should be known about it.
    #[arg(long, value_name = "TEXT", conflicts_with = "dir")]
    pub(super) notes: Option<String>,

    /// How many photos each touch has.
    #[arg(long, value_name = "N,N", value_delimiter = ',', value_parser = clap::value_parser!(u16).range(1..), conflicts_with_all = ["told", "dir"])]
    pub(super) touch: Vec<u16>,

    /// Photos of untreated stock of the same session, kept as its reference.
    #[arg(long, value_name = "PHOTO", num_args = 1.., conflicts_with_all = ["told", "dir"])]
    pub(super) against: Vec<String>,

    /// Grade of that stock, such as 1018; without it, unknown mild steel.
    #[arg(long, value_name = "GRADE", requires = "against")]
    pub(super) stock: Option<String>,

    /// What was seen in words or numbers, in place of photos.
    #[arg(long, value_name = "FILE.toml", conflicts_with = "dir")]
    pub(super) told: Option<PathBuf>,

    /// A coupon whose case was measured another way, in place of sparks: its face and what was measured.
    #[arg(long, value_name = "FILE.toml", conflicts_with_all = ["photos", "told", "dir", "rig", "state", "reference", "against", "touch", "link"])]
    pub(super) face: Option<PathBuf>,

    /// A folder of photos, with --labels.
    #[arg(long, value_name = "FOLDER", requires = "labels")]
    pub(super) dir: Option<PathBuf>,

    /// What the photos of --dir are of.
    #[arg(long, value_name = "LABELS.csv", requires = "dir")]
    pub(super) labels: Option<PathBuf>,

    /// Leave photos where they are instead of copying them; they must stay there.
    #[arg(long)]
    pub(super) link: bool,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,

    #[command(flatten)]
    pub(super) set: SetArg,
}

/// List the known steels, session by session.
///
/// A record that cannot be read is named on standard error and left out.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  snapspark known list --rig bench

Exit codes: 0 done; 1 the set, or every record of it, cannot be read; 2 wrong
usage.")]
pub(super) struct ListArgs {
    /// Only those of this rig.
    #[arg(long, value_name = "NAME")]
    pub(super) rig: Option<String>,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,

    #[command(flatten)]
    pub(super) set: SetArg,
}

/// Show one known steel: its label, its photos, and what was measured on them.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  snapspark known show 1095-2026-03-14

Exit codes: 0 done, 1 an error in the input or on disk, 2 wrong usage.")]
pub(super) struct ShowArgs {
    /// Its name, or the beginning of it that no other has.
    #[arg(value_name = "NAME")]
    pub(super) name: String,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,

    #[command(flatten)]
    pub(super) set: SetArg,
}

/// Put known steels aside, or bring them back.
///
/// Nothing is lost: records go to the folder `removed` of the set, and photos stay.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  snapspark known remove 1095-2026-03-14
  snapspark known remove --undo 1095-2026-03-14

Exit codes: 0 done; 1 an error in the input or on disk, nothing was removed;
2 wrong usage.")]
pub(super) struct RemoveArgs {
    /// Their names, or beginnings that no other has.
    #[arg(value_name = "NAME", required = true)]
    pub(super) names: Vec<String>,

    /// Bring them back.
    #[arg(long)]
    pub(super) undo: bool,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,

    #[command(flatten)]
    pub(super) set: SetArg,
}

/// Write all known steels with their photos into one tar file, or a folder.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  snapspark known export bench.tar

Nothing is written over. Linked photos are taken along; what was removed is not,
nor are rigs that were trained: `snapspark train --set` fits them anew.

Exit codes: 0 done, 1 an error in the input or on disk, 2 wrong usage.")]
pub(super) struct ExportArgs {
    /// Where to: OUT.tar, or the name of a new folder.
    #[arg(value_name = "OUT")]
    pub(super) to: PathBuf,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,

    #[command(flatten)]
    pub(super) set: SetArg,
}

/// Take over known steels that were exported.
///
/// All of it is read and checked before anything is written. What is there is never changed: a record of the same name
/// with other content, and one whose photos are there under another label, is told and skipped.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  snapspark known import bench.tar

Exit codes: 0 done, 1 an error in the archive or on disk, 2 wrong usage.")]
pub(super) struct ImportArgs {
    /// What `snapspark known export` wrote.
    #[arg(value_name = "IN")]
    pub(super) from: PathBuf,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,

    #[command(flatten)]
    pub(super) set: SetArg,
}

fn session(text: &str) -> Result<Session, String> {
    Session::parse(text).map_err(|e| format!("{e}; {}", e.help()))
}

/// Say how good the known steels of a rig make its answers.
///
/// Leaves out one session after the other, and one steel after the other, fits the rig on what is left, and reads what was
/// left out. The first flatters, as the same steels stay in; the second is harsh, as a steel is then read by others alone.
/// The published trend alone is shown beside both. Up to 100 sessions or steels each is left out by itself; of more, 50
/// groups are drawn, always the same.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  snapspark known audit
  snapspark known audit --rig bench --json

Exit codes: 0 done; 1 an error in the input or on disk; 2 wrong usage; 4 no rig
has enough known steels to leave one out.")]
pub(super) struct AuditArgs {
    /// Only this rig.
    #[arg(long, value_name = "NAME")]
    pub(super) rig: Option<String>,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,

    #[command(flatten)]
    pub(super) set: SetArg,
}

/// Say which steel to photograph next.
///
/// Works out what each grade would bring if it were sparked on one more session beside untreated stock: how much surer the
/// carbon of your coupons would be. Names bands that no known steel lies in, and sessions without stock.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  snapspark known advise
  snapspark known advise --rig bench --for 0.5-0.9

Exit codes: 0 done; 1 an error in the input or on disk; 2 wrong usage; 4 there
is no record at all.")]
pub(super) struct AdviseArgs {
    /// Only this rig.
    #[arg(long, value_name = "NAME")]
    pub(super) rig: Option<String>,

    /// Carbon of the coupons that you test, percent: 0.3-1.1 unless told.
    #[arg(long = "for", value_name = "0.3-1.1", value_parser = carbons)]
    pub(super) tested: Option<(f64, f64)>,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,

    #[command(flatten)]
    pub(super) set: SetArg,
}

fn carbons(text: &str) -> Result<(f64, f64), String> {
    const ALLOWED: (f64, f64) = (0.0, 1.3);
    let number = |t: &str| t.trim().parse::<f64>().ok().filter(|wt| (ALLOWED.0..=ALLOWED.1).contains(wt));
    let both = text.split_once('-').and_then(|(low, high)| Some((number(low)?, number(high)?)));
    both.filter(|(low, high)| low < high)
        .ok_or("allowed: two rising percents up to 1.3, such as 0.4-0.9".into())
}
