use super::Answer;
use super::args::SoakArgs;
use crate::files::{self, Models, ProblemList, RunSheet};
use crate::prediction::predict;
use crate::report;

/// `snapspark soak`: the prediction alone. The error is ready to be shown.
pub(super) fn soak(args: &SoakArgs) -> Result<Answer, String> {
    let models = Models::shipped().map_err(|e| format!("error: {e}"))?;
    let sheet = RunSheet::read_file(&args.run, &models).map_err(|p| ProblemList(&p).to_string())?;
    let name = args.run.display().to_string();
    let physics = models
        .physics(sheet.model.law.as_deref())
        .map_err(|e| format!("error: {name}, model.law: {e}\n help: {}", e.help()))?;
    let run = sheet.run();
    let prediction =
        predict(&run, &physics).map_err(|e| format!("error: {name}: {e}\n help: {}", e.help()))?;
    if let Some(path) = &args.profile {
        let bytes = files::profile_csv(&prediction).map_err(|e| format!("error: {e}"))?;
        files::save(path, &bytes).map_err(|e| {
            let path = path.display();
            format!(
                "error: {path}: the profile cannot be written: {e}\n \
                 help: check that the folder exists and may be written to"
            )
        })?;
    }
    let text = if args.json {
        files::Answer::soak(&name, &prediction, &models.criteria).json().map_err(|e| format!("error: {e}"))?
    } else {
        report::text(&report::soak(&name, &prediction, &run, &physics, &models.sources))
    };
    let remarks = match sheet.warnings.as_slice() {
        [] => String::new(),
        warnings => format!("{}\n", ProblemList(warnings)),
    };
    Ok(Answer { text, remarks })
}
