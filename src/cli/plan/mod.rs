//! `snapspark plan`: the soak for what is wanted.

mod args;
mod intent;
mod wanted;

pub(super) use args::PlanArgs;

use super::{Answer, paint};
use crate::files::{self, Models, Problem, ProblemList};
use crate::plan::{PlanError, SoakPlan, Start, Tables};
use crate::prediction::predict;
use crate::report;
use intent::{Told, from_options, from_run};

/// Plans. The error is ready to be shown.
pub(super) fn plan(args: &PlanArgs) -> Result<Answer, String> {
    let models = Models::shared().map_err(|e| format!("error: {e}"))?;
    let told = if args.from.is_some() { from_run(args, models)? } else { from_options(args, models)? };
    let physics = models.physics(told.intent.choice.law.as_deref());
    let physics =
        physics.map_err(|e| format!("error: {}, model.law: {e}\n help: {}", told.name, e.help()))?;
    let tables = Tables {
        physics: &physics,
        need: &models.need,
        hardness: &models.hardness,
        rules: &models.plan,
        metals: &models.metals,
        compounds: &models.compounds,
    };
    let planned = solve(&told, args.go_on, &tables);
    let planned = planned.map_err(|e| format!("error: {}: {e}\n help: {}", told.name, e.help()))?;
    let text = if args.json {
        {
            let run = args.run.as_ref().or(args.from.as_ref()).map(|_| told.name.as_str());
            let answer = files::Answer::plan(run, &told.intent, &planned, &models.criteria);
            answer.json().map_err(|e| format!("error: {e}"))?
        }
    } else {
        paint::paint(&report::plan_page(&report::plan(&told.intent, &planned, &tables, &models.sources)))
    };
    Ok(Answer { remarks: remarks(&told.warnings), ..Answer::done(text) })
}

fn solve(told: &Told, go_on: bool, tables: &Tables) -> Result<SoakPlan, PlanError> {
    let Told { intent, before, .. } = told;
    match before {
        None => crate::plan::plan(intent, Start::Untreated, tables),
        Some(sheet) if go_on => crate::plan::plan(intent, Start::GoOn(&sheet.soak), tables),
        Some(sheet) => {
            let before = predict(&sheet.run(), tables.physics)?;
            crate::plan::plan(intent, Start::After(&before), tables)
        }
    }
}

fn remarks(warnings: &[Problem]) -> String {
    match warnings {
        [] => String::new(),
        warnings => format!("{}\n", ProblemList(warnings)),
    }
}
