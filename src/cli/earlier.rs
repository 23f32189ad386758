use crate::crosscheck::{EarlierRuns, LeftOut, Lesson, same_furnace, shared};
use crate::files::problem::harmless;
use crate::files::{self, Models, Observed, Problem, RunSheet, SheetFile};
use crate::prediction::predict;
use std::path::{Path, PathBuf};

/// Where the sheets of earlier runs lie.
#[derive(Debug, Clone, Default, clap::Args)]
pub(super) struct HistoryArgs {
    /// Folder with the sheets of earlier runs: those of the same furnace and container tell what thermometer, compound and
    /// pack of this run should be like.
    #[arg(long, value_name = "DIR")]
    pub(super) history: Option<PathBuf>,
}

impl HistoryArgs {
    /// What earlier runs tell of the run in `sheet`, which lies at `path`. `None`: nobody asked. The error is ready to be
    /// shown.
    pub(super) fn told(&self, path: &Path, sheet: &RunSheet) -> Result<Option<EarlierRuns>, String> {
        let Some(folder) = &self.history else { return Ok(None) };
        let models = Models::shared().map_err(|e| format!("error: {e}"))?;
        let Some(furnace) = &sheet.soak.furnace else {
            let message = "the sheet names no furnace, so no earlier run can be known as its own";
            let help = "write furnace = \"small kiln\" into [soak] here and in the sheets of the earlier runs, or \
                 leave --history out";
            let name = path.display().to_string();
            return Err(Problem::error(&name, message).in_field("soak.furnace").help(help).to_string());
        };
        let (mut used, mut left_out) = (Vec::new(), Vec::new());
        let own = SheetFile::hash(path).map(|hash| (hash, harmless(&path.display().to_string())));
        let mut texts: Vec<(Vec<u8>, String)> = own.into_iter().collect();
        for file in files::sheets_in(folder).map_err(|problem| problem.to_string())? {
            let name = harmless(&file.name);
            match earlier(&file, &mut texts, (path, sheet), models) {
                Ok(lesson) => used.push((name, lesson)),
                Err(why) => left_out.push((name, why)),
            }
        }
        let stays = [0, 1, 2].map(|i| models.priors.stays[i].value);
        Ok(Some(EarlierRuns::new(harmless(furnace), used, left_out, stays)))
    }
}

/// What one sheet teaches the one at `path`; `texts` are the bytes read before it, by what they are called.
fn earlier(
    file: &SheetFile,
    texts: &mut Vec<(Vec<u8>, String)>,
    (path, now): (&Path, &RunSheet),
    models: &Models,
) -> Result<Lesson, LeftOut> {
    if files::same_file(&file.path, path) {
        return Err(LeftOut::Itself);
    }
    if let Some(hash) = SheetFile::hash(&file.path) {
        if let Some((_, name)) = texts.iter().find(|(other, _)| *other == hash) {
            return Err(LeftOut::CopyOf(name.clone()));
        }
        texts.push((hash, harmless(&file.name)));
    }
    let sheet = RunSheet::read_file(&file.path, models).map_err(|p| LeftOut::Unreadable(first(&p)))?;
    let Some(furnace) = &sheet.soak.furnace else { return Err(LeftOut::NoFurnace) };
    if !same_furnace(&now.soak, &sheet.soak) {
        return Err(LeftOut::OtherFurnace(harmless(furnace)));
    }
    let shared = shared(&now.run(), &sheet.run());
    if shared.is_empty() {
        return Err(LeftOut::NothingShared);
    }
    let not = |e: String| LeftOut::NotPredicted(harmless(&e));
    let physics = models.physics(sheet.model.law.as_deref()).map_err(|e| not(e.to_string()))?;
    let run = sheet.run();
    // by its own sheet alone: no set of known steels, no photo
    let observed = Observed::of(&sheet, None, models).map_err(|e| not(e.to_string()))?;
    let seen = observed.seen(&sheet, models);
    let prediction = predict(&run, &physics).map_err(|e| not(e.to_string()))?;
    let question = models.question((&run, &physics), &prediction, &seen, sheet.aim.as_ref());
    Lesson::of(&question, &shared)
}

/// The first thing that is wrong with a sheet.
fn first(problems: &[Problem]) -> String {
    problems.first().map_or_else(String::new, |problem| match problem.line {
        Some(line) => harmless(&format!("line {line}: {}", problem.message)),
        None => harmless(&problem.message),
    })
}
