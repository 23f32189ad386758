use super::draft::{Draft, Given};
use super::item::{Item, PARTS};
use super::{RunSheet, VERSION_KEY};
use crate::files::Models;
use crate::files::problem::Problem;
use crate::files::words::{is_dont_know, plain};
use std::io;

/// Stand in a trial sheet for a heat that is not told yet, so that the rest of it can be read.
const SOME_TEMPERATURE: &str = "900 C";
const SOME_TIME: &str = "1 h";
/// A coupon, and stock, that is not hardened.
const SOFT: &str = "soft";

impl Draft {
    /// Whether an answer says that nobody knows.
    pub fn is_dont_know(answer: &str) -> bool {
        is_dont_know(answer)
    }

    /// The draft with `answer` in the first of `items` that can hold it, which is found by reading
    /// the sheet; or what a reader of the sheet would be told.
    pub fn with_answer(&self, items: &[Item], answer: &str, models: &Models) -> Result<Self, Box<Problem>> {
        let mut refused = Vec::new();
        for &item in items {
            let mut draft = self.clone();
            draft.keep(item, Given::Said(answer.to_string()));
            if item == Item::Metal {
                draft.keep(Item::Melted, Given::Said("yes".to_string()));
            }
            // nobody hardens stock to hold it against a soft coupon
            if item == Item::SparkState && plain(answer) == SOFT {
                draft.keep(Item::StockState, Given::Said(SOFT.to_string()));
            }
            match draft.read_so_far(VERSION_KEY, models) {
                Ok(_) => return Ok(draft),
                Err(problems) => refused.extend(problems.into_iter().next().map(|p| about(item, p))),
            }
        }
        Err(Box::new(most_helpful(refused, answer)))
    }

    /// The sheet as far as it is told; a heat that is missing yet is made up. `file_name` goes into
    /// messages.
    pub fn read_so_far(&self, file_name: &str, models: &Models) -> Result<RunSheet, Vec<Problem>> {
        let mut trial = self.clone();
        if trial.said(Item::TimeAtHeat).is_none() {
            trial.keep(Item::TimeAtHeat, Given::Said(SOME_TIME.to_string()));
        }
        if !self.heat_is_told() {
            trial.keep(Item::Temperature, Given::Said(SOME_TEMPERATURE.to_string()));
        }
        let no_folder = |_: &str| Err(io::Error::from(io::ErrorKind::NotFound));
        RunSheet::read(&trial.text(), file_name, &no_folder, models)
    }

    /// Whether something says how hot it was.
    pub fn heat_is_told(&self) -> bool {
        [Item::Temperature, Item::Colour, Item::Metal].iter().any(|&item| self.said(item).is_some())
    }
}

/// The problem without its place in a sheet that nobody has seen: the field's name instead.
fn about(item: Item, problem: Problem) -> Problem {
    let key = PARTS.iter().flat_map(|part| part.lines).find(|line| line.item == item).map(|line| line.key);
    Problem {
        file: key.unwrap_or_default().replace('_', " "),
        line: None,
        column: None,
        field: None,
        ..problem
    }
}

/// Of what several fields say to the same answer: the first for what begins as a number; else the
/// last that guesses what was meant; else the last.
fn most_helpful(mut refused: Vec<Problem>, answer: &str) -> Problem {
    let guesses = |p: &Problem| p.help.as_ref().is_some_and(|help| help.starts_with("did you mean"));
    let at = if answer.starts_with(|c: char| c.is_ascii_digit() || "+-.~".contains(c)) {
        Some(0)
    } else {
        refused.iter().rposition(guesses)
    };
    let at = at.unwrap_or(refused.len().saturating_sub(1));
    if at < refused.len() { refused.swap_remove(at) } else { Problem::error("answer", "no field takes it") }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAT: [Item; 3] = [Item::Temperature, Item::Metal, Item::Colour];

    fn heat(answer: &str) -> Result<Draft, String> {
        let models = Models::shipped().unwrap();
        Draft::default().with_answer(&HEAT, answer, &models).map_err(|p| p.to_string())
    }

    #[test]
    fn a_heat_goes_where_it_can_be_read() {
        for (answer, item) in [
            ("1650 F", Item::Temperature),
            ("880-920 C", Item::Temperature),
            ("orange", Item::Colour),
            ("unknown brass", Item::Metal),
            ("C26000", Item::Metal),
        ] {
            assert_eq!(heat(answer).unwrap().said(item), Some(answer));
        }
        assert_eq!(heat("silver").unwrap().said(Item::Melted), Some("yes"));
    }

    #[test]
    fn a_bad_heat_is_told_what_helps_most() {
        let models = Models::shipped().unwrap();
        assert!(heat("900").unwrap_err().starts_with("error: temperature: `900`"));
        assert!(heat("ornage").unwrap_err().contains("did you mean \"orange\"?"));
        assert!(heat("unknown bras").unwrap_err().contains("did you mean \"unknown brass\""));
        assert!(heat("hot").unwrap_err().starts_with("error: colour: `hot`"));
        assert!(Draft::default().read_so_far("run.toml", &models).is_ok());
    }
}
