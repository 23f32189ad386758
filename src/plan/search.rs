//! The hold that reaches the goal, story by story: a bracketed secant in √time, in which a depth is nearly
//! straight. All stories take a step at once, so that every core has work.

use super::PlanError;
use super::course::Course;
use crate::prediction::{Inputs, Outcome, Stories};
use crate::soak::Guesses;

/// The root is known to this share of √time: a thousandth of the time.
const CLOSE: f64 = 5e-4;
/// Steps after which only halving is trusted, and after which the bracket is as good as it gets.
const HALVE_AFTER: usize = 12;
const MOST_STEPS: usize = 60;
/// Holds shorter than this count as none, s.
const NOTHING_S: f64 = 20.0;

/// Search in one story. Abscissa u = √seconds; f = reached - goal, which does not fall.
struct Search {
    /// The longest hold that is too short.
    low: Option<(f64, f64)>,
    /// The shortest that is long enough.
    high: Option<(f64, f64)>,
    /// Where to look next.
    u: f64,
    /// The end that the last step replaced, high or not: the other one counts less if it stays.
    last: Option<bool>,
    found: Found,
}

/// How far a search got.
#[derive(Clone, Copy, PartialEq)]
enum Found {
    NotYet,
    /// Seconds.
    Hold(f64),
    /// The longest hold is not enough.
    Never,
}

/// Seconds of hold that each story needs, from what it `reached` with a hold of `first` seconds. `None`: the
/// longest hold is not enough.
pub(super) fn holds(
    course: &Course,
    stories: &Stories,
    each: &[(Option<&Outcome>, Inputs)],
    (first, reached): (f64, &[f64]),
) -> Result<Vec<Option<f64>>, PlanError> {
    let goal = course.goal();
    let longest = course.longest().sqrt();
    let mut searches: Vec<Search> = reached
        .iter()
        .map(|value| {
            let mut search =
                Search { low: None, high: None, u: first.sqrt(), last: None, found: Found::NotYet };
            search.learn(*value, goal, longest, 0);
            search
        })
        .collect();
    for step in 1..MOST_STEPS {
        let open: Vec<usize> = (0..searches.len()).filter(|i| searches[*i].found == Found::NotYet).collect();
        if open.is_empty() {
            break;
        }
        let asked: Vec<_> = open
            .iter()
            .map(|i| {
                let (before, inputs) = each[*i];
                let then = Some(course.hold(searches[*i].u * searches[*i].u));
                (before, Inputs { times: Guesses { then, ..inputs.times }, ..inputs })
            })
            .collect();
        for (i, solved) in open.into_iter().zip(stories.solve_all_after(&asked)) {
            let value = course.reached(stories, &solved?)?;
            searches[i].learn(value, goal, longest, step);
        }
    }
    // what is still open has closed in on a jump: there the case comes through
    let hold = |search: &Search| match search.found {
        Found::Hold(seconds) => Some(seconds),
        Found::Never => None,
        Found::NotYet => search.high.map(|high| high.0 * high.0),
    };
    Ok(searches.iter().map(hold).collect())
}

impl Search {
    /// Takes in what a hold of u² s reached, and chooses the next one.
    fn learn(&mut self, value: f64, goal: f64, longest: f64, step: usize) {
        let f = value - goal;
        let enough = f >= 0.0;
        let end = if enough { &mut self.high } else { &mut self.low };
        *end = Some((self.u, f));
        // Illinois rule: an end that stays twice counts half
        match (self.last == Some(enough), &mut self.low, &mut self.high) {
            (true, Some(low), Some(_)) if enough => low.1 *= 0.5,
            (true, Some(_), Some(high)) if !enough => high.1 *= 0.5,
            _ => {}
        }
        self.last = Some(enough);
        let next = match (self.low, self.high) {
            (Some(low), Some(high)) => {
                let secant = (low.0 * high.1 - high.0 * low.1) / (high.1 - low.1);
                let middle = f64::midpoint(low.0, high.0);
                let next = if step > HALVE_AFTER || !secant.is_finite() { middle } else { secant };
                let near = (next - self.u).abs() <= CLOSE * next && step <= HALVE_AFTER;
                if near || high.0 - low.0 <= CLOSE * high.0 {
                    self.found = Found::Hold(next * next);
                }
                next
            }
            (Some(_), None) if self.u >= longest => {
                self.found = Found::Never;
                longest
            }
            // a depth goes with the root of the time; a little more brackets it
            (Some(_), None) => {
                let ratio = if value > 0.0 { goal / value } else { 2.0 };
                (self.u * (1.03 * ratio).clamp(1.05, 2.5)).max(2.0).min(longest)
            }
            (None, Some(_)) if self.u == 0.0 => {
                self.found = Found::Hold(0.0);
                0.0
            }
            (None, Some(_)) => {
                let shorter = self.u * (0.97 * goal / value).clamp(0.2, 0.95);
                if shorter * shorter < NOTHING_S { 0.0 } else { shorter }
            }
            (None, None) => self.u,
        };
        self.u = next;
    }
}
