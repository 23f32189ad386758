use super::{Criteria, duration, wanted};
use crate::crosscheck::Question;
use crate::plan::{PlanError, SecondSoak, Target};
use crate::report::number::{CARBON, CELSIUS, chance};

/// How long a second soak must be, or why none helps.
pub(super) fn words(question: &Question, second: &Result<SecondSoak, PlanError>) -> String {
    let second = match second {
        Ok(second) => second,
        Err(why) => return format!("None as hot as the first helps: {why}; {}.", why.help()),
    };
    let needed = &second.needed;
    let (low, high) = needed.nine_in_ten();
    let high = high.map_or("more than is planned".into(), |t| duration(t.minutes()));
    let goal = match second.intent.target {
        Target::Edge { carbon } => format!("{} at the finished edge", CARBON.one(carbon.wt_percent())),
        Target::Depth { .. } => {
            let names = Criteria::new(question.physics, question.prediction.story.inputs.core);
            wanted(&second.intent, &names)
        }
    };
    format!(
        "{} at {} by the thermometer, in fresh {}, for {goal}, on top of the case that is there: {} to reach it; {} for an \
         even chance (nine in ten: {} to {high}). First mend what is to blame. `snapspark plan --from RUN.toml` tells the \
         rest.",
        duration(second.hold.minutes()),
        CELSIUS.one(second.intent.temperature.celsius()),
        question.run.pack.compound.name,
        chance(second.chance),
        duration(needed.best().minutes()),
        duration(low.minutes()),
    )
}
