//! The JSON form of what to photograph next; documented on [`super::Answer`].

use super::estimate_twin::RangeTwin;
use crate::audit::Advice;
use crate::known::By;
use crate::units::Interval;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct AdviceTwin {
    rig: String,
    by: &'static str,
    doubt_now_wt_pct: f64,
    picks: Vec<PickTwin>,
    uncovered_from_wt_pct: Vec<f64>,
    sessions_without_stock: Vec<String>,
}

#[derive(Debug, Serialize)]
struct PickTwin {
    steel: String,
    carbon_wt_pct: RangeTwin,
    photos: usize,
    doubt_then_wt_pct: f64,
}

impl AdviceTwin {
    /// Of a rig; `candidates` and `days` are what its picks and days are called.
    pub(super) fn new(
        (rig, by): (&str, By),
        advice: &Advice,
        candidates: &[(String, Interval<f64>)],
        days: &[String],
    ) -> Self {
        let picks = advice.picks.iter().filter_map(|pick| {
            let (steel, carbon) = candidates.get(pick.steel)?;
            Some(PickTwin {
                steel: steel.clone(),
                carbon_wt_pct: carbon.into(),
                photos: pick.photos,
                doubt_then_wt_pct: pick.then,
            })
        });
        Self {
            rig: rig.to_string(),
            by: if by == By::Photos { "photos" } else { "words" },
            doubt_now_wt_pct: advice.now,
            picks: picks.collect(),
            uncovered_from_wt_pct: advice.uncovered.iter().map(|band| band.edges().0).collect(),
            sessions_without_stock: advice
                .days_without_stock
                .iter()
                .filter_map(|d| days.get(*d).cloned())
                .collect(),
        }
    }
}
