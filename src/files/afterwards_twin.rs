//! The JSON form of a cross-section and of what becomes of a case; documented on [`super::Answer`].

use super::estimate_twin::RangeTwin;
use super::finish_twin::medium;
use crate::plan::{Afterwards, EdgeSection, Stage};
use crate::units::Interval;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct AfterwardsTwin {
    wanted_wt_pct: f64,
    packed: StageTwin,
    heats: Vec<HeatTwin>,
    medium: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    as_quenched_hrc: Option<RangeTwin>,
    as_quenched_by_depth: Vec<HardTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    depth_50_hrc_mm: Option<f64>,
    files: Vec<FileTwin>,
    tempered: Vec<TemperTwin>,
}

#[derive(Debug, Serialize)]
struct HeatTwin {
    refines: bool,
    temperature_c: f64,
    minutes: f64,
    kept_from_air: StageTwin,
    in_air: StageTwin,
}

#[derive(Debug, Serialize)]
struct StageTwin {
    skin_wt_pct: f64,
    richest_wt_pct: f64,
    scaled_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    must_come_off_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    may_come_off_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
struct HardTwin {
    depth_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    hrc: Option<RangeTwin>,
}

#[derive(Debug, Serialize)]
struct FileTwin {
    file: String,
    skates_to_mm: f64,
    bites_from_mm: f64,
}

#[derive(Debug, Serialize)]
struct TemperTwin {
    temperature_c: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    hrc: Option<RangeTwin>,
}

#[derive(Debug, Serialize)]
pub(super) struct EdgeTwin {
    angle_deg: f64,
    wanted_wt_pct: f64,
    /// Left out where not even the edge has it.
    #[serde(skip_serializing_if = "Option::is_none")]
    wanted_back_to_mm: Option<RangeTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    through_back_to_mm: Option<f64>,
    stations: Vec<StationTwin>,
}

#[derive(Debug, Serialize)]
struct StationTwin {
    behind_mm: f64,
    thickness_mm: f64,
    depth_mm: Vec<f64>,
    carbon_wt_pct: Vec<f64>,
}

fn range(hrc: Option<&Interval<f64>>) -> Option<RangeTwin> {
    hrc.map(Into::into)
}

impl AfterwardsTwin {
    pub(super) fn new(after: &Afterwards) -> Self {
        Self {
            wanted_wt_pct: after.wanted,
            packed: StageTwin::new(&after.packed),
            heats: after
                .heats
                .iter()
                .map(|heat| HeatTwin {
                    refines: heat.refines,
                    temperature_c: heat.celsius,
                    minutes: heat.minutes,
                    kept_from_air: StageTwin::new(&heat.kept_from_air),
                    in_air: StageTwin::new(&heat.in_air),
                })
                .collect(),
            medium: medium(after.medium),
            as_quenched_hrc: range(after.quenched.as_ref()),
            as_quenched_by_depth: after
                .against_depth
                .iter()
                .map(|(mm, hrc)| HardTwin { depth_mm: *mm, hrc: range(hrc.as_ref()) })
                .collect(),
            depth_50_hrc_mm: after.effective,
            files: after
                .files
                .iter()
                .map(|f| FileTwin {
                    file: f.file.clone(),
                    skates_to_mm: f.not_above,
                    bites_from_mm: f.surely_below,
                })
                .collect(),
            tempered: after
                .tempers
                .iter()
                .map(|(celsius, hrc)| TemperTwin { temperature_c: *celsius, hrc: range(hrc.as_ref()) })
                .collect(),
        }
    }
}

impl StageTwin {
    fn new(stage: &Stage) -> Self {
        Self {
            skin_wt_pct: stage.skin,
            richest_wt_pct: stage.richest,
            scaled_mm: stage.scaled,
            must_come_off_mm: stage.must_come_off,
            may_come_off_mm: stage.may_come_off,
        }
    }
}

impl EdgeTwin {
    pub(super) fn new(edge: &EdgeSection) -> Self {
        Self {
            angle_deg: edge.wedge.degrees(),
            wanted_wt_pct: edge.wanted,
            wanted_back_to_mm: range(edge.reaches.as_ref()),
            through_back_to_mm: edge.through_to,
            stations: edge
                .stations
                .iter()
                .map(|station| {
                    let (depth_mm, carbon_wt_pct) = station.across.iter().copied().unzip();
                    StationTwin {
                        behind_mm: station.behind,
                        thickness_mm: station.thickness,
                        depth_mm,
                        carbon_wt_pct,
                    }
                })
                .collect(),
        }
    }
}
