use super::spark::{LIKELY_SHARE, SparkAnswer, most, read_sparks};
use super::spark_reader::SparkReader;
use super::stated::{KnownBehind, Stated};
use crate::features::SparkFeatures;
use crate::known::{Beside, By, Personal, STATED, Scores, Shown, bands_with};
use crate::tree::WalkError;

/// A rig as its known steels have it.
#[derive(Debug, Clone, PartialEq)]
pub struct Rig {
    /// What they make of the published trend.
    pub personal: Personal,
    /// How answers came out on days that had been left out.
    pub scores: Scores,
}

/// Standard deviations off what the rig shows at the likeliest carbon content from which on a coupon is like nothing that
/// was seen (judgement: once in ten thousand, if the scatter were normal).
const UNLIKE: f64 = 4.0;

/// Reads sparks by the known steels of a rig: what was shown is turned into what the published trend would have shown,
/// and read by the rig's own tree and by the carbon that all measures together tell. `beside` is what else was sparked on that
/// day.
pub fn read_sparks_at(
    rig: &Rig,
    features: &SparkFeatures,
    shown: &Shown,
    beside: &Beside<'_>,
) -> Result<SparkAnswer, WalkError> {
    let personal = &rig.personal;
    let corrected = personal.corrected(features, shown, beside);
    let answer = read_sparks(&corrected, &SparkReader::personal(personal))?;
    let SparkAnswer::Bands(mut estimate) = answer else { return Ok(answer) };
    if personal.measures().iter().all(|m| corrected.get(m.column()).is_none()) {
        return Ok(SparkAnswer::CannotTell { known: 0, needed: 1 });
    }
    let density = personal.density(shown, beside);
    let misfit = personal.misfit(density.mean(), shown, beside);
    if let Some((name, off)) = misfit.filter(|(_, off)| off.abs() > UNLIKE) {
        return Ok(SparkAnswer::Unlike { name, off });
    }
    // the tree has half the say, the carbon by all measures together the other half
    for (vote, chance) in estimate.votes.iter_mut().zip(density.bands()) {
        *vote = f64::midpoint(*vote, chance);
    }
    estimate.band = most(&estimate.votes);
    estimate.likely = bands_with(&estimate.votes, LIKELY_SHARE);
    let scores = &rig.scores;
    let stated = scores.votes_stated().zip(scores.carbon_stated()).and_then(|(votes, carbon)| {
        Some(Stated { bands: bands_with(&estimate.votes, votes), carbon: density.middle_part(carbon)? })
    });
    let Some(carbon) = density.middle_part(STATED) else { return Ok(SparkAnswer::Bands(estimate)) };
    let drift = personal.drift(beside);
    estimate.known =
        Some(KnownBehind { judged: scores.judged(), right: scores.right, carbon, drift, stated });
    Ok(SparkAnswer::Bands(estimate))
}

/// A rig as it was trained, by each way of seeing sparks.
#[derive(Debug, Clone, PartialEq)]
pub struct TrainedRig {
    /// Its name.
    pub name: String,
    /// The way of measuring that its photos were measured in.
    pub measuring: u32,
    /// Records that it was fitted on.
    pub records: usize,
    /// What photos make of it.
    pub photos: Option<Rig>,
    /// What words make of it.
    pub words: Option<Rig>,
}

impl TrainedRig {
    /// The rig as it is seen in that way; `None`: it has no steels that were.
    pub fn by(&self, by: By) -> Option<&Rig> {
        match by {
            By::Photos => self.photos.as_ref(),
            By::Words => self.words.as_ref(),
        }
    }
}
