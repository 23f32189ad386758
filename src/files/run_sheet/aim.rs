use super::fault::Fault;
use super::section::Section;
use crate::prediction::{Aim, DepthCriterion, Use};

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
        depth: depth.and_then(|f| f.interval()),
        criterion: criterion.and_then(|f| f.word(&CRITERIA)),
        edge_carbon: section.take("edge_carbon").and_then(|f| f.interval()),
        purpose: section.take("use").and_then(|f| f.word(&USES)),
    }
}
