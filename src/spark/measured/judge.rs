use super::contact::Contact;
use super::fit::{angle_to, signed_between};
use super::line::Line;
use super::refusal::Refusal;
use super::scene::Scene;
use super::tiles::quantile;
use super::track::{SHORTEST, Track};
use std::iter::repeat_n;

/// Fewest lines of light of a stream (judgement).
const LINES: usize = 6;
/// Fewest carriers for an answer (judgement).
const CARRIERS: usize = 5;
/// Least share of the lines that comes from one place (judgement; put between 0.43, a drawn picture of star trails, and
/// 0.48, the least of 90 drawn streams but four).
const FROM_ONE_PLACE: f64 = 0.45;
/// The stream of a wheel fills less than this, degrees (judgement): its middle four fifths.
const OPENING: f64 = 150.0;
/// Share of the lines from one place from which on a line counts as often as it is long: what glints at the wheel then says
/// little (judgement: two streams by another maker had 0.95 and 1, a drawn lamp and an arc 0.58 and 0.61).
const NEARLY_ALL: f64 = 0.8;
/// The contact lies no farther outside the picture, in its diagonals (judgement): farther off, lines that run side by
/// side, as of rain, blinds or scratches, meet somewhere as well.
const OUTSIDE: f64 = 0.3;
/// Least share of the stream's light in which sparks stand apart (judgement; put between a photo of a bonfire, 16 %, and
/// one of sparks from torch cutting, 22 %); and the same where carriers are on the average so sure that it is a stream all
/// the same, its light mostly glare or a window behind it (judgement: streams by another maker reach 9 % and 0.66, the
/// bonfire 0.52, drawn streams too dense to tell apart 4 % and 0.58).
pub(in crate::spark) const RESOLVED: f64 = 0.2;
const RESOLVED_IF_SURE: f64 = 0.06;
const SURE_STREAM: f64 = 0.6;
/// Carriers that such a stream has at least (judgement: 10 of one by another maker, 5 of a drawn lamp).
const CARRIERS_IF_SURE: usize = 8;
/// Carriers are on the average at least so sure (judgement; photos of fires and of grass reach 0.47 to 0.51, one of
/// sparks from torch cutting 0.56, drawn streams 0.61 and more).
const SURE: f64 = 0.54;
/// A usual carrier is no wider than this share of its length: what is stouter is blurred, or no spark (judgement).
const BLURRED: f64 = 0.125;
/// From this width on, px of the photo, than that share: a sharp spark is seldom so wide (judgement).
const BLURRED_WIDTH: f64 = 14.0;
const BLURRED_WIDE: f64 = 0.06;
/// Share of the picture at the sensor's limit that is too much (judgement).
const BLOWN: f64 = 0.3;
/// Light at the sensor's limit, linear.
pub(super) const LIMIT: f64 = 0.95;
/// Lines of a usable picture stand so far above the noise, in its standard deviations (judgement): three times a
/// pixel's noise is about this much of a line's.
const SIGNAL: f64 = 5.0;

/// Whether the lines are a stream, and where it comes from.
pub(super) fn stream(lines: &[Line], contact: Option<Contact>, scene: &Scene) -> Result<Contact, Refusal> {
    let long: Vec<&Line> = lines.iter().filter(|l| l.length * scene.factor as f64 >= SHORTEST).collect();
    if long.len() < LINES {
        return Err(too_little(&long, scene));
    }
    let share = contact.as_ref().map_or(0.0, |c| c.share);
    let Some(contact) = contact.filter(|c| c.share >= FROM_ONE_PLACE) else {
        return Err(Refusal::NoStream {
            lines: long.len(),
            share: 100.0 * share,
            needed: 100.0 * FROM_ONE_PLACE,
        });
    };
    let (width, height) = (scene.plane.width as f64, scene.plane.height as f64);
    let beyond = |v: f64, size: f64| (-v).max(v - size).max(0.0);
    let outside = beyond(contact.at[0], width).hypot(beyond(contact.at[1], height)) / width.hypot(height);
    if outside > OUTSIDE {
        return Err(Refusal::SideBySide { outside, allowed: OUTSIDE });
    }
    let radial = || long.iter().filter(|l| l.is_radial());
    let angle = |l: &Line| angle_to(contact.at, l.piece.ends()[1]);
    let mut opening = self::opening(radial().map(|l| (angle(l), 1)));
    if contact.share >= NEARLY_ALL {
        let times = |l: &Line| ((l.length * scene.factor as f64 / SHORTEST) as usize).max(1);
        opening = opening.min(self::opening(radial().map(|l| (angle(l), times(l)))));
    }
    if opening > OPENING {
        return Err(Refusal::AllRound { opening, allowed: OPENING });
    }
    Ok(contact)
}

/// What lines with these directions, radians, fill, degrees; each counts so many times.
fn opening(lines: impl Iterator<Item = (f64, usize)>) -> f64 {
    let mut angles: Vec<f64> = lines.flat_map(|(angle, times)| repeat_n(angle, times)).collect();
    narrowest(&mut angles, 0.8).to_degrees()
}

/// Whether there are carriers enough, of which enough stands apart.
pub(super) fn carriers(tracks: &[Track<'_>], resolved: f64, scene: &Scene) -> Result<(), Refusal> {
    let width = scene.line * scene.factor as f64;
    let mut lengths: Vec<f32> = tracks.iter().map(|t| t.line.length as f32).collect();
    let length = f64::from(quantile(&mut lengths, 0.5)) * scene.factor as f64;
    let allowed = if width > BLURRED_WIDTH { BLURRED_WIDE } else { BLURRED };
    if tracks.len() >= CARRIERS && width > allowed * length {
        return Err(Refusal::Blurred {
            width,
            share: 100.0 * width / length.max(1.0),
            allowed: 100.0 * allowed,
        });
    }
    let sure = tracks.iter().map(|t| t.certainty).sum::<f64>() / tracks.len().max(1) as f64;
    let is_sure = sure >= SURE_STREAM && tracks.len() >= CARRIERS_IF_SURE;
    let needed = if is_sure { RESOLVED_IF_SURE } else { RESOLVED };
    if resolved < needed {
        return Err(Refusal::NotSeparable { share: 100.0 * resolved, needed: 100.0 * needed });
    }
    if tracks.len() < CARRIERS {
        return Err(Refusal::TooFew { found: tracks.len(), needed: CARRIERS });
    }
    if sure < SURE {
        return Err(Refusal::UnlikeSparks { sure: 100.0 * sure, needed: 100.0 * SURE });
    }
    let mut strengths: Vec<f32> = tracks.iter().map(|t| t.line.piece.mean_strength() as f32).collect();
    let signal = f64::from(quantile(&mut strengths, 0.5));
    if signal < SIGNAL {
        return Err(Refusal::TooDark { signal, needed: SIGNAL });
    }
    Ok(())
}

/// Why hardly a line is there.
fn too_little(long: &[&Line], scene: &Scene) -> Refusal {
    let limit = LIMIT.sqrt() as f32;
    let at_limit = scene.plane.values.iter().filter(|v| **v >= limit).count() as f64;
    let blown = at_limit / scene.plane.values.len().max(1) as f64;
    if blown > BLOWN {
        return Refusal::BlownOut { share: 100.0 * blown, allowed: 100.0 * BLOWN };
    }
    Refusal::NoSparks { lines: long.len(), needed: LINES }
}

/// Width of the narrowest range of directions that holds this share of them, radians.
pub(super) fn narrowest(angles: &mut [f64], share: f64) -> f64 {
    let tau = std::f64::consts::TAU;
    angles.sort_by(f64::total_cmp);
    let count = angles.len();
    let hold = (count as f64 * share).ceil() as usize;
    (0..count)
        .map(|i| {
            let last = angles[(i + hold.max(1) - 1) % count];
            let turn = signed_between(last, angles[i]);
            if turn < 0.0 { turn + tau } else { turn }
        })
        .fold(tau, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn glints_round_a_wheel_do_not_open_a_stream() {
        let stream = (0..8).map(|i| (0.05 * f64::from(i), 20));
        let glints = (0..20).map(|i| (0.3 * f64::from(i), 1));
        assert!((opening(stream.clone()) - 0.3_f64.to_degrees()).abs() < 1e-9, "seven of eight are 80 %");
        assert!(opening(stream.chain(glints.clone())) < 25.0);
        assert!(opening(glints) > 200.0, "alone they go all round");
    }
}
