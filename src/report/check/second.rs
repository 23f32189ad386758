use super::{Criteria, duration, wanted};
use crate::crosscheck::Question;
use crate::plan::{PlanError, SecondSoak};
use crate::report::number::{CELSIUS, chance};

/// How long a second soak must be, or why none helps.
pub(super) fn words(question: &Question, second: &Result<SecondSoak, PlanError>) -> String {
    let second = match second {
        Ok(second) => second,
        Err(why) => return format!("None as hot as the first helps: {why}; {}.", why.help()),
    };
    let needed = &second.needed;
    let (low, high) = needed.nine_in_ten();
    let high = high.map_or("more than is planned".into(), |t| duration(t.minutes()));
    let names = Criteria::new(question.physics, question.prediction.story.inputs.core);
    format!(
        "{} at {} by the thermometer, in fresh {}, on top of the case that is there, for {}: {} to reach it; {} for an even \
         chance (nine in ten: {} to {high}). First mend what is to blame, or the second comes out like the first. \
         `snapspark plan --from RUN.toml` tells the rest.",
        duration(second.hold.minutes()),
        CELSIUS.one(second.intent.temperature.celsius()),
        question.run.pack.compound.name,
        wanted(&second.intent, &names),
        chance(second.chance),
        duration(needed.best().minutes()),
        duration(low.minutes()),
    )
}
