use super::fault::Fault;
use super::kind::Kind;
use super::section::Section;
use super::{MOST_BYTES, PlannedSheet, RunSheet, VERSION, VERSION_KEY};
use super::{aim, fracture, known, model, pack, piece, soak, spark, stock, witness};
use crate::files::Models;
use crate::files::log_csv;
use crate::files::problem::Problem;
use crate::fracture::FractureDescription;
use crate::prediction::{Aim, ModelChoice};
use crate::soak::{Pack, SoakRecord};
use crate::spark::SparkObservation;
use crate::steel::{Coupon, Piece, Stock};
use crate::witness::WitnessObservation;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// A run sheet, for messages.
static SHEET: Kind = Kind {
    one: "a run sheet",
    noun: "sheet",
    version: Some((VERSION_KEY, VERSION)),
    flat: false,
    typed: true,
    shorter: "temperature logs go into a CSV file of their own: log = \"soak.csv\"",
};

/// Reads a file that the sheet names, by that name.
type FolderReader<'f> = &'f dyn Fn(&str) -> io::Result<Vec<u8>>;

impl RunSheet {
    /// Reads a sheet from its text. `file_name` goes into messages; `folder_reader` gives the
    /// bytes of a log that the sheet names. On errors: all of them, in the order of the lines.
    pub fn read(
        text: &str,
        file_name: &str,
        folder_reader: FolderReader<'_>,
        models: &Models,
    ) -> Result<Self, Vec<Problem>> {
        let (sheet, typed, warnings) =
            SHEET.read_whole(text, file_name, models, |root| of_a_run(root, folder_reader))?;
        match sheet {
            Some(sheet) => Ok(Self { typed, warnings, ..sheet }),
            None => Err(vec![Problem::error(file_name, "the sheet describes no soak")]),
        }
    }

    /// Reads the sheet at `path`, and its log from the sheet's folder.
    pub fn read_file(path: &Path, models: &Models) -> Result<Self, Vec<Problem>> {
        let (name, text) = text_of(path)?;
        Self::read(&text, &name, &|log| beside(path, log), models)
    }
}

impl PlannedSheet {
    /// Reads the sheet at `path`, and its log from the sheet's folder; its soak may be missing.
    pub fn read_file(path: &Path, models: &Models) -> Result<Self, Vec<Problem>> {
        let (name, text) = text_of(path)?;
        let (told, _, warnings) =
            SHEET.read_whole(&text, &name, models, |root| sections(root, &|log| beside(path, log)))?;
        let Told { stock, coupon, piece, pack, soak, model, aim, .. } = told;
        Ok(Self { stock, coupon, piece, pack, soak, model, aim, warnings })
    }
}

/// Name and text of the sheet at `path`.
fn text_of(path: &Path) -> Result<(String, String), Vec<Problem>> {
    let name = path.display().to_string();
    let bytes = read_up_to(path, MOST_BYTES + 1).map_err(|e| {
        vec![Problem::error(&name, cannot_read(&e)).help("check the name and the folder of the run sheet")]
    })?;
    let text = SHEET.text(&name, bytes).map_err(|p| vec![*p])?;
    Ok((name, text))
}

/// The bytes of a log that lies beside the sheet at `path`.
fn beside(path: &Path, log: &str) -> io::Result<Vec<u8>> {
    let folder = path.parent().unwrap_or_else(|| Path::new(""));
    read_up_to(&folder.join(log), log_csv::MOST_BYTES + 1)
}

/// What a sheet tells, its soak or not.
struct Told {
    stock: Stock,
    coupon: Option<Coupon>,
    piece: Option<Piece>,
    pack: Pack,
    soak: Option<SoakRecord>,
    model: ModelChoice,
    spark: Option<SparkObservation>,
    known: super::KnownPlace,
    fracture: Option<FractureDescription>,
    witness: Option<WitnessObservation>,
    aim: Option<Aim>,
}

/// All sections.
fn sections(root: &mut Section<'_>, folder_reader: FolderReader<'_>) -> Told {
    let (stock, coupon) =
        root.within("stock", stock::read).unwrap_or_else(|| (stock::unknown(root.reading), None));
    let piece = root.within("piece", piece::read);
    let pack = root.within("pack", pack::read).unwrap_or_else(|| pack::unknown(root.reading));
    let soak = root.within("soak", |section| soak::read(section, folder_reader)).flatten();
    let model = root.within("model", model::read).unwrap_or_default();
    let thickness = coupon.and_then(|c: Coupon| c.shape.size());
    let spark = root.within("spark", |section| (spark::read(section, thickness), known::read(section)));
    let (spark, known) = spark.unzip();
    let known = known.unwrap_or_default();
    let fracture = root.within("fracture", |section| fracture::read(section, thickness));
    let witness = root.within("witness", |section| witness::read(section, thickness));
    let aim = root.within("aim", aim::read);
    Told { stock, coupon, piece, pack, soak, model, spark, known, fracture, witness, aim }
}

/// The sheet of a run that was; `None` if its soak is missing or could not be read.
fn of_a_run(root: &mut Section<'_>, folder_reader: FolderReader<'_>) -> Option<RunSheet> {
    let told = sections(root, folder_reader);
    if told.soak.is_none() && root.take("soak").is_none() {
        let help = "say how the heat went: a log, steps, or time_at_heat with a colour or temperature";
        root.reading.missing(0, "soak", Fault::new("the section [soak] is missing", help));
    }
    let Told { stock, coupon, piece, pack, soak, model, spark, known, fracture, witness, aim } = told;
    let (typed, warnings) = Default::default();
    let soak = soak?;
    Some(RunSheet {
        stock,
        coupon,
        piece,
        pack,
        soak,
        model,
        spark,
        known,
        fracture,
        witness,
        aim,
        typed,
        warnings,
    })
}

/// What went wrong on disk, in plain words.
pub(in crate::files) fn cannot_read(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "no such file".to_string(),
        io::ErrorKind::PermissionDenied => "reading it is not permitted".to_string(),
        io::ErrorKind::Other => error.to_string(),
        _ => format!("it cannot be read: {error}"),
    }
}

pub(in crate::files) fn read_up_to(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    // asked before it is opened: a pipe would wait for its other end
    let there = std::fs::metadata(path)?;
    if !there.is_file() {
        return Err(io::Error::other("it is a folder, a pipe or a device, not a file"));
    }
    // room for all of it and the byte that tells its end: as few calls as can be
    let size = usize::try_from(there.len().min(most)).unwrap_or_default();
    let mut bytes = Vec::with_capacity(size.saturating_add(1));
    File::open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}
