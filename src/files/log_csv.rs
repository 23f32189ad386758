//! Temperature logs: CSV with a header that names a time and a temperature column.
//!
//! Separators `,` `;` or tab; lines that start with `#` are comments; other columns are ignored.
//! A `stage` column may say `soak`, `cool`, `foil` or `air`; empty means as before.

mod cell;
mod check;
mod header;
pub(super) mod text;

use super::problem::{Problem, shown};
use crate::soak::{LogPoint, SoakLog, Stage};
use crate::units::{Temperature, Time};
use cell::TimeCell;
use check::Check;
use header::Header;
use text::{Lines, latin};

pub use header::{LogUnits, TemperatureUnit, TimeUnit};

/// A log is at most this long, in bytes.
pub const MOST_BYTES: u64 = 64 * 1024 * 1024;
/// A log has at most this many rows.
pub const MOST_ROWS: usize = 1_000_000;
/// Temperatures that a forge and a thermometer can give, °C; others are a broken probe or a slip.
pub const POSSIBLE_C: (f64, f64) = (-50.0, 1400.0);
/// Reading stops after this many errors.
const MOST_ERRORS: usize = 100;

/// Reads a log. `file` goes into messages; `units` stand in where the header names none.
/// Gives the log, its first time taken as zero, and warnings; or all errors up to 100.
pub fn read(bytes: &[u8], file: &str, units: LogUnits) -> Result<(SoakLog, Vec<Problem>), Vec<Problem>> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    if let Some(problem) = text::not_a_table(bytes, file) {
        return Err(vec![problem]);
    }
    let mut lines = Lines::of(bytes);
    let separator = text::separator(bytes);
    let mut csv = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(bytes);
    let mut record = csv::ByteRecord::new();
    let mut header: Option<Header> = None;
    let mut rows = Rows { file, check: Check::new(file), points: Vec::new(), stage: None };
    loop {
        match csv.read_byte_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(e) => return Err(vec![Problem::error(file, format!("cannot be read as CSV: {e}"))]),
        }
        let line = lines.of_record(&record);
        if record.iter().any(|cell| cell.contains(&b'\n')) {
            let help = "close it, or take the quotes out";
            rows.check.errors.push(
                Problem::error(file, "a quote opens here and closes on another line")
                    .at_line(line)
                    .help(help),
            );
            break;
        }
        match &mut header {
            None => header = Some(Header::read(&record, separator, file, line, units).map_err(|e| vec![*e])?),
            Some(header) => rows.add(&record, header, line),
        }
        if rows.check.errors.len() >= MOST_ERRORS {
            rows.check.errors.push(Problem::error(file, "the rest of the log was not read").at_line(line));
            break;
        }
        if rows.points.len() > MOST_ROWS {
            let help = "write one reading every few seconds: more tells nothing about a soak";
            rows.check
                .errors
                .push(Problem::error(file, format!("more than {MOST_ROWS} rows")).at_line(line).help(help));
            break;
        }
    }
    rows.finish(header.is_some())
}

/// What was read so far.
struct Rows<'f> {
    file: &'f str,
    check: Check<'f>,
    points: Vec<LogPoint>,
    stage: Option<Stage>,
}

impl Rows<'_> {
    fn add(&mut self, record: &csv::ByteRecord, header: &mut Header, line: usize) {
        if record.iter().all(<[u8]>::is_empty) {
            return;
        }
        if record.len() > header.columns && header.decimal_comma_likely(record) {
            let help = "write decimals with a point, or separate the columns with semicolons";
            let message = format!(
                "{} values where the header names {}: a decimal comma?",
                record.len(),
                header.columns
            );
            self.check.errors.push(Problem::error(self.file, message).at_line(line).help(help));
            return;
        }
        let time = self.time(record, header, line);
        let temperature = self.temperature(record, header, line);
        let stage = self.stage(record, header, line);
        let (Some(time), Some(temperature)) = (time, temperature) else { return };
        let Some(since_start) = self.check.rising(time, &header.time_name, line) else { return };
        match (Time::from_seconds(since_start), Temperature::from_celsius(temperature)) {
            (Ok(time), Ok(temperature)) => self.points.push(LogPoint { time, temperature, stage }),
            (Err(e), _) | (_, Err(e)) => {
                let help = "is the unit of the column right?";
                self.check.errors.push(
                    Problem::error(self.file, e.to_string())
                        .at_line(line)
                        .in_field(&header.time_name)
                        .help(help),
                );
            }
        }
    }

    fn time(&mut self, record: &csv::ByteRecord, header: &mut Header, line: usize) -> Option<TimeCell> {
        let cell = latin(record.get(header.time).unwrap_or_default());
        let read = cell::time(&cell, header.time_unit, header.decimal_comma);
        if header.time_unit.is_none() && cell::number(&cell, header.decimal_comma).is_some() {
            // Said once: every other line would say the same.
            header.time_unit = Some(TimeUnit::Minutes);
        }
        self.settle(read, &header.time_name, line)
    }

    fn temperature(&mut self, record: &csv::ByteRecord, header: &mut Header, line: usize) -> Option<f64> {
        let cell = latin(record.get(header.temperature).unwrap_or_default());
        let Some(unit) = header.temperature_unit else {
            header.temperature_unit = Some(TemperatureUnit::Celsius);
            let name = &header.temperature_name;
            let message = format!("the temperature column `{}` has no unit", shown(name));
            let help = "name it temp_C or temp_F, or write log_temperature_unit = \"C\" in the run sheet";
            let problem = Problem::error(self.file, message).at_line(line).in_field(name).help(help);
            self.check.errors.push(problem);
            return None;
        };
        let read = cell::temperature(&cell, unit, header.decimal_comma);
        self.settle(read, &header.temperature_name, line)
    }

    fn stage(&mut self, record: &csv::ByteRecord, header: &Header, line: usize) -> Option<Stage> {
        let column = header.stage?;
        let cell = latin(record.get(column).unwrap_or_default());
        let stage = self.settle(cell::stage(&cell, self.stage), "stage", line)?;
        self.stage = stage.or(self.stage);
        stage
    }

    fn settle<T>(&mut self, value: Result<T, (String, String)>, field: &str, line: usize) -> Option<T> {
        value
            .map_err(|(message, help)| {
                let problem = Problem::error(self.file, message).at_line(line).in_field(field).help(help);
                self.check.errors.push(problem);
            })
            .ok()
    }

    fn finish(mut self, has_header: bool) -> Result<(SoakLog, Vec<Problem>), Vec<Problem>> {
        if !self.check.errors.is_empty() {
            return Err(self.check.errors);
        }
        if !has_header {
            let help = "write a header and one row a reading:\ntime_min,temp_C\n0,20\n20,925";
            return Err(vec![Problem::error(self.file, "the log is empty").help(help)]);
        }
        self.check.gaps();
        let (file, count) = (self.file, self.points.len());
        SoakLog::new(self.points).map(|log| (log, self.check.warnings)).map_err(|e| {
            let message = format!("{e}; here {count} {} found", if count == 1 { "was" } else { "were" });
            vec![Problem::error(file, message).help("write one row a reading below the header")]
        })
    }
}
