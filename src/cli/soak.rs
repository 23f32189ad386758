use super::args::SoakArgs;
use super::told_run::ToldRun;
use super::{Answer, paint};
use crate::crosscheck::EarlierRuns;
use crate::files;
use crate::prediction::Run;
use crate::report;

/// `snapspark soak`: the prediction alone. The error is ready to be shown.
pub(super) fn soak(args: &SoakArgs) -> Result<Answer, String> {
    let mut told = ToldRun::read(&args.run)?;
    let known = args.known.set_or(&told)?;
    told.learn_edge(&known)?;
    let physics = told.physics()?;
    let earlier = args.earlier.told(&args.run, &told.sheet)?;
    let run = Run { history: earlier.as_ref().and_then(EarlierRuns::told), ..told.sheet.run() };
    let prediction = told.predict(&run, &physics, args.draws.count())?;
    told.save_profile(args.profile.as_deref(), &prediction)?;
    let (name, models) = (&told.name, &told.models);
    let text = if args.json {
        let answer = files::Answer::soak(name, &prediction, &models.criteria);
        let answer = answer.with(earlier.as_ref(), &prediction.prior);
        answer.json().map_err(|e| format!("error: {e}"))?
    } else {
        let told = report::soak(name, &prediction, &run, &physics, &models.sources);
        let words = earlier.as_ref().map(|earlier| report::earlier(earlier, &prediction.prior));
        paint::paint(&report::soak_page(&report::SoakReport { earlier: words, ..told }))
    };
    Ok(Answer { remarks: told.remarks(), ..Answer::done(text) })
}
