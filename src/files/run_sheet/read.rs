use super::fault::Fault;
use super::lines::Lines;
use super::reading::{Reading, Unknown};
use super::section::Section;
use super::{MOST_BYTES, RunSheet, VERSION, VERSION_KEY};
use super::{aim, fracture, model, pack, piece, soak, spark, stock, syntax, witness};
use crate::files::log_csv;
use crate::files::problem::{Problem, shown};
use crate::files::{Models, UnknownName};
use crate::steel::Coupon;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;
use toml::de::{DeTable, DeValue};

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
        let unknown = unknown(models).map_err(|e| vec![Problem::error(file_name, e.to_string())])?;
        if text.len() as u64 > MOST_BYTES {
            return Err(vec![too_long(file_name)]);
        }
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let lines = Lines::of(text);
        let (root, errors) = DeTable::parse_recoverable(text);
        let root = root.get_ref();
        let syntax = syntax::problems(file_name, text, &lines, &errors);
        if syntax::breaks_a_section(&lines, &syntax) {
            return Err(syntax.into_iter().map(|(_, problem)| problem).collect());
        }
        let reading = Reading::new(file_name, lines, text, models, unknown, syntax);
        if other_version(&reading, root) {
            return Err(reading.into_found().settle().err().unwrap_or_default());
        }
        let sheet = Section::read(&reading, "", 0, root, |section| sections(section, folder_reader));
        let (typed, warnings) = reading.into_found().settle()?;
        match sheet {
            Some(sheet) => Ok(Self { typed, warnings, ..sheet }),
            None => Err(vec![Problem::error(file_name, "the sheet describes no soak")]),
        }
    }

    /// Reads the sheet at `path`, and its log from the sheet's folder.
    pub fn read_file(path: &Path, models: &Models) -> Result<Self, Vec<Problem>> {
        let name = path.display().to_string();
        let bytes = read_up_to(path, MOST_BYTES + 1).map_err(|e| {
            vec![
                Problem::error(&name, cannot_read(&e)).help("check the name and the folder of the run sheet"),
            ]
        })?;
        if bytes.len() as u64 > MOST_BYTES {
            return Err(vec![too_long(&name)]);
        }
        let text = String::from_utf8(bytes).map_err(|e| {
            let good = &e.as_bytes()[..e.utf8_error().valid_up_to()];
            let line = good.split(|&b| b == b'\n').count();
            let help = "save the run sheet as UTF-8 text; a ° or µ typed in an old editor is the usual cause";
            vec![Problem::error(&name, "a character that is not UTF-8").at_line(line).help(help)]
        })?;
        let folder = path.parent().unwrap_or_else(|| Path::new(""));
        let from_folder = |log: &str| read_up_to(&folder.join(log), log_csv::MOST_BYTES + 1);
        Self::read(&text, &name, &from_folder, models)
    }
}

/// What stands for a steel and a compound of which nothing is known.
fn unknown(models: &Models) -> Result<Unknown<'_>, UnknownName> {
    let grade = models.grade(&models.default_grade)?;
    Ok(Unknown { grade, compound: models.compound(&models.default_compound)? })
}

/// All sections; `None` if the soak could not be read.
fn sections(root: &mut Section<'_>, folder_reader: FolderReader<'_>) -> Option<RunSheet> {
    version(root);
    let (stock, coupon) =
        root.within("stock", stock::read).unwrap_or_else(|| (stock::unknown(root.reading), None));
    let piece = root.within("piece", piece::read);
    let pack = root.within("pack", pack::read).unwrap_or_else(|| pack::unknown(root.reading));
    let soak = root.within("soak", |section| soak::read(section, folder_reader));
    if soak.is_none() && root.take("soak").is_none() {
        let help = "say how the heat went: a log, steps, or time_at_heat with a colour or temperature";
        root.reading.missing(0, "soak", Fault::new("the section [soak] is missing", help));
    }
    let model = root.within("model", model::read).unwrap_or_default();
    let thickness = coupon.and_then(|c: Coupon| c.shape.size());
    let spark = root.within("spark", |section| spark::read(section, thickness));
    let fracture = root.within("fracture", |section| fracture::read(section, thickness));
    let witness = root.within("witness", |section| witness::read(section, thickness));
    let aim = root.within("aim", aim::read);
    let (typed, warnings) = Default::default();
    let soak = soak.flatten()?;
    Some(RunSheet { stock, coupon, piece, pack, soak, model, spark, fracture, witness, aim, typed, warnings })
}

/// Whether the sheet says that it is of another version; then nothing else is worth reading.
fn other_version(reading: &Reading<'_>, root: &DeTable<'_>) -> bool {
    let Some((key, value)) = root.get_key_value(VERSION_KEY) else { return false };
    let number = match value.get_ref() {
        DeValue::Integer(number) => i64::from_str_radix(number.as_str(), number.radix()).ok(),
        _ => None,
    };
    if number == Some(VERSION) {
        return false;
    }
    let got = shown(reading.text.get(value.span()).unwrap_or(""));
    let help = match number {
        Some(n) if n > VERSION => "use a newer snapspark, or write the sheet anew for this one",
        _ => "the first line of a run sheet is `run-sheet = 1`",
    };
    let fault =
        Fault::new(format!("this sheet is of version `{got}`; understood is version {VERSION}"), help);
    reading.error(key.span().start, VERSION_KEY, fault);
    true
}

/// The version is there and comes first.
fn version(root: &mut Section<'_>) {
    let help = format!("write `{VERSION_KEY} = {VERSION}` as the first line");
    match root.take(VERSION_KEY) {
        None => root.reading.missing(
            0,
            VERSION_KEY,
            Fault::new("the version line is missing, so the sheet cannot be told from other files", help),
        ),
        Some(field) => {
            let before = field.reading.text.get(..field.at).unwrap_or("");
            let blank = |line: &str| line.trim().is_empty() || line.trim_start().starts_with('#');
            if !before.lines().all(blank) {
                field.refuse::<()>(Fault::new("the version line comes after other fields", help));
            }
        }
    }
}

fn too_long(name: &str) -> Problem {
    let message = format!("longer than {} KiB, so it is no run sheet", MOST_BYTES / 1024);
    Problem::error(name, message).help("temperature logs go into a CSV file of their own: log = \"soak.csv\"")
}

/// What went wrong on disk, in plain words.
pub(super) fn cannot_read(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "no such file".to_string(),
        io::ErrorKind::PermissionDenied => "reading it is not permitted".to_string(),
        io::ErrorKind::Other => error.to_string(),
        _ => format!("it cannot be read: {error}"),
    }
}

pub(super) fn read_up_to(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    // asked before it is opened: a pipe would wait for its other end
    if !std::fs::metadata(path)?.is_file() {
        return Err(io::Error::other("it is a folder, a pipe or a device, not a file"));
    }
    File::open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}
