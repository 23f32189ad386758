//! The JSON form of an audit; documented on [`super::Answer`].

use crate::audit::{Left, Marks, RigAudit};
use crate::known::{By, Piece};
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct AuditTwin {
    rig: String,
    by: &'static str,
    session_left_out: LeftTwin,
    steel_left_out: LeftTwin,
    trend_alone: MarksTwin,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    odd: Vec<OddTwin>,
}

#[derive(Debug, Serialize)]
struct LeftTwin {
    exact: bool,
    #[serde(flatten)]
    marks: MarksTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    stated_mean_bands: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stated_held: Option<f64>,
}

#[derive(Debug, Serialize)]
struct MarksTwin {
    asked: usize,
    answered: usize,
    right: usize,
    right_or_beside: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    mean_bands_off: Option<f64>,
    confusion: [[usize; 6]; 6],
}

#[derive(Debug, Serialize)]
struct OddTwin {
    record: String,
    read_from_wt_pct: f64,
    votes: f64,
    votes_of_its_own_and_beside: f64,
}

impl AuditTwin {
    pub(super) fn new(rig: &str, audit: &RigAudit, pieces: &[Piece]) -> Self {
        let odd = audit.odd.iter().filter_map(|odd| {
            Some(OddTwin {
                record: pieces.get(odd.piece)?.name.clone(),
                read_from_wt_pct: odd.read.0.edges().0,
                votes: odd.read.1,
                votes_of_its_own_and_beside: odd.own,
            })
        });
        Self {
            rig: rig.to_string(),
            by: if audit.by == By::Photos { "photos" } else { "words" },
            session_left_out: LeftTwin::new(&audit.by_day),
            steel_left_out: LeftTwin::new(&audit.by_steel),
            trend_alone: MarksTwin::new(&audit.trend),
            odd: odd.collect(),
        }
    }
}

impl LeftTwin {
    fn new(left: &Left) -> Self {
        Self {
            exact: left.exact,
            marks: MarksTwin::new(&left.marks),
            stated_mean_bands: left.stated.map(|s| s.size),
            stated_held: left.stated.map(|s| s.held),
        }
    }
}

impl MarksTwin {
    fn new(marks: &Marks) -> Self {
        Self {
            asked: marks.asked,
            answered: marks.answered(),
            right: marks.within(0),
            right_or_beside: marks.within(1),
            mean_bands_off: marks.error(),
            confusion: marks.confusion,
        }
    }
}
