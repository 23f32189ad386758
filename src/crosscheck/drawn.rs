//! Hypotheses drawn from everything that is not known of a run: a few thousand sound ones, and for every change of every
//! cause as many as tell what it does to runs as different as these.

use super::Move;
use super::hypothesis::{Ground, Hypothesis, thinner};
use super::telling::Left;
use crate::prediction::{Draws, Run, Stories, Story};

/// Draws of each change of a cause: one in so many of the sound ones.
const ONE_IN: usize = 64;

impl<'a> Ground<'a> {
    /// The runs that were drawn for the prediction, and the same with each change of each cause.
    pub(super) fn drawn(&self) -> Vec<Hypothesis<'a>> {
        let stories = Stories::of(self.run, self.physics).drawn();
        let drawn = &self.prediction.drawn;
        let draws = Draws::of(&self.prediction.prior, drawn.len());
        let sound: Vec<&Story> = drawn.iter().flatten().collect();
        let few = drawn.iter().enumerate().filter(|(draw, _)| draws.is_one_of_few(*draw, ONE_IN));
        let few: Vec<&Story> = few.filter_map(|(_, story)| story.as_ref()).collect();

        let unchanged = Move::default();
        let usual = self.causes.usual.value / sound.len() as f64;
        let mut list: Vec<Hypothesis<'a>> =
            sound.iter().map(|story| self.told(&stories, story, None, (&unchanged, usual))).collect();
        for (cause, change) in self.changes() {
            let blamed = &self.causes.list[cause];
            let weight = blamed.weight.value / blamed.moves.len() as f64 / few.len() as f64;
            let inputs = few.iter().map(|story| self.changed_inputs(&story.inputs, change));
            if change.asks_the_solver() {
                let coupon = change.thickness.map(|thickness| thinner(self.run.coupon, thickness));
                let run = Run { coupon: coupon.as_ref().unwrap_or(self.run.coupon), ..*self.run };
                let stories = Stories::of(&run, self.physics).drawn();
                let solved = stories.look_at_all(&inputs.collect::<Vec<_>>(), |story| {
                    self.told(&stories, story, Some(cause), (change, weight))
                });
                list.extend(solved.into_iter().flatten());
            } else {
                // the same carbon, seen otherwise
                list.extend(few.iter().zip(inputs).map(|(story, inputs)| {
                    let story = Story { inputs, ..(*story).clone() };
                    self.told(&stories, &story, Some(cause), (change, weight))
                }));
            }
        }
        list
    }

    fn told(
        &self,
        stories: &Stories<'_>,
        story: &Story,
        cause: Option<usize>,
        (change, weight): (&Move, f64),
    ) -> Hypothesis<'a> {
        Hypothesis {
            cause,
            change: *change,
            weight: weight * self.heat_witnesses(story),
            inputs: story.inputs,
            conditions: stories.conditions(story),
            expected: self.expected(stories, story, change, Left::None),
        }
    }
}
