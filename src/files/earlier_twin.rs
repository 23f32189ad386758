//! The JSON form of what earlier runs tell; documented on [`super::Answer`].

use super::estimate_twin::RangeTwin;
use super::known_coupon_twin::range;
use crate::crosscheck::{EarlierRuns, LeftOut};
use crate::prediction::{Kept, Prior};
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Debug, Serialize)]
pub(super) struct EarlierTwin {
    furnace: String,
    taken: BTreeMap<&'static str, TakenTwin>,
    used: Vec<UsedTwin>,
    left_out: Vec<LeftOutTwin>,
}

#[derive(Debug, Serialize)]
struct TakenTwin {
    without: RangeTwin,
    with: RangeTwin,
}

#[derive(Debug, Serialize)]
struct UsedTwin {
    run: String,
    tells_of: Vec<&'static str>,
    usual_share: f64,
}

#[derive(Debug, Serialize)]
struct LeftOutTwin {
    run: String,
    code: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    what: Option<String>,
}

impl EarlierTwin {
    pub(super) fn new(earlier: &EarlierRuns, prior: &Prior) -> Self {
        let told = prior.kept().into_iter().filter(|(kept, ..)| earlier.history.told.contains(kept));
        let taken = told.map(|(kept, before, with)| {
            let unit = |x: f64| if kept == Kept::Lag { x * 1e3 } else { x };
            (name(kept), TakenTwin { without: range(&before, unit), with: range(&with, unit) })
        });
        let used = earlier.used.iter().map(|(run, lesson)| UsedTwin {
            run: run.clone(),
            tells_of: lesson.of.iter().map(|kept| name(*kept)).collect(),
            usual_share: lesson.sound,
        });
        let left_out = earlier.left_out.iter().map(|(run, why)| {
            let (code, what) = left_out(why);
            LeftOutTwin { run: run.clone(), code, what: what.cloned() }
        });
        Self {
            furnace: earlier.furnace.clone(),
            taken: taken.collect(),
            used: used.collect(),
            left_out: left_out.collect(),
        }
    }
}

fn name(kept: Kept) -> &'static str {
    match kept {
        Kept::Offset => "thermometer_reads_low_k",
        Kept::Lag => "pore_mm",
        Kept::Potential => "potential_share_of_acm",
    }
}

fn left_out(why: &LeftOut) -> (&'static str, Option<&String>) {
    match why {
        LeftOut::Itself => ("itself", None),
        LeftOut::Unreadable(what) => ("unreadable", Some(what)),
        LeftOut::CopyOf(other) => ("copy", Some(other)),
        LeftOut::NoFurnace => ("no_furnace", None),
        LeftOut::OtherFurnace(name) => ("other_furnace", Some(name)),
        LeftOut::NothingShared => ("nothing_shared", None),
        LeftOut::NothingSeen => ("nothing_seen", None),
        LeftOut::NothingOpen => ("nothing_open", None),
        LeftOut::NotPredicted(what) => ("not_predicted", Some(what)),
    }
}
