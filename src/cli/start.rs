mod dialogue;
mod question;

use super::args::{CheckArgs, DrawsArgs, StartArgs};
use super::at_rig::RigArgs;
use super::earlier::HistoryArgs;
use super::{Answer, Exit};
use crate::files::problem::harmless;
use crate::files::run_sheet::{Draft, Given, Item};
use crate::files::{self, Models, Problem, ProblemList};
use crate::prediction::predict;
use dialogue::Dialogue;
use question::{QUESTIONS, Question, numbered};
use std::io::{self, IsTerminal};
use std::path::Path;

const CAUTIONS: &str = "\
Carbon monoxide is made on purpose: outdoors or under a hood, alarm on. Never
seal the container. Local codes and licensed practice come first.
";

/// An answer that cannot be read is asked for again, so often in all.
const MOST_TRIES: u32 = 3;

/// `snapspark start`: ten questions, a run sheet, an answer. The error is ready to be shown.
pub(super) fn start(args: &StartArgs) -> Result<Answer, String> {
    let models = Models::shipped().map_err(|e| format!("error: {e}"))?;
    let (draft, opening) = open(args, &models)?;
    save(&args.run, &draft)?;
    let stdin = io::stdin();
    let echo = !stdin.is_terminal();
    let mut dialogue = Dialogue { input: &mut stdin.lock(), output: &mut io::stderr(), echo };
    dialogue.say(CAUTIONS);
    dialogue.say(&opening);
    dialogue.say("Enter takes what stands in [ ]; ? means \"don't know\", which is always an answer.\n");
    let run = Session { path: &args.run, models: &models, dialogue, draft }.run()?;
    match run {
        Ending::Complete => answer(&args.run),
        Ending::NoHeat => Ok(Answer { exit: Exit::CannotTell, ..Answer::done(no_heat(&args.run)) }),
        Ending::Left(remarks) => Ok(Answer { remarks, ..Answer::done(String::new()) }),
    }
}

/// What is said of a complete sheet.
fn answer(run: &Path) -> Result<Answer, String> {
    super::check::check(&CheckArgs {
        run: run.to_path_buf(),
        profile: None,
        known: RigArgs::default(),
        earlier: HistoryArgs::default(),
        draws: DrawsArgs::default(),
        json: false,
    })
}

/// What is said of a sheet without heat: there is nothing to hold the coupon against.
fn no_heat(run: &Path) -> String {
    let run = harmless(&run.display().to_string());
    format!(
        "Took, for its use: CANNOT TELL\n  \
         Nobody knows how hot it was or how long, so nothing is known of the piece.\n\
         What now: FIND OUT HOW HOT AND HOW LONG\n  \
         A colour (\"orange\"), or a metal that melted beside it, and a guess at the\n  \
         time are enough: `snapspark start {run}`\n  \
         asks for them again. Next time put a metal witness beside the steel.\n"
    )
}

/// A new draft, or the one that was left, with what to say about it.
fn open(args: &StartArgs, models: &Models) -> Result<(Draft, String), String> {
    let name = args.run.display();
    let fresh = || format!("Ten questions. Each answer is kept in {name} at once.");
    let found = match Draft::read_file(&args.run) {
        Ok(found) => found,
        Err(e) if e.kind() == io::ErrorKind::NotFound => return Ok((Draft::default(), fresh())),
        Err(e) => return Err(format!("error: {name}: {e}\n help: give the run sheet another name")),
    };
    if args.over {
        let aside = files::set_aside(&args.run)
            .map_err(|e| format!("error: {name}: it cannot be renamed: {e}\n help: move it away by hand"))?;
        let aside = aside.display();
        return Ok((Draft::default(), format!("What was there is now {aside}.\n{}", fresh())));
    }
    let refused = |why: &str| {
        format!(
            "error: {name}: {why}\n \
             help: `snapspark check {name}` reads it; give another name for another run,\n       \
             or --over to start anew: the old one is kept beside it, as .bak"
        )
    };
    let draft = found
        .ok_or_else(|| refused("the file is there already, and has other lines than these questions make"))?;
    let sheet = draft
        .read_so_far(&name.to_string(), models)
        .map_err(|problems| format!("{}\nMend this line, then start again.", ProblemList(&problems)))?;
    if QUESTIONS.iter().any(|question| question.is_open(&draft, &sheet)) {
        Ok((draft, format!("Going on with {name} where it was left.")))
    } else {
        Err(refused("every question is answered there already"))
    }
}

fn save(path: &Path, draft: &Draft) -> Result<(), String> {
    files::save(path, draft.text().as_bytes()).map_err(|e| {
        let path = path.display();
        format!(
            "error: {path}: the run sheet cannot be written: {e}\n \
             help: check that the folder exists and may be written to"
        )
    })
}

/// How the questions ended.
enum Ending {
    Complete,
    /// All were asked, and nobody knows how hot it was or how long.
    NoHeat,
    /// Before the last one, with what to say about it.
    Left(String),
}

struct Session<'s> {
    path: &'s Path,
    models: &'s Models,
    dialogue: Dialogue<'s>,
    draft: Draft,
}

impl Session<'_> {
    fn run(mut self) -> Result<Ending, String> {
        let mut number = 0;
        for question in &QUESTIONS {
            number += usize::from(question.follows.is_none());
            let name = self.path.display().to_string();
            let sheet = self.draft.read_so_far(&name, self.models);
            let sheet = sheet.map_err(|problems| ProblemList(&problems).to_string())?;
            if !question.is_open(&self.draft, &sheet) {
                continue;
            }
            if !self.settle(question, number)? {
                return Ok(Ending::Left(format!(
                    "Left at question {number} of {}. `snapspark start {name}` goes on from here.\n",
                    numbered()
                )));
            }
            save(self.path, &self.draft)?;
        }
        let name = self.path.display();
        self.dialogue.say(&format!("\nThe run sheet is {name}: read it over, more can be added by hand.\n"));
        let told = self.draft.heat_is_told() && self.draft.said(Item::TimeAtHeat).is_some();
        Ok(if told { Ending::Complete } else { Ending::NoHeat })
    }

    /// Asks until there is an answer, or too often; `false` at the end of input.
    fn settle(&mut self, question: &Question, number: usize) -> Result<bool, String> {
        let label = match question.follows {
            None => format!("{number:>2}/{}", numbered()),
            Some(_) => " ".repeat(5),
        };
        let line = format!("{label} {} {} [{}]", question.ask, question.may, question.default.unwrap_or("?"));
        for _ in 0..MOST_TRIES {
            let typed = self.dialogue.ask(&line);
            let Some(typed) = typed.map_err(|e| format!("error: the answers cannot be read: {e}"))? else {
                return Ok(false);
            };
            let answer = Some(typed.as_str()).filter(|t| !t.is_empty()).or(question.default);
            let Some(answer) = answer.filter(|answer| !Draft::is_dont_know(answer)) else {
                self.leave_out(question);
                return Ok(true);
            };
            match self.take(question, answer) {
                Ok(draft) => {
                    self.draft = draft;
                    return Ok(true);
                }
                Err(why) => self.dialogue.say(&why),
            }
        }
        self.dialogue.say("      Left out for now: no answer that can be read. The sheet takes it later.");
        self.leave_out(question);
        Ok(true)
    }

    /// The draft with this answer, or why it cannot be taken.
    fn take(&self, question: &Question, answer: &str) -> Result<Draft, String> {
        let draft = self.draft.with_answer(question.items, answer, self.models).map_err(|p| p.to_string())?;
        // a heat that no steel survives is better told now than after the last question
        if question.needed {
            let sheet = draft.read_so_far("answer", self.models);
            let sheet = sheet.map_err(|problems| ProblemList(&problems).to_string())?;
            let physics = self.models.physics(None).map_err(|e| format!("error: {e}"))?;
            predict(&sheet.run(), &physics)
                .map_err(|e| Problem::error("heat", e.to_string()).help(e.help()).to_string())?;
        }
        Ok(draft)
    }

    fn leave_out(&mut self, question: &Question) {
        if question.needed {
            return;
        }
        for &item in question.items {
            self.draft.keep(item, Given::LeftOut);
        }
    }
}
