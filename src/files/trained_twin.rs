//! The JSON form of rigs that were fitted; documented on [`super::Answer`].

use crate::estimate::{Rig, TrainedRig};
use crate::known::{RigPieces, UnusedRecord};
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct TrainedTwin {
    rig: String,
    records: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    kept_in: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    photos: Option<FitTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    words: Option<FitTwin>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    unused: Vec<UnusedTwin>,
}

#[derive(Debug, Serialize)]
struct FitTwin {
    measures: Vec<&'static str>,
    judged: usize,
    right: usize,
    states_sets: bool,
}

#[derive(Debug, Serialize)]
struct UnusedTwin {
    record: String,
    code: &'static str,
}

impl TrainedTwin {
    pub(super) fn new(rig: &TrainedRig, known: &RigPieces, kept_in: Option<&str>) -> Self {
        let fit = |rig: &Rig| FitTwin {
            measures: rig.personal.measures().iter().map(|m| m.column().column()).collect(),
            judged: rig.scores.judged(),
            right: rig.scores.right,
            states_sets: rig.scores.votes_stated().is_some(),
        };
        let code = |why: UnusedRecord| match why {
            UnusedRecord::Hardened => "hardened",
            UnusedRecord::NoPhoto => "no_photo",
            UnusedRecord::NothingTold => "nothing_told",
        };
        Self {
            rig: rig.name.clone(),
            records: rig.records,
            kept_in: kept_in.map(String::from),
            photos: rig.photos.as_ref().map(fit),
            words: rig.words.as_ref().map(fit),
            unused: known
                .unused
                .iter()
                .map(|(record, why)| UnusedTwin { record: record.clone(), code: code(*why) })
                .collect(),
        }
    }
}
