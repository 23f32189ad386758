use super::args::RemoveArgs;
use super::{broken, said};
use crate::cli::{Answer, Exit, paint};
use crate::files::{self, KnownSet, SetStep};
use crate::report::{Step, Tone, step_page};

/// `snapspark known remove`, and back. The error is ready to be shown.
pub(super) fn remove(args: &RemoveArgs) -> Result<Answer, String> {
    let mut set = args.set.open()?;
    let names =
        if args.undo { bring_back(&mut set, &args.names)? } else { put_aside(&mut set, &args.names)? };
    let text = if args.json {
        let step = if args.undo { SetStep::brought_back } else { SetStep::removed };
        let steps = names.iter().map(|name| step(name)).collect();
        files::Answer::steps("known remove", &set, steps).json().map_err(|e| format!("error: {e}"))?
    } else {
        let step = if args.undo { brought_back } else { removed };
        paint::paint(&step_page(&names.into_iter().map(step).collect::<Vec<_>>()))
    };
    Ok(Answer { text, remarks: broken(&set), exit: Exit::Done })
}

fn put_aside(set: &mut KnownSet, beginnings: &[String]) -> Result<Vec<String>, String> {
    let mut names = Vec::new();
    let mut problems = Vec::new();
    for beginning in beginnings {
        match set.name_of(beginning) {
            Ok(name) if names.iter().any(|n| n == name) => {}
            Ok(name) => names.push(name.to_string()),
            Err(problem) => problems.push(*problem),
        }
    }
    if !problems.is_empty() {
        return Err(said(&problems));
    }
    for name in &names {
        set.remove(name).map_err(|p| said(&[*p]))?;
    }
    Ok(names)
}

fn removed(name: String) -> Step {
    let words = format!("Bring it back with: snapspark known remove --undo {name}");
    Step { what: "Removed", name, words, tone: Tone::Good }
}

fn brought_back(name: String) -> Step {
    Step { what: "Brought back", name, words: "It counts again.".into(), tone: Tone::Good }
}

fn bring_back(set: &mut KnownSet, beginnings: &[String]) -> Result<Vec<String>, String> {
    beginnings.iter().map(|beginning| set.bring_back(beginning).map_err(|p| said(&p))).collect()
}
