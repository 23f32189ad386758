use crate::files::RunSheet;
use crate::files::run_sheet::{Draft, Item};
use crate::fracture::{Quenching, Rim};
use crate::spark::SteelState;

/// One line that is asked.
pub(super) struct Question {
    /// What is asked.
    pub(super) ask: &'static str,
    /// What may be answered; words are divided by " / ".
    pub(super) may: &'static str,
    /// The fields that the answer may go into; the first that can be read takes it.
    pub(super) items: &'static [Item],
    /// What Enter stands for; `None`: nobody knows.
    pub(super) default: Option<&'static str>,
    /// Whether there is nothing to answer without it. Then "don't know" is not kept, so that it is
    /// asked again the next time.
    pub(super) needed: bool,
    /// Follow-up questions have no number, and are asked only if this holds.
    pub(super) follows: Option<fn(&Draft, &RunSheet) -> bool>,
}

impl Question {
    const fn new(ask: &'static str, may: &'static str, items: &'static [Item]) -> Self {
        Self { ask, may, items, default: None, needed: false, follows: None }
    }

    const fn default(self, default: &'static str) -> Self {
        Self { default: Some(default), ..self }
    }

    const fn needed(self) -> Self {
        Self { needed: true, ..self }
    }

    const fn after(self, follows: fn(&Draft, &RunSheet) -> bool) -> Self {
        Self { follows: Some(follows), ..self }
    }

    /// Whether it is to be asked, as things stand.
    pub(super) fn is_open(&self, draft: &Draft, sheet: &RunSheet) -> bool {
        let settled = self.items.iter().any(|&item| draft.given(item).is_some());
        !settled && self.follows.is_none_or(|holds| holds(draft, sheet))
    }
}

/// All questions, in the order of the day.
pub(super) const QUESTIONS: [Question; 22] = [
    Question::new("Which steel?", "such as 1018, rebar", &[Item::Grade]).default("mild steel, unknown"),
    Question::new("How thick is the coupon?", "such as 3 mm, 1/8 in", &[Item::Thickness]),
    Question::new("What is the piece?", "such as marking knife", &[Item::What]),
    Question::new("How thick was its edge in the pack?", "such as 1.5 mm, 60 thou", &[Item::EdgeThickness])
        .after(|_, _| true),
    Question::new("How much is ground off each side?", "such as 0.2 mm, 0 mm", &[Item::MetalOff])
        .after(|draft, _| draft.said(Item::EdgeThickness).is_some()),
    Question::new("Which container?", "pipe / box", &[Item::Container]),
    Question::new("How wide inside?", "such as 50 mm, 2 in", &[Item::Inside])
        .after(|_, sheet| sheet.pack.container.is_some()),
    Question::new("Which charcoal?", "granules / powder / energized / spent", &[Item::Compound]),
    Question::new(
        "How hot?",
        "1650 F / orange / a metal that melted: unknown brass",
        &[Item::Temperature, Item::Metal, Item::Colour],
    )
    .needed(),
    Question::new("Thermometer sat?", "beside the steel / in the pack / outside", &[Item::Thermometer])
        .after(|draft, _| draft.said(Item::Temperature).is_some()),
    Question::new("Metal sat?", "beside the steel / at the wall", &[Item::Sat])
        .after(|draft, _| draft.said(Item::Metal).is_some()),
    Question::new("How long at that heat?", "such as 75 min, 1:15", &[Item::TimeAtHeat])
        .needed()
        .after(|_, _| true),
    Question::new("Cooled how?", "in the closed pack / opened hot / quenched from the heat", &[Item::Cooled]),
    Question::new("Skin when opened?", "light grey / dark scale", &[Item::Skin]).after(|_, _| true),
    Question::new("Sparks against stock?", "fewer / same / some more / many more / bushy", &[Item::Compared]),
    Question::new("Coupon when sparked?", "soft / hardened", &[Item::SparkState])
        .after(|draft, _| draft.said(Item::Compared).is_some()),
    Question::new("And the stock beside it?", "soft / hardened", &[Item::StockState])
        .after(|_, sheet| sparked_hard(sheet)),
    Question::new("And inward?", "rich then plain / rich throughout / plain throughout", &[Item::OverTime])
        .after(|draft, _| draft.said(Item::Compared).is_some()),
    Question::new("Coupon quenched in?", "water / brine / oil / not quenched", &[Item::QuenchedIn]),
    Question::new("Rim on the broken face?", "none / partial / all round / through", &[Item::Rim])
        .after(|_, sheet| quenched(sheet)),
    Question::new("How deep, roughly?", "such as 0.5 mm, 20 thou, 15 %", &[Item::RimDepth])
        .after(|_, sheet| rim_has_a_depth(sheet)),
    Question::new("A file on the coupon?", "bites / skates", &[Item::FileResult]),
];

/// How many of them have a number.
pub(super) fn numbered() -> usize {
    QUESTIONS.iter().filter(|question| question.follows.is_none()).count()
}

fn sparked_hard(sheet: &RunSheet) -> bool {
    sheet.spark.as_ref().and_then(|spark| spark.coupon.state) == Some(SteelState::Hardened)
}

fn quenched(sheet: &RunSheet) -> bool {
    let quenched = sheet.fracture.as_ref().and_then(|fracture| fracture.coupon.quenched);
    quenched != Some(Quenching::NotQuenched)
}

fn rim_has_a_depth(sheet: &RunSheet) -> bool {
    let rim = sheet.fracture.as_ref().and_then(|fracture| fracture.coupon.rim);
    matches!(rim, Some(Rim::Partial | Rim::AllRound))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::Models;

    /// Every word that a question offers, and every default, is one that the sheet takes.
    #[test]
    fn what_is_offered_can_be_answered() {
        let models = Models::shipped().unwrap();
        for question in &QUESTIONS {
            let offered =
                question.may.trim_start_matches("such as ").split(" / ").flat_map(|w| w.split(", "));
            for word in offered.chain(question.default) {
                let word = word.trim_start_matches("a metal that melted: ");
                let draft = Draft::default().with_answer(question.items, word, &models);
                assert!(draft.is_ok(), "{}: {word}: {:?}", question.ask, draft.err());
            }
            let line = 6
                + question.ask.len()
                + 1
                + question.may.len()
                + 2
                + question.default.map_or(1, str::len)
                + 2;
            assert!(line <= 80, "{} is {line} wide", question.ask);
        }
        assert_eq!(numbered(), 10);
    }
}
