use super::contact::Contact;
use super::fit::{angle_to, distance, signed_between};
use super::scene::Scene;
use super::stream_photo::{CarrierEnd, Stream};
use super::track::Track;
use crate::units::Interval;

/// Two standard deviations to either side make an interval.
const WIDE: f64 = 2.0;
/// Places along the stream at which carriers are counted.
const PLACES: usize = 60;
/// A stream whose carriers are cut off more often than this has no length.
const CUT: f64 = 0.2;
/// Far end of the stream: so many of its carriers end before it.
const FAR: f64 = 0.95;

/// Direction, opening, length and mean flight of a stream.
pub(super) fn stream(tracks: &[Track<'_>], contact: &Contact, scene: &Scene) -> Stream {
    let factor = scene.factor as f64;
    let outer = |t: &Track<'_>| t.line.piece.ends()[1];
    // the nearer half of a carrier says where it set out, gravity bends the rest
    let angle = |t: &Track<'_>| angle_to(contact.at, t.line.piece.points[t.line.piece.points.len() / 2]);
    let (sin, cos) =
        tracks.iter().map(|t| angle(t).sin_cos()).fold((0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1));
    let mean = sin.atan2(cos);
    let mut turns: Vec<f64> = tracks.iter().map(|t| signed_between(angle(t), mean)).collect();
    turns.sort_by(f64::total_cmp);
    let n = turns.len().max(1) as f64;
    let sd = (turns.iter().map(|t| t * t).sum::<f64>() / n).sqrt();
    // y runs down in a picture, angles are counted the other way round
    let direction = -mean.to_degrees();
    let doubt = WIDE * (sd / n.sqrt()).to_degrees();
    let at = |share: f64| {
        let i = share * (turns.len().saturating_sub(1)) as f64;
        let (a, b) = (i.floor() as usize, i.ceil() as usize);
        let value = |i: usize| turns.get(i).copied().unwrap_or(0.0);
        value(a) + (i - a as f64) * (value(b) - value(a))
    };
    let opening = (at(0.9) - at(0.1)).to_degrees();
    // spread of a quantile's rank: √(n p (1 - p))
    let off = WIDE * (0.1 * 0.9 / n).sqrt();
    let narrow = (at((0.9 - off).max(0.5)) - at((0.1 + off).min(0.5))).to_degrees();
    let wide = (at((0.9 + off).min(1.0)) - at((0.1 - off).max(0.0))).to_degrees();
    let interval = |low: f64, best: f64, high: f64| {
        Interval::new(low.min(best), best, high.max(best)).unwrap_or(Interval::exact(best))
    };
    let mut reach: Vec<f64> = tracks.iter().map(|t| distance(contact.at, outer(t)) * factor).collect();
    reach.sort_by(f64::total_cmp);
    let cut = tracks.iter().filter(|t| t.end == CarrierEnd::Cut).count() as f64;
    let quantile = |share: f64| reach[(share * (reach.len() - 1) as f64).round() as usize];
    let far_off = WIDE * (FAR * (1.0 - FAR) / n).sqrt();
    let length = (cut <= CUT * n && !reach.is_empty()).then(|| {
        interval(quantile((FAR - far_off).max(0.5)), quantile(FAR), quantile(1.0) + contact.sd * factor)
    });
    Stream {
        contact: contact.at.map(|v| v * factor),
        contact_sd: contact.sd * factor,
        direction: interval(direction - doubt, direction, direction + doubt),
        opening: interval(narrow, opening, wide),
        length,
        flight: flight(tracks, contact, factor).filter(|_| cut <= CUT * n),
    }
}

/// Mean path of a spark from the wheel to its end. A steady stream shows at each distance as many sparks as fly that
/// far, whatever the shutter: what is left at a distance over what set out, summed up over the distance. Near the
/// wheel carriers hide each other, so what set out is the most that are seen at any distance.
fn flight(tracks: &[Track<'_>], contact: &Contact, factor: f64) -> Option<Interval<f64>> {
    let spans: Vec<[f64; 2]> = tracks
        .iter()
        .map(|t| [distance(contact.at, t.begin), distance(contact.at, t.line.piece.ends()[1])])
        .collect();
    let far = spans.iter().map(|s| s[1]).fold(0.0, f64::max);
    if far <= 0.0 {
        return None;
    }
    let step = far / PLACES as f64;
    let mut there: Vec<f64> = (0..PLACES)
        .map(|i| (i as f64 + 0.5) * step)
        .map(|r| spans.iter().filter(|s| s[0] <= r && r <= s[1]).count() as f64)
        .collect();
    for i in (0..PLACES - 1).rev() {
        there[i] = there[i].max(there[i + 1]);
    }
    let best = there.iter().sum::<f64>() * step / there[0].max(1.0);
    // as doubtful as the count that all is divided by
    let doubt = WIDE / there[0].max(1.0).sqrt();
    Interval::new(best * (1.0 - doubt).max(0.3) * factor, best * factor, best * (1.0 + doubt) * factor)
}
