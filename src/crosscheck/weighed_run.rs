use super::weighed::Weighed;
use super::{Expected, Question};
use crate::prediction::Inputs;

/// A drawn run with what it weighs after everything was seen of the coupon.
#[derive(Debug, Clone)]
pub struct WeighedRun<'a> {
    /// What it takes for true.
    pub inputs: Inputs,
    /// What should be seen.
    pub expected: Expected<'a>,
    /// Its share among all drawn runs, 0 to 1.
    pub weight: f64,
}

/// The drawn runs of a question, without fault and with each of its causes; the weights sum to 1.
pub fn weighed_runs<'a>(question: &Question<'a>) -> Vec<WeighedRun<'a>> {
    let Question { run, seen, causes, hardness, .. } = *question;
    let observations = seen.observations(hardness, &causes.eyes);
    let signs = seen.signs(run, &causes.eyes);
    let weighed = Weighed::of(question.ground().drawn(), &observations, &signs, causes);
    weighed
        .into_each()
        .map(|(run, weight)| WeighedRun { inputs: run.inputs, expected: run.expected, weight })
        .collect()
}
