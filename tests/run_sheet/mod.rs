mod any_run;
mod any_runs;
mod bad_logs;
mod bad_observations;
mod bad_sheets;
mod full_sheet;
mod mutated;
mod readings;

use crate::support::models;
use snapspark::files::problem::{Problem, ProblemList};
use snapspark::files::run_sheet::RunSheet;
use std::io;

/// Reads `sheet` beside a folder that holds `files`.
fn read_beside(sheet: &str, files: &[(&str, &[u8])]) -> Result<RunSheet, Vec<Problem>> {
    let folder = |name: &str| {
        let file = files.iter().find(|(n, _)| *n == name);
        file.map(|(_, bytes)| bytes.to_vec()).ok_or_else(|| io::Error::from(io::ErrorKind::NotFound))
    };
    RunSheet::read(sheet, "run.toml", &folder, models())
}

/// What a smith would be told about `sheet`.
fn told(sheet: &str) -> String {
    match read_beside(sheet, &[]) {
        Ok(sheet) if sheet.warnings.is_empty() => "nothing wrong".into(),
        Ok(sheet) => ProblemList(&sheet.warnings).to_string(),
        Err(problems) => ProblemList(&problems).to_string(),
    }
}
