use super::fault::Fault;
use super::field::Field;
use super::model::MOST_DISSOLVED;
use super::section::Section;
use crate::prediction::{Aim, DepthCriterion, Use};
use crate::units::{CarbonPercent, Interval};

const CRITERIA: [(&str, DepthCriterion); 6] = [
    ("total", DepthCriterion::Total),
    ("0.35 %C", DepthCriterion::Carburization),
    ("visible", DepthCriterion::Visible),
    ("550 HV", DepthCriterion::Effective550Hv),
    ("50 HRC", DepthCriterion::Effective50Hrc),
    ("carburization", DepthCriterion::Carburization),
];
const USES: [(&str, Use); 3] =
    [("cutting edge", Use::CuttingEdge), ("wearing face", Use::WearingFace), ("other", Use::Other)];

/// Reads `[aim]`.
pub(super) fn read(section: &mut Section<'_>) -> Aim {
    let depth = section.take("depth");
    let criterion = section.take("criterion");
    if let (Some(field), None) = (&criterion, &depth) {
        let fault =
            Fault::new("a criterion without a depth says nothing", "add depth, or take this line out");
        field.reading.warning(field.at, &field.path, fault);
    }
    Aim {
        depth: depth.and_then(|f| f.interval_more_than_zero()),
        criterion: criterion.and_then(|f| f.word(&CRITERIA)),
        edge_carbon: section.take("edge_carbon").and_then(|f| edge_carbon(&f)),
        hardness: section.take("hardness").and_then(|f| f.interval_more_than_zero()),
        purpose: section.take("use").and_then(|f| f.word(&USES)),
    }
}

/// What steel can be hardened with.
fn edge_carbon(field: &Field<'_>) -> Option<Interval<CarbonPercent>> {
    let range = field.interval_more_than_zero::<CarbonPercent>()?;
    if range.high().wt_percent() <= MOST_DISSOLVED {
        return Some(range);
    }
    field.refuse(Fault::new(
        format!("austenite does not hold {} %C", range.high().wt_percent()),
        format!("allowed: more than 0 to {MOST_DISSOLVED} %C; an edge wants 0.6 to 0.9 %C"),
    ))
}
