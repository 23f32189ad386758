//! The JSON form of what drawn stories tell; documented on [`super::Answer`].

use super::check_twin::over_time;
use super::estimate_twin::RangeTwin;
use crate::crosscheck::{Alone, Condition, Foreseen, Inference, NextCheck, Observation, Power};
use crate::spark::OverTime;
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Debug, Serialize)]
pub(super) struct InferenceTwin {
    stories: usize,
    worth_even_stories: f64,
    usual_share_before: f64,
    by_itself: Vec<AloneTwin>,
    run: BTreeMap<&'static str, LearnedTwin>,
    carries_as_far_as: Vec<WorthTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cheapest_check: Option<CheckTwin>,
    false_alarms: f64,
    power: BTreeMap<String, PowerTwin>,
}

#[derive(Debug, Serialize)]
struct AloneTwin {
    seen: &'static str,
    usual_share: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    cause: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cause_share: Option<f64>,
}

#[derive(Debug, Serialize)]
struct PowerTwin {
    best: f64,
    called: f64,
}

#[derive(Debug, Serialize)]
struct LearnedTwin {
    as_told: RangeTwin,
    by_all_seen: RangeTwin,
}

#[derive(Debug, Serialize)]
struct WorthTwin {
    temperature_c: f64,
    as_told_min: RangeTwin,
    by_all_seen_min: RangeTwin,
}

#[derive(Debug, Serialize)]
struct CheckTwin {
    check: String,
    words: String,
    minutes: f64,
    between: [Option<String>; 2],
    foreseen: [ForeseenTwin; 2],
    open_bits: f64,
    settles_bits: f64,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
enum ForeseenTwin {
    ChanceOfYes(f64),
    Reads(RangeTwin),
    Orders(BTreeMap<&'static str, f64>),
    Band { place: usize, chance: f64 },
}

impl InferenceTwin {
    pub(super) fn new(inference: &Inference) -> Self {
        let learned = inference.learned.iter().map(|l| {
            let twin = LearnedTwin { as_told: (&l.before).into(), by_all_seen: (&l.after).into() };
            (condition(l.condition), twin)
        });
        let worth = inference.worth.iter().map(|w| WorthTwin {
            temperature_c: w.celsius,
            as_told_min: (&w.before).into(),
            by_all_seen_min: (&w.after).into(),
        });
        Self {
            stories: inference.stories,
            worth_even_stories: inference.carrying,
            usual_share_before: inference.usual_before,
            by_itself: inference.alone.iter().map(AloneTwin::new).collect(),
            run: learned.collect(),
            carries_as_far_as: worth.collect(),
            cheapest_check: inference.check.as_ref().map(CheckTwin::new),
            false_alarms: inference.alarms,
            power: inference.powers.iter().map(|p| (p.cause.key.clone(), PowerTwin::new(p))).collect(),
        }
    }
}

impl AloneTwin {
    fn new(alone: &Alone) -> Self {
        Self {
            seen: alone.seen.as_ref().map_or("signs", quantity),
            usual_share: alone.usual,
            cause: alone.cause.map(|(cause, _)| cause.key.clone()),
            cause_share: alone.cause.map(|(_, share)| share),
        }
    }
}

impl PowerTwin {
    fn new(power: &Power) -> Self {
        Self { best: power.best, called: power.called }
    }
}

fn quantity(seen: &Observation) -> &'static str {
    match seen {
        Observation::Sparks(_) => "sparks",
        Observation::Inward(_) => "inward",
        Observation::Rim { .. } => "rim",
        Observation::Gain(_) => "mass_gain",
        Observation::File { .. } => "file",
    }
}

fn condition(condition: Condition) -> &'static str {
    match condition {
        Condition::Temperature => "temperature_c",
        Condition::Time => "time_min",
        Condition::Late => "lost_min",
        Condition::Potential => "potential_wt_pct",
        Condition::Face => "face_wt_pct",
        Condition::Stock => "stock_wt_pct",
        Condition::VisibleEdge => "visible_edge_wt_pct",
    }
}

impl CheckTwin {
    fn new(next: &NextCheck) -> Self {
        Self {
            check: next.check.key.clone(),
            words: next.check.words.clone(),
            minutes: next.check.minutes.value,
            between: next.between.map(|cause| cause.map(|cause| cause.key.clone())),
            foreseen: next.foreseen.map(|foreseen| ForeseenTwin::new(&foreseen)),
            open_bits: next.open,
            settles_bits: next.settles,
        }
    }
}

impl ForeseenTwin {
    fn new(foreseen: &Foreseen) -> Self {
        match foreseen {
            Foreseen::Chance(share) => Self::ChanceOfYes(*share),
            Foreseen::Number(range) => Self::Reads(range.into()),
            Foreseen::Order(chances) => {
                Self::Orders(OverTime::ALL.into_iter().map(over_time).zip(*chances).collect())
            }
            Foreseen::Band(place, chance) => Self::Band { place: *place, chance: *chance },
        }
    }
}
