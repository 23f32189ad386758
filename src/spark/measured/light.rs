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

/// Light of the carriers along the stream, and the share of their points that is at the sensor's limit.
pub(super) fn light(
    tracks: &[Track<'_>],
    picture: &Picture,
    scene: &Scene,
    contact: &Contact,
    stream: &Stream,
) -> (Vec<LightAt>, f64) {
    let far = stream.length.map_or_else(
        || tracks.iter().map(|t| distance(contact.at, t.line.piece.ends()[1])).fold(1.0, f64::max),
        |l| l.best() / scene.factor as f64,
    );
    // points by row, each with its stretch and the place beside it
    let mut by_row: BTreeMap<usize, Vec<(usize, usize, bool)>> = BTreeMap::new();
    let (width, height) = (scene.plane.width, scene.plane.height);
    for track in tracks {
        let points = &track.line.piece.points;
        for (i, (p, beside)) in
            points.iter().zip(&track.line.beside).enumerate().filter(|(_, (_, b))| b.is_apart())
        {
            let _ = beside;
            let stretch = ((distance(contact.at, *p) / far * STRETCHES as f64) as usize).min(STRETCHES - 1);
            let next = points[(i + 1).min(points.len() - 1)];
            let before = points[i.saturating_sub(1)];
            let along = [next[0] - before[0], next[1] - before[1]];
            let length = along[0].hypot(along[1]).max(1e-9);
            let off = BESIDE * scene.line / length;
            let aside: Spot = [p[0] - off * along[1], p[1] + off * along[0]];
            for (place, on) in [(*p, true), (aside, false)] {
                let (x, y) = (place[0].max(0.0) as usize, place[1].max(0.0) as usize);
                if x < width && y < height {
                    by_row.entry(y).or_default().push((x, stretch, on));
                }
            }
        }
    }
    let linear = picture.linear(Shrink::by(scene.factor).unwrap_or(Shrink::NONE));
    let mut on: Vec<[Vec<f32>; 3]> = vec![Default::default(); STRETCHES];
    let mut aside: Vec<[Vec<f32>; 3]> = vec![Default::default(); STRETCHES];
    let (mut limit, mut all) = (0.0, 0.0);
    for (y, places) in by_row {
        let colours = linear.rgb(y..y + 1);
        for (x, stretch, is_on) in places {
            let values = [0, 1, 2].map(|c| colours[c].get(x).copied().unwrap_or(0.0));
            let is_limit = values.iter().any(|v| *v > LIMIT);
            if is_on {
                all += 1.0;
                limit += f64::from(u8::from(is_limit));
            }
            if is_on && is_limit {
                continue;
            }
            let into = if is_on { &mut on[stretch] } else { &mut aside[stretch] };
            for (values, value) in into.iter_mut().zip(values) {
                values.push(value);
            }
        }
    }
    let grey = picture.channels() == Channels::Grey;
    let at = |(i, (on, aside)): (usize, (&mut [Vec<f32>; 3], &mut [Vec<f32>; 3]))| {
        if on[0].len() < FEWEST {
            return None;
        }
        let mut above = [0.0; 3];
        for c in 0..3 {
            above[c] = f64::from(quantile(&mut on[c], 0.5) - quantile(&mut aside[c], 0.5)).max(0.0);
        }
        let over_green = |value: f64| (!grey && above[1] > 0.0).then(|| value / above[1]);
        Some(LightAt {
            along: (i as f64 + 0.5) / STRETCHES as f64,
            brightness: above.iter().sum::<f64>() / 3.0,
            red_over_green: over_green(above[0]),
            blue_over_green: over_green(above[2]),
        })
    };
    let along = on.iter_mut().zip(aside.iter_mut()).enumerate().filter_map(at).collect();
    (along, if all > 0.0 { limit / all } else { 0.0 })
}
