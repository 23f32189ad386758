//! How sure it is that what was found is what it seems: logistic regressions of right against wrong finds on 95
//! development pictures drawn by three makers (2,656 places where rays meet, 3,923 tracks). They are as good as those
//! pictures are like photos: no photo with known sparks exists.

use super::hub::Hub;
use super::judge::narrowest;
use super::look::usual;
use super::stream_photo::CarrierEnd;
use super::track::Track;

/// What is less sure than this is left out.
pub(super) const LEAST: f64 = 0.3;

/// Chance that rays part at a place, 0 to 1.
pub(super) fn of_hub(hub: &Hub) -> f64 {
    let count = hub.rays.len().max(1) as f64;
    let mean = |of: &dyn Fn(usize) -> f64| (0..hub.rays.len()).map(of).sum::<f64>() / count;
    let strength = mean(&|i| hub.rays[i].strength);
    let strongest = hub.rays.iter().map(|r| r.strength).fold(1.0, f64::max);
    let length = mean(&|i| hub.rays[i].to - hub.rays[i].from);
    let mut angles: Vec<f64> = hub.rays.iter().map(|r| r.angle).collect();
    let spread = narrowest(&mut angles, 0.99) / std::f64::consts::PI;
    logistic(
        -3.628
            + 2.099 * count.ln()
            + 1.576 * (hub.lines.len().max(1) as f64).ln()
            + 0.482 * f64::from(u8::from(hub.connected))
            + 0.411 * strength.max(1.0).ln()
            + 0.486 * length.max(1.0).ln()
            - 0.801 * strongest.ln()
            - 0.434 * spread,
    )
}

/// Chance that a track is a carrier, 0 to 1; `line` is the width of a usual line, `length` and `strength` are those of
/// the picture's usual track.
pub(super) fn of_track(track: &Track<'_>, line: f64, length: f64, strength: f64) -> f64 {
    let own = track.line.piece.mean_strength();
    logistic(
        -2.623 + 0.661 * (track.line.length / line).ln() + 0.24 * own.ln() - 0.609 * track.line.past
            + 2.554 * track.apart
            + 2.541 * (1.0 + track.hidden / track.line.length).ln()
            + 0.476 * (track.line.length / length.max(1.0)).ln()
            + 0.119 * (own / strength.max(1.0)).ln()
            - 1.359 * usual(&track.line.beside, |b| b.evenness)
            + 0.369 * f64::from(u8::from(track.start == CarrierEnd::Free)),
    )
}

fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}
