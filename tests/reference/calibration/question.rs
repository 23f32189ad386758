use super::coupon::Coupon;
use super::drawn_run::DrawnRun;
use crate::support::models;
use snapspark::crosscheck::{Causes, Expected, Question, Seen, weighed_runs};
use snapspark::prediction::{Inputs, Prediction, Stories, Story};

impl<'a> DrawnRun<'a> {
    /// Whether nobody knows its steel.
    fn stock_unknown(&self) -> bool {
        self.sheet.stock.name == models().default_grade
    }

    /// Its coupon with nothing seen of it.
    pub(super) fn unseen(&self) -> Coupon {
        Coupon::unseen(self.believed, self.stock_unknown())
    }

    /// What is asked of it.
    pub(super) fn question<'q>(
        &self,
        prediction: &'q Prediction,
        seen: &'q Seen<'q>,
        causes: &'q Causes,
    ) -> Question<'q>
    where
        'a: 'q,
    {
        let question = models().question((self.run, self.physics), prediction, seen, self.sheet.aim.as_ref());
        Question { causes, ..question }
    }

    /// Draws so many truths, solved as the prediction's own stories are.
    pub(super) fn true_stories(&mut self, count: usize) -> Vec<Option<Story>> {
        let truths = self.truths(count);
        Stories::of(self.run, self.physics).drawn().look_at_all(&truths, Clone::clone)
    }

    /// Looks at each of these with what should be seen of it.
    pub(super) fn each_truth(
        &mut self,
        drawn: Vec<Option<Story>>,
        mut look: impl FnMut(&mut Self, &Inputs, &Expected<'_>),
    ) {
        let prediction = Prediction { drawn, ..self.prediction.clone() };
        let (unseen, sound) = (self.unseen(), sound());
        let seen = unseen.seen();
        let runs = weighed_runs(&self.question(&prediction, &seen, &sound));
        for truth in runs {
            look(self, &truth.inputs, &truth.expected);
        }
    }
}

/// No cause at all: only runs without fault are drawn.
pub(super) fn sound() -> Causes {
    Causes { list: Vec::new(), ..models().causes.clone() }
}
