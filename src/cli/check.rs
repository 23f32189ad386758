use super::Answer;
use super::args::CheckArgs;
use crate::crosscheck::{self, Question, cross_check};
use crate::files::problem::harmless;
use crate::files::{Models, Observed, ProblemList, RunSheet};
use crate::prediction::predict;
use std::time::Instant;

/// `snapspark check`: the main job.
pub(super) fn check(args: &CheckArgs) -> Result<Answer, String> {
    let models = Models::shipped().map_err(|e| format!("error: {e}"))?;
    let sheet = RunSheet::read_file(&args.run, &models).map_err(|p| ProblemList(&p).to_string())?;
    let name = harmless(&args.run.display().to_string());
    let physics = models
        .physics(sheet.model.law.as_deref())
        .map_err(|e| format!("error: {name}, model.law: {e}\n help: {}", e.help()))?;
    let run = sheet.run();
    let prediction =
        predict(&run, &physics).map_err(|e| format!("error: {name}: {e}\n help: {}", e.help()))?;
    let observed = Observed::of(&sheet, &models).map_err(|e| format!("error: {e}"))?;
    let seen = observed.seen(&sheet, &models);
    let t = Instant::now();
    let question = Question {
        run: &run,
        physics: &physics,
        prediction: &prediction,
        seen: &seen,
        aim: sheet.aim.as_ref(),
        causes: &models.causes,
        need: &models.need,
        hardness: &models.hardness,
    };
    let check: crosscheck::CrossCheck<'_> = cross_check(&question);
    let mut text = format!("{:?}\n{:?}\n", check.took, check.fits);
    for a in &check.agreements {
        text += &format!("  {:?} place {:.3} {:?} expected {:?}\n", a.side, a.place, a.seen, a.expected);
    }
    text += &format!("usual {:.3}\n", check.usual);
    for c in &check.causes {
        text += &format!("  {:.3} {} {:?}\n", c.share, c.cause.name, c.change);
    }
    text += &format!("{:#?}\n{:?}\n{:?}", check.finish, check.advice, t.elapsed());
    Ok(Answer { text, remarks: String::new() })
}
