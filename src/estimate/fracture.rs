use super::case::{CaseAnswer, CaseClass, CaseDoubt, CaseEstimate, CaseReason, DepthBand};
use super::spark::triangle;
use crate::features::{BlankFeatures, BlankRim, FaceColumn, FaceTexture, FractureFeatures, RimClass};
use crate::features::{Tempered, together};
use crate::steel::QuenchMedium;
use crate::tree::{Side, Tree, Turn, WalkError};

/// Draws inside the ranges of the features.
const DRAWS: usize = 64;

/// Reads a face with the shipped tree. Rules come first: what makes a face unreadable is never voted on.
/// Fails only if the tree is not for these features.
pub fn read_fracture(features: &FractureFeatures, tree: &Tree) -> Result<CaseAnswer, WalkError> {
    let Some(rim) = features.rim else {
        let unclear = features.photos_unclear;
        return Ok(cannot(vec![if unclear { CaseDoubt::PhotosUnclear } else { CaseDoubt::NothingSaid }]));
    };
    if features.quenched == Some(false) {
        return Ok(unquenched(features, rim));
    }
    let why = unreadable(features, rim);
    if !why.is_empty() {
        return Ok(cannot(why));
    }
    let per_side = match rim {
        RimClass::Partial | RimClass::AllRound => features.sides_mm.clone(),
        RimClass::None | RimClass::Through => Vec::new(),
    };
    let depth_mm = together(&per_side);
    let measured = depth_mm.is_some();
    let (votes, path) =
        if measured { (None, Vec::new()) } else { (votes(features, tree)?, path(features, tree)?) };
    let doubts = doubts(features, rim);
    let class = class(rim);
    Ok(CaseAnswer::Read(CaseEstimate { class, depth_mm, per_side, votes, measured, path, doubts }))
}

fn cannot(why: Vec<CaseDoubt>) -> CaseAnswer {
    CaseAnswer::CannotTell { why }
}

fn class(rim: RimClass) -> CaseClass {
    match rim {
        RimClass::None => CaseClass::None,
        RimClass::Partial => CaseClass::Partial,
        RimClass::AllRound => CaseClass::AllRound,
        RimClass::Through => CaseClass::Through,
    }
}

fn has_edge(rim: RimClass) -> bool {
    matches!(rim, RimClass::Partial | RimClass::AllRound)
}

/// A soft piece. Only facets speak: the one carbon level that an untrained eye reads with certainty on a
/// slowly cooled break is 1.5 to 2 %C. Source: Giolitti, The Cementation of Iron and Steel, 1915, p. 215
/// (confirmed). Beside a core without facets they are a case; their edge is no case depth.
fn unquenched(features: &FractureFeatures, rim: RimClass) -> CaseAnswer {
    if !has_edge(rim) || features.texture_rim != Some(FaceTexture::Faceted) {
        return cannot(vec![CaseDoubt::NotQuenched]);
    }
    CaseAnswer::Read(CaseEstimate {
        class: class(rim),
        depth_mm: None,
        per_side: Vec::new(),
        votes: None,
        measured: false,
        path: Vec::new(),
        doubts: vec![CaseDoubt::NotQuenched, CaseDoubt::VeryRich],
    })
}

/// Whatever makes of a quenched face that no answer can rest on it.
fn unreadable(features: &FractureFeatures, rim: RimClass) -> Vec<CaseDoubt> {
    let blank = features.blank.unwrap_or_default();
    let core_hardened = blank.core_hardened == Some(true);
    let brittle = |t: Option<FaceTexture>| t.map(FaceTexture::is_brittle);
    let (rim_brittle, core_brittle) = (brittle(features.texture_rim), brittle(features.texture_core));
    let mut why = Vec::new();
    // a face without border: through, or never a case, where the core is brittle as well
    if core_hardened && (rim == RimClass::Through || rim == RimClass::None && core_brittle != Some(false)) {
        why.push(CaseDoubt::CoreHardenedToo);
    } else if rim == RimClass::None && core_brittle == Some(true) {
        why.push(CaseDoubt::CoreNotFibrous);
    }
    // with the core hardened through, "the same rim" says no more than that
    if blank.rim == Some(BlankRim::Same) && why.is_empty() {
        why.push(CaseDoubt::BlankShowsSameRim);
        if features.shear_lip == Some(true) {
            why.push(CaseDoubt::ShearLip);
        }
    }
    if has_edge(rim) && rim_brittle == Some(false) && core_brittle == Some(true) {
        why.push(CaseDoubt::SoftSkin);
    }
    why
}

fn votes(features: &FractureFeatures, tree: &Tree) -> Result<Option<[f64; 6]>, WalkError> {
    let mut votes = [0.0; 6];
    for draw in 0..DRAWS {
        let walk = tree.walk(&drawn(features, draw))?;
        for (sum, share) in votes.iter_mut().zip(&walk.shares) {
            *sum += share / DRAWS as f64;
        }
    }
    // an edge was seen, so there is a core; no rows say otherwise where the core hardened too
    if features.rim.is_some_and(has_edge) {
        votes[DepthBand::Through as usize] = 0.0;
    }
    let total: f64 = votes.iter().sum();
    Ok((total > 0.0).then(|| votes.map(|v| v / total)))
}

/// One set of values inside the ranges: an even spread over each range's triangle, every column shifted
/// against the others by a multiple of the golden ratio.
fn drawn(features: &FractureFeatures, draw: usize) -> Vec<Option<f64>> {
    const GOLDEN: f64 = 0.618_033_988_749_895;
    let value = |(at, column): (usize, &FaceColumn)| {
        let range = features.get(*column)?.value;
        let shift = GOLDEN * (at + 1) as f64 * draw as f64;
        Some(triangle(&range, ((draw as f64 + 0.5) / DRAWS as f64 + shift).fract()))
    };
    FaceColumn::TREE.iter().enumerate().map(value).collect()
}

fn path(features: &FractureFeatures, tree: &Tree) -> Result<Vec<CaseReason>, WalkError> {
    let best: Vec<Option<f64>> =
        FaceColumn::TREE.iter().map(|c| features.get(*c).map(|f| f.value.best())).collect();
    let reason = |step: &crate::tree::Step| {
        let answer = match step.turn {
            Turn::To { value, side } => Some((value, side == Side::Above)),
            Turn::Both { .. } => None,
        };
        let column = *FaceColumn::TREE.get(step.feature)?;
        Some(CaseReason { column, threshold: step.threshold, answer })
    };
    Ok(tree.walk(&best)?.steps.iter().filter_map(reason).collect())
}

fn doubts(features: &FractureFeatures, rim: RimClass) -> Vec<CaseDoubt> {
    let mut doubts = Vec::new();
    let mut doubt = |if_so: bool, what: CaseDoubt| {
        if if_so {
            doubts.push(what);
        }
    };
    let seen = rim != RimClass::None;
    let rim_texture = features.texture_rim.filter(|_| seen);
    for column in &features.photos_disagree {
        doubt(true, CaseDoubt::PhotosDisagree(*column));
    }
    doubt(features.quenched.is_none(), CaseDoubt::QuenchUnknown);
    doubt(!seen, CaseDoubt::NoRimHasOtherCauses);
    doubt(!seen && features.sides_mm.iter().any(|d| d.best() > 0.0), CaseDoubt::DepthWithoutRim);
    if let Some(BlankFeatures { rim, core_hardened, same_quench, photos_disagree }) = features.blank {
        doubt(photos_disagree, CaseDoubt::BlankPhotosDisagree);
        doubt(same_quench == Some(false), CaseDoubt::BlankQuenchedOtherwise);
        doubt(rim == Some(BlankRim::Less), CaseDoubt::BlankShowsRimToo);
        doubt(core_hardened == Some(true), CaseDoubt::CoreHardenedToo);
    }
    let shown = features.blank.is_some_and(|b| b.rim.is_some() || b.core_hardened.is_some());
    doubt(!shown, CaseDoubt::NoBlank);
    doubt(seen && features.shear_lip == Some(true), CaseDoubt::ShearLip);
    let core_brittle = features.texture_core.is_some_and(FaceTexture::is_brittle);
    doubt(core_brittle && rim != RimClass::Through, CaseDoubt::CoreNotFibrous);
    doubt(features.bent_first == Some(true), CaseDoubt::BentFirst);
    doubt(features.bent_first.is_none(), CaseDoubt::BreakUnknown);
    doubt(features.tempered == Some(Tempered::Softened), CaseDoubt::Tempered);
    doubt(features.medium == Some(QuenchMedium::Oil), CaseDoubt::OilShortensRim);
    let share_told = has_edge(rim) && features.side_shares.len() > features.sides_mm.len();
    doubt(share_told, CaseDoubt::ThicknessUnknown);
    let past = features.rim_share().is_some_and(|s| s.value.best() > 0.5);
    doubt(has_edge(rim) && past, CaseDoubt::PastTheMiddle);
    let coarse = [FaceTexture::Grainy, FaceTexture::Coarse];
    doubt(rim_texture.is_some_and(|t| coarse.contains(&t)), CaseDoubt::CoarseGrain);
    doubt(rim_texture == Some(FaceTexture::Faceted), CaseDoubt::VeryRich);
    doubts
}

#[cfg(test)]
mod tests;
