use super::contact::Contact;
use super::fit::distance;
use super::scene::Scene;
use super::stream_photo::{LightAt, Spot, Stream};
use super::tiles::quantile;
use super::track::Track;
use crate::photo::{Channels, Picture, Shrink};
use std::collections::BTreeMap;

/// Stretches of the stream.
const STRETCHES: usize = 10;
/// Light at the sensor's limit, linear, in any colour.
const LIMIT: f32 = 0.95;
/// Fewest points of carriers in a stretch for an answer.
const FEWEST: usize = 8;
/// How far beside a carrier the background is looked at, in line widths.
const BESIDE: f64 = 2.2;

/// One look at a pixel.
struct Sample {
    column: usize,
    stretch: usize,
    /// On a carrier, or beside it.
    on: bool,
}

/// Colours seen in one stretch of the stream: red, green, blue.
#[derive(Default)]
struct Stretch {
    on: [Vec<f32>; 3],
    beside: [Vec<f32>; 3],
}

/// Light of the carriers along the stream, and the share of their points that is at the sensor's limit.
pub(super) fn light(
    tracks: &[Track<'_>],
    picture: &Picture,
    scene: &Scene,
    contact: &Contact,
    stream: &Stream,
) -> (Vec<LightAt>, f64) {
    let farthest = tracks.iter().map(|t| distance(contact.at, t.line.piece.ends()[1])).fold(1.0, f64::max);
    let far = stream.length.map_or(farthest, |l| l.best() / scene.factor as f64);
    let linear = picture.linear(Shrink::by(scene.factor).unwrap_or(Shrink::NONE));
    let mut stretches: Vec<Stretch> = (0..STRETCHES).map(|_| Stretch::default()).collect();
    let (mut limit, mut all) = (0.0, 0.0);
    for (y, samples) in samples(tracks, scene, contact, far) {
        let colours = linear.rgb(y..y + 1);
        for sample in samples {
            let values = [0, 1, 2].map(|c| colours[c].get(sample.column).copied().unwrap_or(0.0));
            let is_limit = values.iter().any(|v| *v > LIMIT);
            all += f64::from(u8::from(sample.on));
            limit += f64::from(u8::from(sample.on && is_limit));
            let stretch = &mut stretches[sample.stretch];
            if !sample.on {
                stretch.beside.iter_mut().zip(values).for_each(|(all, v)| all.push(v));
            } else if !is_limit {
                stretch.on.iter_mut().zip(values).for_each(|(all, v)| all.push(v));
            }
        }
    }
    let grey = picture.channels() == Channels::Grey;
    let at = |(i, stretch): (usize, &mut Stretch)| {
        let along = (i as f64 + 0.5) / STRETCHES as f64;
        stretch.light(grey).map(|light| LightAt { along, ..light })
    };
    let along = stretches.iter_mut().enumerate().filter_map(at).collect();
    (along, if all > 0.0 { limit / all } else { 0.0 })
}

impl Stretch {
    fn light(&mut self, grey: bool) -> Option<LightAt> {
        if self.on[0].len() < FEWEST {
            return None;
        }
        let mut above = [0.0; 3];
        for ((above, on), beside) in above.iter_mut().zip(&mut self.on).zip(&mut self.beside) {
            *above = f64::from(quantile(on, 0.5) - quantile(beside, 0.5)).max(0.0);
        }
        let over_green = |value: f64| (!grey && above[1] > 0.0).then(|| value / above[1]);
        Some(LightAt {
            along: 0.0,
            brightness: above.iter().sum::<f64>() / 3.0,
            red_over_green: over_green(above[0]),
            blue_over_green: over_green(above[2]),
        })
    }
}

/// Pixels to look at by row: the points of carriers that stand apart, each with a place beside it.
fn samples(tracks: &[Track<'_>], scene: &Scene, contact: &Contact, far: f64) -> BTreeMap<usize, Vec<Sample>> {
    let mut by_row: BTreeMap<usize, Vec<Sample>> = BTreeMap::new();
    for track in tracks {
        let points = &track.line.piece.points;
        let apart = track.line.beside.iter().enumerate().filter(|(_, b)| b.is_apart());
        for i in apart.map(|(i, _)| i) {
            let p = points[i];
            let (before, next) = (points[i.saturating_sub(1)], points[(i + 1).min(points.len() - 1)]);
            let along = [next[0] - before[0], next[1] - before[1]];
            let off = BESIDE * scene.line / along[0].hypot(along[1]).max(1e-9);
            let aside: Spot = [p[0] - off * along[1], p[1] + off * along[0]];
            let stretch = ((distance(contact.at, p) / far * STRETCHES as f64) as usize).min(STRETCHES - 1);
            for (place, on) in [(p, true), (aside, false)] {
                let [column, row] = place.map(|v| v.max(0.0) as usize);
                if column < scene.plane.width && row < scene.plane.height {
                    by_row.entry(row).or_default().push(Sample { column, stretch, on });
                }
            }
        }
    }
    by_row
}
