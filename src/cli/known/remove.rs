use super::args::RemoveArgs;
use super::{broken, said};
use crate::cli::{Answer, Exit, paint};
use crate::files::KnownSet;
use crate::report::{Step, Tone, step_page};

/// `snapspark known remove`, and back. The error is ready to be shown.
pub(super) fn remove(args: &RemoveArgs) -> Result<Answer, String> {
    let mut set = args.set.open()?;
    let steps =
        if args.undo { bring_back(&mut set, &args.names)? } else { put_aside(&mut set, &args.names)? };
    Ok(Answer { text: paint::paint(&step_page(&steps)), remarks: broken(&set), exit: Exit::Done })
}

fn put_aside(set: &mut KnownSet, beginnings: &[String]) -> Result<Vec<Step>, String> {
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
    let mut steps = Vec::new();
    for name in names {
        set.remove(&name).map_err(|p| said(&[*p]))?;
        let words = format!("Bring it back with: snapspark known remove --undo {name}");
        steps.push(Step { what: "Removed", name, words, tone: Tone::Good });
    }
    Ok(steps)
}

fn bring_back(set: &mut KnownSet, beginnings: &[String]) -> Result<Vec<Step>, String> {
    let mut steps = Vec::new();
    for beginning in beginnings {
        let name = set.bring_back(beginning).map_err(|p| said(&p))?;
        let words = "It counts again.".to_string();
        steps.push(Step { what: "Brought back", name, words, tone: Tone::Good });
    }
    Ok(steps)
}
