use super::certainty;
use super::contact::Contact;
use super::fit::{angle_to, between, distance};
use super::hub::Hub;
use super::line::Line;
use super::look::share_apart;
use super::scene::Scene;
use super::stream_photo::{CarrierEnd, Spot};
use super::tiles::quantile;

/// Shortest carrier, px of the photo.
pub(super) const SHORTEST: f64 = 12.0;
/// Points at its start that tell whether it begins there or comes out of other light: more than this share is apart.
const START: usize = 10;
const APART: f64 = 0.5;
/// A ray is no longer than this, px of the plane; farther out a line that comes from the wheel is a carrier.
const LONGEST_RAY: f64 = 45.0;
/// A short line goes on a ray if it begins this near to it, px of the plane, in its direction within this, radians.
const ON_RAY: f64 = 4.0;
const ALONG_RAY: f64 = 0.3;
/// Carriers of at least this length, px of the photo, that begin in darkness say how long a carrier gets, ...
const WHOLE: f64 = 24.0;
/// ... if there are so many: this share of them is shorter, and a hidden one is longer by no more than this factor.
const WHOLE_COUNT: usize = 5;
const WHOLE_SHARE: f64 = 0.9;
const WHOLE_FACTOR: f64 = 1.1;
/// Light towards the wheel goes on while it is this share of the carrier's, as roots, with gaps up to this, px.
const GOES_ON: f64 = 0.5;
const DARK: usize = 4;
/// How far the way to the wheel may lie beside the straight one, px and per px of the way.
const BESIDE: [f64; 2] = [1.0, 0.03];
/// A start or end at the contact, the frame or a burst lies within this, px of the plane.
const AT: f64 = 10.0;
const AT_FRAME: f64 = 3.0;

/// A line that is a carrier.
pub(super) struct Track<'a> {
    pub(super) line: &'a Line,
    /// Its number among the lines.
    pub(super) number: usize,
    /// Where light that cannot be told apart goes on towards the wheel.
    pub(super) hidden: f64,
    /// Its beginning with the hidden part.
    pub(super) begin: Spot,
    pub(super) start: CarrierEnd,
    pub(super) end: CarrierEnd,
    /// Share of its first points that are apart.
    pub(super) begins: f64,
    /// Whether its line begins at a burst.
    pub(super) from_burst: bool,
    /// Chance that it is a carrier, 0 to 1.
    pub(super) certainty: f64,
}

/// The lines that come from the wheel and are no rays, as far as they are likely to be carriers that stand apart.
pub(super) fn tracks<'a>(
    lines: &'a [Line],
    hubs: &[Hub],
    scene: &Scene,
    contact: &Contact,
) -> Vec<Track<'a>> {
    let mut is_ray = vec![false; lines.len()];
    for hub in hubs {
        for i in &hub.lines {
            let line = &lines[*i];
            let [first, last] = line.piece.ends();
            // a carrier may end in its burst, or go on from it
            let ends_here = distance(last, hub.at) < distance(first, hub.at);
            is_ray[*i] |= !line.is_radial() || (!ends_here && line.length <= LONGEST_RAY);
        }
    }
    for (i, line) in lines.iter().enumerate().filter(|(_, l)| l.length <= LONGEST_RAY) {
        is_ray[i] |= hubs.iter().any(|hub| on_a_ray(line, hub));
    }
    let factor = scene.factor as f64;
    let candidates: Vec<(usize, &Line)> = lines
        .iter()
        .enumerate()
        .filter(|(i, l)| !is_ray[*i] && l.is_radial() && l.length * factor >= SHORTEST)
        .collect();
    let begins = |l: &Line| share_apart(&l.beside[..l.beside.len().min(START)]);
    let mut whole: Vec<f32> = candidates
        .iter()
        .filter(|(_, l)| begins(l) > APART && l.length * factor > WHOLE)
        .map(|(_, l)| l.length as f32)
        .collect();
    let longest = if whole.len() >= WHOLE_COUNT {
        f64::from(quantile(&mut whole, WHOLE_SHARE)) * WHOLE_FACTOR
    } else {
        f64::INFINITY
    };
    let track = |(number, line): (usize, &'a Line)| {
        let [first, last] = line.piece.ends();
        let way = distance(first, contact.at);
        let apart = begins(line);
        let hidden = if apart > APART { 0.0 } else { goes_on(line, contact.at, scene) };
        let hidden = hidden.min((longest - line.length).max(0.0));
        let toward = |i: usize| first[i] + (contact.at[i] - first[i]) * hidden / way.max(1e-9);
        let begin = if hidden > 0.0 { [toward(0), toward(1)] } else { first };
        let at_burst = |p: Spot| hubs.iter().any(|h| distance(h.at, p) < AT);
        let start = if is_at_frame(begin, scene) {
            CarrierEnd::Cut
        } else if distance(begin, contact.at) < AT.max(contact.sd) {
            CarrierEnd::AtWheel
        } else if apart <= APART {
            CarrierEnd::Hidden
        } else if at_burst(first) {
            CarrierEnd::Burst
        } else {
            CarrierEnd::Free
        };
        let end = if is_at_frame(last, scene) {
            CarrierEnd::Cut
        } else if at_burst(last) {
            CarrierEnd::Burst
        } else if share_apart(&line.beside[line.beside.len().saturating_sub(START)..]) <= APART {
            CarrierEnd::Hidden
        } else {
            CarrierEnd::Free
        };
        let from_burst = at_burst(first);
        Track { line, number, hidden, begin, start, end, begins: apart, from_burst, certainty: 0.0 }
    };
    let mut tracks: Vec<Track<'_>> = candidates.into_iter().map(track).collect();
    let usual = |of: &dyn Fn(&Track<'_>) -> f64| {
        let mut values: Vec<f32> = tracks.iter().map(|t| of(t) as f32).collect();
        f64::from(quantile(&mut values, 0.5))
    };
    let usual = certainty::UsualTrack {
        length: usual(&|t| t.line.length),
        strength: usual(&|t| t.line.piece.mean_strength()),
        light: usual(&|t| t.line.light()),
    };
    for track in &mut tracks {
        track.certainty = certainty::of_track(track, scene.line, &usual);
    }
    tracks.retain(|t| t.certainty >= certainty::LEAST);
    tracks
}

/// Whether a line goes on a ray of a burst.
fn on_a_ray(line: &Line, hub: &Hub) -> bool {
    let [first, last] = line.piece.ends();
    let r = distance(first, hub.at);
    let outward = angle_to(first, last);
    r < distance(last, hub.at)
        && hub.rays.iter().any(|arm| {
            let near = (arm.from - ON_RAY..=arm.to + ON_RAY).contains(&r);
            near && distance(arm.place(hub.at, r, 0.0), first) < ON_RAY
                && between(outward, arm.angle) < ALONG_RAY
        })
}

fn is_at_frame(p: Spot, scene: &Scene) -> bool {
    let near = |v: f64, size: usize| v < AT_FRAME || v > size as f64 - AT_FRAME;
    near(p[0], scene.plane.width) || near(p[1], scene.plane.height)
}

/// How far light goes on from the start of a line towards the contact.
fn goes_on(line: &Line, contact: Spot, scene: &Scene) -> f64 {
    let first = line.piece.ends()[0];
    let way = distance(first, contact);
    if way < 1.0 {
        return 0.0;
    }
    let toward = [(contact[0] - first[0]) / way, (contact[1] - first[1]) / way];
    let near = &line.piece.points[..line.piece.points.len().min(START)];
    let level = near.iter().map(|p| scene.above(p[0], p[1])).sum::<f64>() / near.len() as f64;
    let is_bright = |r: f64| {
        let off = BESIDE[0] + BESIDE[1] * r;
        [-1.0, -0.5, 0.0, 0.5, 1.0].iter().any(|k| {
            let (along, across) = (r, k * off);
            let x = first[0] + along * toward[0] - across * toward[1];
            let y = first[1] + along * toward[1] + across * toward[0];
            scene.above(x, y) >= GOES_ON * level
        })
    };
    let (mut seen, mut dark) = (0.0, 0);
    for step in 1..way as usize {
        if is_bright(step as f64) {
            (seen, dark) = (step as f64, 0);
        } else {
            dark += 1;
            if dark > DARK {
                break;
            }
        }
    }
    seen
}
