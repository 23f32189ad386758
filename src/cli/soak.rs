use super::args::SoakArgs;
use super::told_run::ToldRun;
use super::{Answer, paint};
use crate::files;
use crate::report;

/// `snapspark soak`: the prediction alone. The error is ready to be shown.
pub(super) fn soak(args: &SoakArgs) -> Result<Answer, String> {
    let mut told = ToldRun::read(&args.run)?;
    let known = args.known.set_or(&told)?;
    told.learn_edge(&known)?;
    let physics = told.physics()?;
    let run = told.sheet.run();
    let prediction = told.predict(&run, &physics, args.draws.count())?;
    told.save_profile(args.profile.as_deref(), &prediction)?;
    let (name, models) = (&told.name, &told.models);
    let text = if args.json {
        files::Answer::soak(name, &prediction, &models.criteria).json().map_err(|e| format!("error: {e}"))?
    } else {
        paint::paint(&report::soak_page(&report::soak(name, &prediction, &run, &physics, &models.sources)))
    };
    Ok(Answer { remarks: told.remarks(), ..Answer::done(text) })
}
