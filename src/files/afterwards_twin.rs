//! The JSON form of a cross-section and of what becomes of a case; documented on [`super::Answer`].

use super::estimate_twin::RangeTwin;
use super::finish_twin::medium;
use crate::hardness::CaseHardeningDepth;
use crate::plan::{Afterwards, EdgeSection, FileBites, HardEnd, Hardened, Stage};
use crate::units::Interval;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct AfterwardsTwin {
    wanted_wt_pct: f64,
    /// Left out unless a hardness was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    wanted_hrc: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    apex_wt_pct: Option<RangeTwin>,
    packed: StageTwin,
    heats: Vec<HeatTwin>,
    medium: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    as_quenched_hrc: Option<RangeTwin>,
    hardened: Vec<HardenedTwin>,
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
    must_come_off_mm: Option<RangeTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    may_come_off_mm: Option<RangeTwin>,
    wanted_in_every_story: bool,
}

/// Twin of [`Hardened`].
#[derive(Debug, Serialize)]
struct HardenedTwin {
    /// Left out where all counts as martensite.
    #[serde(skip_serializing_if = "Option::is_none")]
    medium: Option<&'static str>,
    by_depth: Vec<HardTwin>,
    depth_50_hrc_mm: RangeTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    depth_550_hv_mm: Option<RangeTwin>,
    files: Vec<FileTwin>,
}

#[derive(Debug, Serialize)]
struct HardTwin {
    depth_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    low_hrc: Option<EndTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    best_hrc: Option<EndTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high_hrc: Option<EndTwin>,
}

/// Twin of [`HardEnd`].
#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
enum EndTwin {
    At(f64),
    Under(f64),
}

#[derive(Debug, Serialize)]
struct FileTwin {
    file: String,
    skates_to_mm: RangeTwin,
    bites_from_mm: RangeTwin,
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
            wanted_hrc: after.wanted_hrc,
            apex_wt_pct: range(after.apex.as_ref()),
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
            hardened: after.hardened.iter().map(HardenedTwin::new).collect(),
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
            must_come_off_mm: range(stage.must_come_off.as_ref()),
            may_come_off_mm: range(stage.may_come_off.as_ref()),
            wanted_in_every_story: stage.surely,
        }
    }
}

impl HardenedTwin {
    fn new(hardened: &Hardened) -> Self {
        let end = |end| match end {
            HardEnd::At(hrc) => EndTwin::At(hrc),
            HardEnd::Under(hrc) => EndTwin::Under(hrc),
        };
        let by_depth = hardened.by_depth.iter().map(|(mm, ends)| {
            let [low, best, high] = ends.map_or([None; 3], |ends| ends.map(Some));
            HardTwin {
                depth_mm: *mm,
                low_hrc: low.map(end),
                best_hrc: best.map(end),
                high_hrc: high.map(end),
            }
        });
        let bites = |f: &FileBites| FileTwin {
            file: f.file.clone(),
            skates_to_mm: (&f.skates_to).into(),
            bites_from_mm: (&f.bites_from).into(),
        };
        Self {
            medium: hardened.medium.map(medium),
            by_depth: by_depth.collect(),
            depth_50_hrc_mm: (&hardened.effective).into(),
            depth_550_hv_mm: match &hardened.case_hardening {
                CaseHardeningDepth::Stands { depth, .. } => Some((&depth.millimetres()).into()),
                CaseHardeningDepth::NotReached | CaseHardeningDepth::DoesNotApply { .. } => None,
            },
            files: hardened.files.iter().map(bites).collect(),
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
