use super::Answer;
use super::args::SoakArgs;
use crate::files::{self, Models, ProblemList, RunSheet};
use crate::prediction::{Physics, Run, predict};
use crate::report;
use crate::steel::{Coupon, Faces, Shape};

/// A coupon of which nothing is known: it counts as thick.
const UNKNOWN_COUPON: Coupon = Coupon {
    shape: Shape::Flat { thickness: None, faces: Faces::Both },
    mass_before: None,
    mass_after: None,
};

/// `snapspark soak`: the prediction alone. The error is ready to be shown.
pub(super) fn soak(args: &SoakArgs) -> Result<Answer, String> {
    let models = Models::shipped().map_err(|e| format!("error: {e}"))?;
    let sheet = RunSheet::read_file(&args.run, &models).map_err(|p| ProblemList(&p).to_string())?;
    let name = args.run.display().to_string();
    let law = sheet.model.law.as_deref().unwrap_or(&models.default_law);
    let physics = Physics {
        law: models.law(law).map_err(|e| format!("error: {name}, model.law: {e}"))?,
        law_scatter: &models.law_scatter,
        phase: &models.phase,
        criteria: &models.criteria,
        cooling: &models.cooling,
    };
    let run = Run {
        record: &sheet.soak,
        pack: &sheet.pack,
        stock: &sheet.stock,
        coupon: sheet.coupon.as_ref().unwrap_or(&UNKNOWN_COUPON),
        piece: sheet.piece.as_ref(),
        ground: sheet.spark.as_ref().and_then(|s| s.ground_depth?.measured()),
        choice: &sheet.model,
    };
    let prediction =
        predict(&run, &physics).map_err(|e| format!("error: {name}: {e}\n help: {}", e.help()))?;
    if let Some(path) = &args.profile {
        let bytes = files::profile_csv(&prediction).map_err(|e| format!("error: {e}"))?;
        files::save(path, &bytes).map_err(|e| {
            format!(
                "error: {}: the profile cannot be written: {e}\n help: check that the folder exists and may be written to",
                path.display()
            )
        })?;
    }
    let text = if args.json {
        files::Answer::soak(&name, &prediction, &models.criteria).json().map_err(|e| format!("error: {e}"))?
    } else {
        report::text(&report::soak(&name, &prediction, &run, &physics, &models.sources))
    };
    let remarks =
        if sheet.warnings.is_empty() { String::new() } else { format!("{}\n", ProblemList(&sheet.warnings)) };
    Ok(Answer { text, remarks })
}
