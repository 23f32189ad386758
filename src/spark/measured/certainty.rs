//! How sure it is that what was found is what it seems. Carriers: a logistic regression of right against wrong finds on 95
//! development pictures drawn by three makers (5,672 lines). Bursts: the log odds that [`super::seen`] tells. Both are
//! as good as those pictures are like photos: no photo with known sparks exists.

use super::look::share_apart;
use super::track::Track;

/// How sure the network's log odds are: a logistic regression of right against wrong peaks on 38 drawn pictures, every other
/// one of seeds 4080 to 4159, that the network did not learn from (36,748 peaks); the constant was then moved until what the
/// program finds on all of those is right as often as it says. On seeds 100600 to 100719, which had no part in it, 74.5 % of
/// 2,416 finds are right, 74.3 % are claimed, and no tenth is off by more than 3 points.
const BURST_CONSTANT: f64 = 1.45;
const BURST: f64 = 2.14;
/// A carrier and a burst that are less sure than this are left out. For bursts a judgement on the same pictures, where
/// recall and precision together (F1) are 0.674 to 0.677 from 0.40 to 0.51, 0.664 at 0.56.
pub(super) const LEAST: f64 = 0.35;
pub(super) const LEAST_BURST: f64 = 0.43;

/// Chance that a burst with these log odds by the network is one, 0 to 1.
pub(super) fn of_burst(odds: f64) -> f64 {
    chance(BURST_CONSTANT + BURST * odds)
}

/// The log odds by the network from which on that is so sure.
pub(super) fn odds_of_burst(chance: f64) -> f64 {
    (libm::log(chance / (1.0 - chance)) - BURST_CONSTANT) / BURST
}

/// The usual track of a picture, each middle for itself.
pub(super) struct UsualTrack {
    pub(super) length: f64,
    pub(super) strength: f64,
    pub(super) light: f64,
}

/// Least light that the logarithm is taken of, linear.
const DARKEST: f64 = 1e-5;

/// Weights of what is seen of a track, after the constant.
const TRACK: [f64; 10] = [-0.542, 0.495, 0.422, 0.709, 0.405, -1.131, 0.345, 0.487, 2.611, -0.366];
const TRACK_CONSTANT: f64 = -5.480;

/// Chance that a track is a carrier that stands apart, 0 to 1; `line` is the width of a usual line.
pub(super) fn of_track(track: &Track<'_>, line: f64, usual: &UsualTrack) -> f64 {
    logistic(TRACK_CONSTANT, &TRACK, &track_features(track, line, usual))
}

/// What speaks for and against a carrier: how far it points past the contact, strength, length, share apart, also at
/// its start, whether it begins at a burst, light and length against others, evenness, strength against others.
fn track_features(track: &Track<'_>, line: f64, usual: &UsualTrack) -> [f64; 10] {
    let strength = track.line.piece.mean_strength();
    let light = track.line.light().max(DARKEST) / usual.light.max(DARKEST);
    [
        track.line.past,
        strength.ln(),
        (track.line.length / line).ln(),
        share_apart(&track.line.beside),
        track.begins,
        f64::from(u8::from(track.from_burst)),
        light.ln(),
        (track.line.length / usual.length.max(1.0)).ln(),
        track.line.evenness(),
        (strength / usual.strength.max(1.0)).ln(),
    ]
}

/// Logistic regression: chance of what shows these features.
pub(super) fn logistic<const N: usize>(constant: f64, weights: &[f64; N], features: &[f64; N]) -> f64 {
    let x: f64 = weights.iter().zip(features).map(|(w, f)| w * f).sum();
    chance(constant + x)
}

/// The chance whose log odds these are.
fn chance(odds: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-odds))
}
