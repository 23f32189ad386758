use super::Answer;
use super::args::SoakArgs;
use crate::files::problem::harmless;
use crate::files::{self, Models, ProblemList, RunSheet};
use crate::prediction::{Prediction, predict};
use crate::report;
use std::path::{Path, PathBuf};

/// `snapspark soak`: the prediction alone. The error is ready to be shown.
pub(super) fn soak(args: &SoakArgs) -> Result<Answer, String> {
    let models = Models::shipped().map_err(|e| format!("error: {e}"))?;
    let sheet = RunSheet::read_file(&args.run, &models).map_err(|p| ProblemList(&p).to_string())?;
    let name = harmless(&args.run.display().to_string());
    let physics = models
        .physics(sheet.model.law.as_deref())
        .map_err(|e| format!("error: {name}, model.law: {e}\n help: {}", e.help()))?;
    let run = sheet.run();
    let prediction =
        predict(&run, &physics).map_err(|e| format!("error: {name}: {e}\n help: {}", e.help()))?;
    if let Some(path) = &args.profile {
        let log = sheet.typed.get("soak.log").map(|log| args.run.with_file_name(log));
        let inputs = std::iter::once(&args.run).chain(&log);
        save_profile(path, inputs, &prediction)?;
    }
    let text = if args.json {
        files::Answer::soak(&name, &prediction, &models.criteria).json().map_err(|e| format!("error: {e}"))?
    } else {
        // the sheet's own words are in it: nothing may be left that a terminal acts on
        let text = report::text(&report::soak(&name, &prediction, &run, &physics, &models.sources));
        text.lines().map(|line| harmless(line) + "\n").collect()
    };
    let remarks = match sheet.warnings.as_slice() {
        [] => String::new(),
        warnings => format!("{}\n", ProblemList(warnings)),
    };
    Ok(Answer { text, remarks })
}

fn save_profile<'p>(
    path: &Path,
    mut inputs: impl Iterator<Item = &'p PathBuf>,
    prediction: &Prediction,
) -> Result<(), String> {
    let shown = path.display();
    if inputs.any(|input| files::same_file(input, path)) {
        return Err(format!(
            "error: {shown}: the profile would overwrite what it is made from\n help: choose another name"
        ));
    }
    let bytes = files::profile_csv(prediction).map_err(|e| format!("error: {shown}: {e}"))?;
    files::save(path, &bytes).map_err(|e| {
        format!(
            "error: {shown}: the profile cannot be written: {e}\n \
             help: check that the folder exists and may be written to, or choose another name"
        )
    })
}
