//! `snapspark plan`: the soak for what is wanted.

mod args;
mod intent;
mod wanted;

pub(super) use args::PlanArgs;

use super::args::USUAL_DRAWS;
use super::{Answer, paint};
use crate::crosscheck::cross_check;
use crate::files::{self, Models, Observed, Problem, ProblemList};
use crate::plan::{PlanError, SoakPlan, Start, Tables, as_seen};
use crate::prediction::{Run, predict};
use crate::report;
use intent::{Told, from_options, from_run};

/// Plans. The error is ready to be shown.
pub(super) fn plan(args: &PlanArgs) -> Result<Answer, String> {
    let models = Models::shared().map_err(|e| format!("error: {e}"))?;
    let mut told = if args.from.is_some() { from_run(args, models)? } else { from_options(args, models)? };
    let physics = models.physics(told.intent.choice.law.as_deref());
    let physics =
        physics.map_err(|e| format!("error: {}, model.law: {e}\n help: {}", told.name, e.help()))?;
    let tables = models.tables(&physics);
    let planned = solve(&mut told, (args.go_on, args.quick), &tables, models)?;
    let text = if args.json {
        {
            let run = args.run.as_ref().or(args.from.as_ref()).map(|_| told.name.as_str());
            let answer = files::Answer::plan(run, &told.intent, &planned, &models.criteria);
            let answer = answer.with(told.earlier.as_ref(), &planned.prediction.prior);
            answer.json().map_err(|e| format!("error: {e}"))?
        }
    } else {
        let words = report::plan(&told.intent, &planned, &tables, &models.sources);
        let earlier =
            told.earlier.as_ref().map(|earlier| report::earlier(earlier, &planned.prediction.prior));
        paint::paint(&report::plan_page(&report::PlanReport { earlier, ..words }))
    };
    Ok(Answer { remarks: remarks(&told.warnings), ..Answer::done(text) })
}

fn solve(
    told: &mut Told,
    (go_on, quick): (bool, bool),
    tables: &Tables,
    models: &Models,
) -> Result<SoakPlan, String> {
    let Told { intent, before, name, .. } = told;
    let shown = |e: PlanError| format!("error: {name}: {e}\n help: {}", e.help());
    match before {
        None => crate::plan::plan(intent, Start::Untreated, tables).map_err(shown),
        Some(sheet) if go_on => crate::plan::plan(intent, Start::GoOn(&sheet.soak), tables).map_err(shown),
        Some(sheet) => {
            let run = Run { history: intent.history.as_ref(), ..sheet.run() };
            let told = predict(&run, tables.physics).map_err(|e| shown(e.into()))?;
            let observed = Observed::of(sheet, None, models).map_err(|e| format!("error: {name}: {e}"))?;
            let seen = observed.seen(sheet, models);
            // where nothing was seen, drawn runs tell no more of the soak than the story does
            let quick = quick || seen.observations(tables.hardness, &models.causes.eyes).is_empty();
            let prediction = if quick { told } else { told.drawn(&run, tables.physics, USUAL_DRAWS) };
            let question = models.question((&run, tables.physics), &prediction, &seen, sheet.aim.as_ref());
            let check = cross_check(&question);
            intent.first_seen = !check.agreements.is_empty();
            let before = as_seen(&question, &check).map_err(shown)?;
            crate::plan::plan(intent, Start::After(&before), tables).map_err(shown)
        }
    }
}

fn remarks(warnings: &[Problem]) -> String {
    match warnings {
        [] => String::new(),
        warnings => format!("{}\n", ProblemList(warnings)),
    }
}
