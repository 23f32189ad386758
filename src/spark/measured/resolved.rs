use super::contact::Contact;
use super::fan::Fan;
use super::fit::distance;
use super::hub::Hub;
use super::judge::LIMIT;
use super::line::Line;
use super::scene::{Scene, linear};
use super::stream_photo::{LeftOut, WhyLeftOut};
use super::tiles::{Tiles, quantile};
use super::track::Track;
use std::collections::HashSet;

/// Side of the squares, px of the plane.
const TILE: usize = 48;
/// Share of a square's pixels that is darker than its even light, and of the squares around.
const EVEN: f64 = 0.4;
/// Light across a Gaussian line over its top times its full width at half of it.
const PROFILE: f64 = 1.064;
/// A square is dense if less than this share of its light is that of lines that stand apart (judgement), ...
const DENSE: f64 = 0.3;
/// ... and if it has more light than this share of a usual square of the stream.
const LIT: f64 = 0.3;
/// A square is blown out if more than this share of it is at the sensor's limit (judgement).
const BLOWN: f64 = 0.3;
/// Points of lines that come from elsewhere make a square clutter, over its side (judgement).
const CLUTTER: f64 = 1.0;
/// Light this little above the background, as roots, is its own unevenness and noise.
const FAINT: f32 = 0.02;
/// One square.
#[derive(Debug, Clone, Copy, Default)]
struct Square {
    /// Light above the background.
    light: f64,
    /// Light of lines that stand apart.
    apart: f64,
    /// Share of its pixels at the sensor's limit.
    blown: f64,
    /// Points of lines from elsewhere.
    elsewhere: f64,
}

/// Share of the stream's light in which sparks stand apart, and the patches that were not read.
pub(super) fn resolved(
    tracks: &[Track<'_>],
    lines: &[Line],
    hubs: &[Hub],
    scene: &Scene,
    contact: &Contact,
) -> (f64, Vec<LeftOut>) {
    let rays: HashSet<usize> = hubs.iter().flat_map(|h| h.lines.iter().copied()).collect();
    let (columns, rows) = (scene.plane.width.div_ceil(TILE), scene.plane.height.div_ceil(TILE));
    let mut squares = vec![Square::default(); columns * rows];
    // what shines evenly behind the stream is none of its light
    let even = Tiles::of(&scene.plane, TILE, |seen| quantile(seen, EVEN)).around(|near| quantile(near, EVEN));
    for y in 0..scene.plane.height {
        for (column, run) in scene.plane.row(y).chunks(TILE).enumerate() {
            let square = &mut squares[y / TILE * columns + column];
            let middle = (column * TILE + TILE / 2) as f64;
            let ground_root = even.at(middle, y as f64) as f32;
            let ground = linear(f64::from(ground_root));
            for value in run {
                let light = linear(f64::from(*value));
                if *value > ground_root + FAINT {
                    square.light += light - ground;
                }
                square.blown += f64::from(u8::from(light > LIMIT));
            }
        }
    }
    for square in &mut squares {
        square.blown /= (TILE * TILE) as f64;
    }
    for (number, line) in lines.iter().enumerate() {
        let from_elsewhere = !line.is_radial() && !rays.contains(&number);
        for (p, beside) in line.piece.points.iter().zip(&line.beside) {
            let i = (p[1] as usize / TILE).min(rows - 1) * columns + (p[0] as usize / TILE).min(columns - 1);
            if beside.is_surely_apart() {
                squares[i].apart += beside.sure * scene.line * PROFILE;
            }
            squares[i].elsewhere += f64::from(u8::from(from_elsewhere));
        }
    }
    let inside = inside(tracks, contact, columns, rows);
    let (mut all, mut apart) = (0.0, 0.0);
    for (square, _) in squares.iter().zip(&inside).filter(|(_, inside)| **inside) {
        all += square.light;
        apart += square.apart.min(square.light);
    }
    let usual = all / inside.iter().filter(|i| **i).count().max(1) as f64;
    let mut left_out = Vec::new();
    for (i, (square, inside)) in squares.iter().zip(&inside).enumerate() {
        let why = if square.blown > BLOWN {
            WhyLeftOut::Blown
        } else if *inside && square.light > LIT * usual && square.apart < DENSE * square.light {
            WhyLeftOut::Dense
        } else if !*inside && square.elsewhere > CLUTTER * TILE as f64 {
            WhyLeftOut::Clutter
        } else {
            continue;
        };
        let (x, y) = ((i % columns * TILE) as f64, (i / columns * TILE) as f64);
        let factor = scene.factor as f64;
        let right = (x + TILE as f64).min(scene.plane.width as f64);
        let bottom = (y + TILE as f64).min(scene.plane.height as f64);
        left_out.push(LeftOut { patch: [x, y, right, bottom].map(|v| v * factor), why });
    }
    (if all > 0.0 { apart / all } else { 0.0 }, left_out)
}

/// Which squares the stream fills.
fn inside(tracks: &[Track<'_>], contact: &Contact, columns: usize, rows: usize) -> Vec<bool> {
    let fan = Fan::of(tracks, contact.at);
    (0..columns * rows)
        .map(|i| [i % columns, i / columns].map(|v| (v * TILE + TILE / 2) as f64))
        .map(|at| distance(contact.at, at) < TILE as f64 || fan.holds(at))
        .collect()
}
