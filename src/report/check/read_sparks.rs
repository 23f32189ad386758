use super::compared::bands;
use super::read::{Asked, path};
use crate::estimate::{NotSteel, SparkAnswer, SparkDoubt, SparkEstimate};
use crate::features::FeatureName;
use crate::report::known;
use crate::report::number::of_100;

/// How the sparks were read.
pub(in crate::report) fn words(answer: &SparkAnswer) -> String {
    match answer {
        SparkAnswer::Bands(estimate) => bands_read(estimate),
        SparkAnswer::NotPlainCarbon(other) => format!(
            "Sparks: no plain carbon steel as far as sparks tell, but {}. No carbon is read from them: spark the \
             untreated stock and a steel that you know, and try a magnet.",
            not_steel(*other)
        ),
        SparkAnswer::Unlike { name, off } => format!(
            "Sparks: like nothing that was seen at this rig. At the likeliest carbon content the {} is {} standard \
             deviations {} what its known steels show. Check that rig, wheel, camera and labels are those of the known \
             steels, and spark one of them beside the coupon.",
            feature(*name),
            format_args!("{:.1}", off.abs()),
            if *off > 0.0 { "above" } else { "below" },
        ),
        SparkAnswer::CannotTell { known, needed } => format!(
            "Sparks: cannot tell. Of what tells carbon {known} was said and {needed} is the least: add what part of \
             the carriers bursts, how the bursts fork (tiers), or a known steel that looks the same."
        ),
    }
}

fn bands_read(estimate: &SparkEstimate) -> String {
    let of = |reason: &crate::estimate::Reason| Asked {
        what: feature(reason.feature),
        scale: scale(reason.feature),
        threshold: reason.threshold,
        answer: reason.answer,
    };
    let asked: Vec<Asked> = estimate.path.iter().map(of).collect();
    let as_told =
        if estimate.doubts.contains(&SparkDoubt::RigUnknown) { " as an eye would see them," } else { "" };
    let mut words = format!(
        "Sparks,{as_told} {} with {} votes: {}.",
        bands(estimate.band, estimate.band),
        of_100(estimate.votes[estimate.band.index()]),
        path(&asked)
    );
    if let Some(known) = &estimate.known {
        words += &known::behind(known);
    }
    for doubted in &estimate.doubts {
        words += " ";
        words += &doubt(*doubted);
    }
    let told = |name: &&FeatureName| !estimate.path.iter().any(|r| r.feature == **name);
    let unsaid: Vec<&str> = estimate.missing.iter().filter(told).map(|name| feature(*name)).collect();
    if !unsaid.is_empty() {
        words += " Not asked here and not said: ";
        words += &unsaid.join(", ");
        words += ".";
    }
    words
}

fn feature(name: FeatureName) -> &'static str {
    match name {
        FeatureName::ShareBursting => "share of carriers that burst",
        FeatureName::Rays => "rays of a burst",
        FeatureName::Tiers => "tiers of bursts",
        FeatureName::Onset => "where bursts begin",
        FeatureName::BurstRatio => "bursts against the stock's",
        FeatureName::CarrierRatio => "carriers against the stock's",
        FeatureName::LengthRatio => "stream length against the stock's",
        FeatureName::FineSparking => "fine sparking",
        FeatureName::Harder => "whether the coupon was harder than the stock",
        FeatureName::LooksLike => "known steel that looks the same",
        FeatureName::Colour => "colour at the wheel",
        FeatureName::ColourTip => "colour at the end",
        FeatureName::Redder => "how much redder than the stock",
        FeatureName::TrendCarbon => "carbon by the trend as this rig shows it",
    }
}

/// What the numbers of a feature mean, where that is not plain.
fn scale(name: FeatureName) -> &'static str {
    match name {
        FeatureName::Onset => "share of the stream",
        FeatureName::FineSparking => "0 none, 2 much",
        FeatureName::Harder => "1 yes, 0 alike",
        FeatureName::Colour | FeatureName::ColourTip => "0 white, 4 red",
        FeatureName::LooksLike | FeatureName::TrendCarbon => "%C",
        FeatureName::ShareBursting
        | FeatureName::Rays
        | FeatureName::Tiers
        | FeatureName::BurstRatio
        | FeatureName::CarrierRatio
        | FeatureName::LengthRatio
        | FeatureName::Redder => "",
    }
}

fn doubt(doubt: SparkDoubt) -> String {
    let words = match doubt {
        SparkDoubt::NoStock => "No untreated stock beside it: wheel, light and eye are in the answer.",
        SparkDoubt::HardAgainstSoft => "The coupon was hard and the stock soft: it reads too rich.",
        SparkDoubt::StateUnknown => "Nobody said whether both were soft: a hard coupon reads too rich.",
        SparkDoubt::FewFeatures => "Little was said, so the votes spread.",
        SparkDoubt::OnlyWords => "All in words, nothing counted.",
        SparkDoubt::SlowWheel => "The wheel is slow: it reads too lean.",
        SparkDoubt::FastWheel => "The wheel is fast: it reads too rich.",
        SparkDoubt::GroundDeep => "More than one light touch had been ground off: not the surface.",
        SparkDoubt::RigUnknown => {
            "Photos show fewer bursts than an eye sees, so these values are not those of the photos: how they differ was \
             learned from drawn rigs, not from yours. Known steels mend that."
        }
        SparkDoubt::InwardDisagrees => {
            "The photos show another change inward than was told: what was told stands."
        }
        SparkDoubt::PhotosDisagree(name) => {
            let what = feature(name);
            return format!(
                "Photos and what was told exclude each other ({what}): the range reaches from one to the other."
            );
        }
    };
    words.into()
}

fn not_steel(other: NotSteel) -> &'static str {
    match other {
        NotSteel::CastIronOrDieSteel => "cast iron or a die steel: a short stream with bursts",
        NotSteel::NickelOrCarbide => "nickel, stellite or carbide: a short stream without bursts",
        NotSteel::HighSpeedSteel => "high-speed steel: red at the wheel, long, hardly a burst",
        NotSteel::StainlessSteel => "stainless steel: straw to white, short for so few bursts",
        NotSteel::NoSparks => "no steel at all: there is no stream",
    }
}
