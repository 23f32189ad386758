use super::args::CheckArgs;
use super::told_run::ToldRun;
use super::{Answer, Exit, paint};
use crate::crosscheck::{self, Question, cross_check};
use crate::files::{self, Observed};
use crate::report;

/// `snapspark check`: what coupon and soak say together. The error is ready to be shown.
pub(super) fn check(args: &CheckArgs) -> Result<Answer, String> {
    let told = ToldRun::read(&args.run)?;
    let physics = told.physics()?;
    let run = told.sheet.run();
    let prediction = told.predict(&run, &physics)?;
    told.save_profile(args.profile.as_deref(), &prediction)?;
    let (name, models) = (&told.name, &told.models);
    let observed = Observed::of(&told.sheet, models).map_err(|e| format!("error: {name}: {e}"))?;
    let seen = observed.seen(&told.sheet, models);
    let question = Question {
        run: &run,
        physics: &physics,
        prediction: &prediction,
        seen: &seen,
        aim: told.sheet.aim.as_ref(),
        causes: &models.causes,
        need: &models.need,
        hardness: &models.hardness,
    };
    let check = cross_check(&question);
    let text = if args.json {
        let answer = files::Answer::check(name, &question, &check, &observed, None);
        answer.json().map_err(|e| format!("error: {e}"))?
    } else {
        paint::paint(&report::check_page(&report::check(name, &question, &check, &models.sources, None)))
    };
    let exit = match check.took.answer {
        crosscheck::Answer::Yes | crosscheck::Answer::Partly => Exit::Done,
        crosscheck::Answer::No => Exit::NotTaken,
        crosscheck::Answer::CannotTell => Exit::CannotTell,
    };
    Ok(Answer { text, remarks: told.remarks(), exit })
}
