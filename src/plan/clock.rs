use super::{Intent, Start, Tables};
use crate::prediction::Prediction;
use crate::soak::{COLD_K, Stage};
use crate::units::{Interval, Time};

/// The furnace's clock, min.
#[derive(Debug, Clone, PartialEq)]
pub struct Clock {
    /// From lighting until the thermometer shows the heat; `None`: it is there already.
    pub heat_up: Option<Interval<f64>>,
    /// Whether that is a guess.
    pub heat_up_guessed: bool,
    /// After so much of the hold the steel is at heat. `None`: never quite; 0 where nothing lags.
    pub steel_there: Option<f64>,
    /// The hold.
    pub hold: f64,
    /// In the closed pack until it may be opened.
    pub cooling: Interval<f64>,
    /// From lighting to opening.
    pub whole: Interval<f64>,
}

impl Clock {
    /// Of a planned soak as predicted.
    pub(super) fn of(
        intent: &Intent,
        start: Start,
        tables: &Tables,
        hold: Time,
        prediction: &Prediction,
    ) -> Self {
        let up = intent.heat_up.as_ref().unwrap_or(&tables.physics.priors.heat_up.value);
        let heat_up = match start {
            Start::GoOn(_) => None,
            _ => Interval::new(up.low().minutes(), up.best().minutes(), up.high().minutes()),
        };
        let (top, open) = (intent.temperature.kelvin(), tables.rules.open.value.kelvin());
        let falls = libm::log((top - COLD_K) / (open - COLD_K)).max(0.0);
        let pack = &tables.physics.cooling.closed_pack.value;
        let [least, best, most] = [pack.low(), pack.best(), pack.high()].map(|t| t.minutes() * falls);
        let cooling = Interval::new(least, best, most).unwrap_or_else(|| Interval::exact(best));
        let up = heat_up.unwrap_or_else(|| Interval::exact(0.0));
        let hold = hold.minutes();
        let whole = Interval::new(
            up.low() + hold + cooling.low(),
            up.best() + hold + cooling.best(),
            up.high() + hold + cooling.high(),
        );
        Self {
            heat_up,
            heat_up_guessed: intent.heat_up.is_none(),
            steel_there: steel_there(prediction, hold * 60.0, top - tables.rules.there.value)
                .map(|s| s / 60.0),
            hold,
            cooling,
            whole: whole.unwrap_or_else(|| Interval::exact(hold)),
        }
    }
}

/// Seconds of the hold after which the steel is as hot as `kelvin` on the thermometer.
fn steel_there(prediction: &Prediction, hold: f64, kelvin: f64) -> Option<f64> {
    let shift = prediction.story.inputs.temperature_shift;
    let soak = prediction.story.outcome.steel.iter().rfind(|l| l.stage == Stage::SOAK)?;
    let end = soak.points.last()?.0;
    let wanted = kelvin + shift;
    let i = soak.points.iter().position(|p| p.1 >= wanted)?;
    let (before, after) = (soak.points[i.saturating_sub(1)], soak.points[i]);
    // straight between the points, as they are meant
    let share = if after.1 > before.1 { (wanted - before.1) / (after.1 - before.1) } else { 1.0 };
    let there = before.0 + share.clamp(0.0, 1.0) * (after.0 - before.0);
    Some((there - (end - hold)).max(0.0))
}
