use super::Label;
use crate::files::Models;
use crate::files::log_csv::text::{Lines, latin, not_a_table, separator};
use crate::files::problem::{Problem, shown};
use crate::files::run_sheet::fault::Fault;
use crate::files::run_sheet::field::find_word;
use crate::files::run_sheet::read::{cannot_read, read_up_to};
use crate::files::run_sheet::spark::STATES;
use crate::files::words::{closest, is_dont_know, plain};
use crate::known::{Session, rig_name};
use crate::spark::{SparkObservation, SteelState};
use std::collections::BTreeSet;
use std::path::Path;

/// A table of labels is at most this long, bytes: some 100,000 rows.
const MOST_BYTES: u64 = 16 << 20;
/// Reading stops after this many errors.
const MOST_ERRORS: usize = 100;
/// A cell is at most this long, bytes.
const MOST_CELL: usize = 1000;
const COLUMNS: [&str; 9] =
    ["photo", "steel", "carbon", "state", "rig", "session", "touch", "notes", "reference"];

const YES_NO: [(&str, bool); 4] = [("yes", true), ("no", false), ("true", true), ("false", false)];

/// One row: a photo and what it is of.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelRow {
    /// Its line, from 1.
    pub line: usize,
    /// The photo's file, as a path in the folder of photos.
    pub photo: String,
    /// What it is of.
    pub label: Label,
    /// When; `None`: as the photo says.
    pub session: Option<Session>,
    /// The touch; `None`: not said.
    pub touch: Option<u32>,
}

/// A table that says what photos are of: `photo,steel`, and perhaps `carbon,state,rig,session,touch,notes,reference`.
#[derive(Debug, Clone, PartialEq)]
pub struct Labels {
    /// The rows, in order.
    pub rows: Vec<LabelRow>,
}

/// What stands in for columns that are not there, and for empty cells.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LabelDefaults {
    /// The rig.
    pub rig: Option<String>,
    /// The session.
    pub session: Option<Session>,
    /// Soft or hardened.
    pub state: Option<SteelState>,
}

impl Labels {
    /// Reads a table. `file` goes into messages. Gives all errors, up to 100.
    pub fn read(
        bytes: &[u8],
        file: &str,
        defaults: &LabelDefaults,
        models: &Models,
    ) -> Result<Self, Vec<Problem>> {
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        if bytes.len() as u64 > MOST_BYTES {
            let message = format!("longer than {} MiB", MOST_BYTES >> 20);
            return Err(vec![Problem::error(file, message).help("split it into several tables")]);
        }
        if let Some(problem) = not_a_table(bytes, file) {
            return Err(vec![problem]);
        }
        let mut lines = Lines::of(bytes);
        let mut csv = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(separator(bytes))
            .comment(Some(b'#'))
            .trim(csv::Trim::All)
            .from_reader(bytes);
        let mut table = Table { file, columns: Vec::new(), defaults, models, problems: Vec::new() };
        let mut rows = Vec::new();
        let mut photos = BTreeSet::new();
        for record in csv.byte_records() {
            let record = match record {
                Ok(record) => record,
                Err(e) => {
                    table.problems.push(Problem::error(file, format!("it is no table: {e}")));
                    break;
                }
            };
            let line = lines.of_record(&record);
            let cells: Vec<_> = record.iter().map(latin).collect();
            if table.columns.is_empty() {
                table.head(&cells, line)?;
            } else if let Some(row) = table.row(&cells, line) {
                if photos.insert(row.photo.clone()) {
                    rows.push(row);
                } else {
                    let message = format!("`{}` has a label already", shown(&row.photo));
                    table.refuse(line, "photo", &Fault::new(message, "keep one of the rows"));
                }
            }
            if table.problems.len() >= MOST_ERRORS {
                break;
            }
        }
        if rows.is_empty() && table.problems.is_empty() {
            let help = "the first line names the columns: photo,steel; then one line a photo";
            table.problems.push(Problem::error(file, "the table has no rows").help(help));
        }
        if table.problems.is_empty() { Ok(Self { rows }) } else { Err(table.problems) }
    }

    /// Reads a file.
    pub fn read_file(path: &Path, defaults: &LabelDefaults, models: &Models) -> Result<Self, Vec<Problem>> {
        let name = path.to_string_lossy();
        let bytes = read_up_to(path, MOST_BYTES + 1)
            .map_err(|e| vec![Problem::error(&name, cannot_read(&e)).help("check the name of the table")])?;
        Self::read(&bytes, &name, defaults, models)
    }
}

/// A table while it is read.
struct Table<'t> {
    file: &'t str,
    /// Place of each column in [`COLUMNS`].
    columns: Vec<usize>,
    defaults: &'t LabelDefaults,
    models: &'t Models,
    problems: Vec<Problem>,
}

impl Table<'_> {
    fn refuse(&mut self, line: usize, column: &str, fault: &Fault) {
        let problem = Problem::error(self.file, &fault.message).at_line(line).in_field(column);
        self.problems.push(problem.help(&fault.help));
    }

    /// The first line; without it nothing else can be read.
    fn head<C: AsRef<str>>(&mut self, cells: &[C], line: usize) -> Result<(), Vec<Problem>> {
        let list = || COLUMNS.join(", ");
        let mut problems = Vec::new();
        for cell in cells {
            let name = plain(cell.as_ref());
            let at = COLUMNS.iter().position(|column| *column == name);
            let problem =
                |message: String, help: String| Problem::error(self.file, message).at_line(line).help(help);
            match at {
                Some(at) if !self.columns.contains(&at) => self.columns.push(at),
                Some(_) => {
                    problems.push(problem(format!("the column {name} is there twice"), "keep one".into()));
                }
                None => {
                    let near =
                        closest(&name, COLUMNS).map(|n| format!("did you mean {n}?\n")).unwrap_or_default();
                    let help = format!("{near}columns: {}", list());
                    problems.push(problem(format!("`{}` is no column of labels", shown(&name)), help));
                }
            }
        }
        for needed in [0, 1] {
            if !self.columns.contains(&needed) && problems.is_empty() {
                let message = format!("the column {} is missing", COLUMNS[needed]);
                let help = format!("the first line names the columns: {}", list());
                problems.push(Problem::error(self.file, message).at_line(line).help(help));
            }
        }
        if problems.is_empty() { Ok(()) } else { Err(problems) }
    }

    fn row<C: AsRef<str>>(&mut self, cells: &[C], line: usize) -> Option<LabelRow> {
        if cells.len() > self.columns.len() {
            let message = format!("{} cells under {} columns", cells.len(), self.columns.len());
            self.refuse(line, "row", &Fault::new(message, "put a cell with a comma in it in quotes"));
            return None;
        }
        let mut by_column: [Option<&str>; COLUMNS.len()] = [None; COLUMNS.len()];
        for (at, cell) in self.columns.iter().zip(cells) {
            by_column[*at] = Some(cell.as_ref()).filter(|text| !text.is_empty() && !is_dont_know(text));
        }
        if let Some(at) = by_column.iter().position(|cell| cell.is_some_and(|text| text.len() > MOST_CELL)) {
            let help = format!("at most {MOST_CELL} characters");
            self.refuse(line, COLUMNS[at], &Fault::new("the cell is too long", help));
            return None;
        }
        let before = self.problems.len();
        let row = self.cells(by_column, line);
        row.filter(|_| self.problems.len() == before)
    }

    /// `None`, or a row, after noting what is wrong.
    fn cells(&mut self, cells: [Option<&str>; COLUMNS.len()], line: usize) -> Option<LabelRow> {
        let [photo, steel, carbon, state, rig, session, touch, notes, reference] = cells;
        let missing =
            |what: &str| Fault::new(format!("no {what} in this row"), "write it, or take the row out");
        let photo = photo.ok_or_else(|| missing("photo")).and_then(inside);
        let rig = rig.map(str::to_string).or_else(|| self.defaults.rig.clone());
        let rig = rig.ok_or_else(|| Fault::new("no rig", "add a column rig, or say --rig for all of them"));
        let rig = rig.and_then(|rig| rig_name(&rig).map_err(|e| Fault::new(e.to_string(), e.help())));
        let about = if carbon.is_some() { "carbon" } else { "steel" };
        let label = steel.ok_or_else(|| missing("steel")).and_then(|steel| {
            // the rig is judged by itself
            Label::new(steel, carbon, "rig", self.models).map_err(|(message, help)| Fault::new(message, help))
        });
        let state = state.map(|text| {
            find_word(text, &STATES).ok_or_else(|| Fault::not_a_word("state", text, &STATES, ""))
        });
        let session =
            session.map(|text| Session::parse(text).map_err(|e| Fault::new(e.to_string(), e.help())));
        let (least, most) = SparkObservation::TOUCHES;
        let touch = touch.map(|text| {
            let number = text.parse::<u32>().ok().filter(|n| (least..=most).contains(n));
            let help = format!("allowed: a whole number from {least} to {most}");
            number.ok_or_else(|| Fault::new(format!("`{}` is no touch", shown(text)), help))
        });
        let reference = reference.map(|text| {
            find_word(text, &YES_NO).ok_or_else(|| Fault::not_a_word("reference", text, &YES_NO, ""))
        });
        let photo = self.settle(line, "photo", photo);
        let rig = self.settle(line, "rig", rig);
        let label = self.settle(line, about, label);
        let state = state.and_then(|s| self.settle(line, "state", s));
        let session = session.and_then(|s| self.settle(line, "session", s));
        let touch = touch.and_then(|t| self.settle(line, "touch", t));
        let reference = reference.and_then(|r| self.settle(line, "reference", r));
        let label = Label {
            rig: rig?,
            state: state.or(self.defaults.state),
            reference: reference.unwrap_or(false),
            notes: notes.unwrap_or_default().to_string(),
            ..label?
        };
        let session = session.or_else(|| self.defaults.session.clone());
        Some(LabelRow { line, photo: photo?, label, session, touch })
    }

    fn settle<T>(&mut self, line: usize, column: &str, value: Result<T, Fault>) -> Option<T> {
        value.map_err(|fault| self.refuse(line, column, &fault)).ok()
    }
}

/// A path that stays inside the folder of photos.
fn inside(text: &str) -> Result<String, Fault> {
    let path = text.replace('\\', "/");
    let path = path.trim_start_matches("./");
    let out = path.starts_with('/')
        || path.contains('\0')
        || path.split('/').any(|p| p == ".." || p.ends_with(':'));
    if out || path.is_empty() {
        let message = format!("`{}` is no file inside the folder", shown(text));
        return Err(Fault::new(message, "write its name, or folder/name, as it is in the folder of photos"));
    }
    Ok(path.to_string())
}
