use super::compared::rim;
use super::read::{Asked, path};
use crate::estimate::{CaseAnswer, CaseDoubt, CaseEstimate, CaseReason};
use crate::features::{FaceColumn, FractureFeatures};
use crate::report::number::DEPTH;

/// How the fracture face was read.
pub(in crate::report) fn words(features: &FractureFeatures, answer: &CaseAnswer) -> String {
    match answer {
        CaseAnswer::Read(case) => read(features, case),
        CaseAnswer::CannotTell { why } => {
            format!("Fracture: cannot tell. {} {}", doubts(why), WHAT_TO_DO)
        }
    }
}

const WHAT_TO_DO: &str = "Quench the other half beside a blank of untreated stock, snap both with one sharp blow, \
                          and compare.";

fn read(features: &FractureFeatures, case: &CaseEstimate) -> String {
    let how = match (&case.depth_mm, case.votes) {
        (Some(depth), _) => {
            format!("depth as measured on {}, {}", sides(case.per_side.len()), DEPTH.with_range(depth))
        }
        (None, Some(_)) => {
            let of = |reason: &CaseReason| Asked {
                what: column(reason.column).0,
                scale: column(reason.column).1,
                threshold: reason.threshold,
                answer: reason.answer,
            };
            path(&case.path.iter().map(of).collect::<Vec<_>>())
        }
        (None, None) => "no depth is read from it".into(),
    };
    let size = if features.thickness_mm.is_none() { " The coupon's size was not told." } else { "" };
    format!("Fracture, {}: {how}.{size} {}", rim(case.class), doubts(&case.doubts))
}

fn sides(number: usize) -> String {
    match number {
        1 => "all sides as one".into(),
        n => format!("{n} sides"),
    }
}

/// Name of a column, and what its numbers mean.
fn column(column: FaceColumn) -> (&'static str, &'static str) {
    match column {
        FaceColumn::Rim => ("rim", "0 none, 3 through"),
        FaceColumn::RimShare => ("depth over thickness", ""),
        FaceColumn::Thickness => ("thickness", "mm"),
        FaceColumn::TextureRim => ("look of the rim", "0 torn, 5 facets"),
        FaceColumn::TextureCore => ("look of the core", "0 torn, 5 facets"),
        FaceColumn::BentFirst => ("bent first", "1 yes"),
    }
}

fn doubts(list: &[CaseDoubt]) -> String {
    list.iter().map(|d| doubt(*d)).collect::<Vec<_>>().join(" ")
}

fn doubt(doubt: CaseDoubt) -> &'static str {
    match doubt {
        CaseDoubt::PhotosUnclear => "The photos do not tell whether there is a rim.",
        CaseDoubt::PhotosDisagree(FaceColumn::Rim) => {
            "Photos and what was told differ in how far round the rim runs: what was told stands."
        }
        CaseDoubt::PhotosDisagree(_) => {
            "Photos and what was told exclude each other in depth: the range reaches from one to the other."
        }
        CaseDoubt::BlankPhotosDisagree => "Of the blank, photos and what was told exclude each other.",
        CaseDoubt::NothingSaid => "Neither a rim nor a depth was told.",
        CaseDoubt::NotQuenched => "It was not quenched: soft case and core break alike.",
        CaseDoubt::QuenchUnknown => "Nobody said whether it was quenched.",
        CaseDoubt::BlankShowsSameRim => "The blank shows the same rim, so it is no case.",
        CaseDoubt::BlankShowsRimToo => "The blank shows a rim too, but less of it.",
        CaseDoubt::BlankQuenchedOtherwise => "The blank was quenched otherwise, so it proves little.",
        CaseDoubt::NoBlank => "No blank beside it: a shear lip or a hardened core may pass for a case.",
        CaseDoubt::ShearLip => "A shear lip was seen, and may have been read as rim.",
        CaseDoubt::CoreHardenedToo => "The core hardened too: a missing border is no through case.",
        CaseDoubt::CoreNotFibrous => "The core did not tear: hardened too, or overheated.",
        CaseDoubt::SoftSkin => "Torn outside and brittle inside: a skin that lost its carbon.",
        CaseDoubt::BentFirst => "It bent first: a slow break tears where a blow would snap.",
        CaseDoubt::BreakUnknown => "Nobody said whether it snapped or bent first.",
        CaseDoubt::Tempered => "Tempered so hot that case and core look alike.",
        CaseDoubt::OilShortensRim => "Quenched in oil: the rim may end at 0.5 to 0.6 %C and look short.",
        CaseDoubt::ThicknessUnknown => "A share of the thickness was told, but not the thickness.",
        CaseDoubt::PastTheMiddle => "The depth reaches past the middle, and yet there is a core.",
        CaseDoubt::NoRimHasOtherCauses => {
            "No rim can also be a slack quench or a bare skin: sparks and file tell."
        }
        CaseDoubt::DepthWithoutRim => "A depth was told of a rim that was not seen: not used.",
        CaseDoubt::CoarseGrain => "Grain is plainly seen in the rim: it was too hot.",
        CaseDoubt::VeryRich => "Bright flat facets: plates of cementite in a very rich skin.",
    }
}
