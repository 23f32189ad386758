//! What lies behind the stream.

use super::{P, Paint, Shape, Texture};
use crate::support::draw_sparks::dice::Dice;
use crate::support::draw_sparks::frame::Frame;

#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Backdrop {
    Night,
    Board,
    Shop,
    Wall,
    Outdoors,
    Lights,
}

/// A backdrop with light of about `level` (1 is full scale), blurred by `soft` px.
pub(crate) fn backdrop(
    kind: Backdrop,
    (w, h): (usize, usize),
    level: f64,
    soft: f64,
    dice: &mut Dice,
) -> Frame {
    let base = dice.between(0.6, 1.4);
    let tint = [base * dice.between(0.8, 1.3), base, base * dice.between(0.6, 1.3)];
    let mut frame = Frame::new(w, h, tint.map(|t| (t * level) as f32));
    shade(&mut frame, dice);
    let long = w.max(h) as f64;
    match kind {
        Backdrop::Night => {}
        Backdrop::Board => {
            let size = long / dice.log_between(3.0, 150.0);
            grain(
                &mut frame,
                [size, size * dice.between(0.6, 1.6)],
                dice.log_between(0.03, 0.35) as f32,
                dice,
            );
        }
        Backdrop::Shop => shop(&mut frame, level, dice),
        Backdrop::Wall => wall(&mut frame, level, dice),
        Backdrop::Outdoors => outdoors(&mut frame, level, dice),
        Backdrop::Lights => lights(&mut frame, level, dice),
    }
    frame.blur(soft);
    frame
}

/// A slow change of light over the frame.
fn shade(frame: &mut Frame, dice: &mut Dice) {
    let [w, h] = [frame.width as f32, frame.height as f32];
    let angle = dice.between(0.0, std::f64::consts::TAU);
    let strength = dice.between(0.0, 0.8) as f32;
    let (sin, cos) = (angle.sin() as f32, angle.cos() as f32);
    for plane in &mut frame.planes {
        for (i, v) in plane.iter_mut().enumerate() {
            let (x, y) = ((i % w as usize) as f32 / w - 0.5, (i / w as usize) as f32 / h - 0.5);
            *v *= 1.0 + strength * (x * cos + y * sin) * 1.4;
        }
    }
}

fn grain(frame: &mut Frame, size: P, strength: f32, dice: &mut Dice) {
    let texture = Texture::new(size, 4, dice);
    let w = frame.width;
    for i in 0..frame.planes[0].len() {
        let shade = (1.0 + strength * texture.at((i % w) as f32, (i / w) as f32)).max(0.05);
        for plane in &mut frame.planes {
            plane[i] *= shade;
        }
    }
}

fn colour(level: f64, low: f64, high: f64, dice: &mut Dice) -> [f32; 3] {
    let v = level * dice.log_between(low, high);
    [0, 1, 2].map(|_| (v * dice.between(0.6, 1.3)) as f32)
}

/// Shelves with things on them, posts, a window, lamps, tools on the wall.
fn shop(frame: &mut Frame, level: f64, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let texture = Texture::new([w / 40.0, w / 40.0], 3, dice);
    let tilt = dice.normal() * 0.03;
    let fill = |f: &mut Frame, shape: Shape, rgb: [f32; 3]| {
        f.paint(&shape, &Paint { rgb, rough: 0.25, soft: 1.5 }, &texture);
    };
    let block = |x: f64, y: f64, half: P| Shape::Block { at: [x, y], half, turn: tilt, round: 0.0 };
    for _ in 0..dice.whole(0, 4) {
        let y = dice.between(0.0, h);
        let rgb = colour(level, 0.3, 2.5, dice);
        fill(frame, block(w / 2.0, y, [w, h * dice.between(0.005, 0.02)]), rgb);
        for _ in 0..dice.whole(2, 12) {
            let (x, tall, wide) =
                (dice.between(0.0, w), dice.between(0.02, 0.1) * h, dice.between(0.01, 0.06) * w);
            fill(frame, block(x, y - tall, [wide, tall]), colour(level, 0.2, 3.0, dice));
        }
    }
    for _ in 0..dice.whole(0, 3) {
        let half = [w * dice.between(0.005, 0.03), h];
        fill(frame, block(dice.between(0.0, w), h / 2.0, half), colour(level, 0.2, 2.0, dice));
    }
    for _ in 0..dice.whole(0, 7) {
        let a = [dice.between(0.0, w), dice.between(0.0, h * 0.7)];
        let b = [a[0] + dice.normal() * w * 0.02, a[1] + dice.between(0.04, 0.2) * h];
        let r = w * dice.between(0.002, 0.009);
        fill(frame, Shape::Capsule { a, b, r }, colour(level, 0.2, 4.0, dice));
    }
    if dice.chance(0.25) {
        let (x, y) = (dice.between(0.1, 0.9) * w, dice.between(0.05, 0.5) * h);
        let half = [w * dice.between(0.04, 0.13), h * dice.between(0.06, 0.16)];
        let v = dice.log_between(0.25, 1.6) as f32;
        fill(frame, block(x, y, half), [v * 0.9, v, v * 1.1]);
        let bar = colour(level, 0.3, 1.0, dice);
        fill(frame, block(x, y, [half[0], h * 0.005]), bar);
        fill(frame, block(x, y, [w * 0.004, half[1]]), bar);
    }
    for _ in 0..dice.poisson(0.6) {
        let at = [dice.between(0.0, w), dice.between(0.0, h * 0.5)];
        let v = dice.log_between(0.4, 3.0) as f32;
        fill(frame, Shape::Disc { at, r: w * dice.between(0.005, 0.02) }, [v, v * 0.9, v * 0.7]);
        frame.glow(at, w * dice.between(0.03, 0.1), [v * 0.06, v * 0.05, v * 0.04]);
    }
}

/// Bricks, rough plaster or ribbed sheet.
fn wall(frame: &mut Frame, level: f64, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let rough = dice.between(0.2, 0.7) as f32;
    grain(frame, [w / dice.between(8.0, 60.0), w / dice.between(8.0, 60.0)], rough, dice);
    let style = dice.whole(0, 2);
    if style == 0 {
        let texture = Texture::new([w / 100.0, w / 100.0], 3, dice);
        let (tall, wide) = (h * dice.between(0.04, 0.09), w * dice.between(0.08, 0.16));
        let rows = (h / tall) as usize + 2;
        for row in 0..rows {
            for column in 0..=(w / wide) as usize + 1 {
                let at = [(column as f64 + 0.5 * (row % 2) as f64) * wide, row as f64 * tall];
                let v = (level * dice.between(0.6, 1.5)) as f32;
                let shape = Shape::Block { at, half: [wide * 0.47, tall * 0.43], turn: 0.0, round: 2.0 };
                let paint = Paint { rgb: [v * 1.3, v * 0.8, v * 0.6], rough: 0.4, soft: 2.0 };
                frame.paint(&shape, &paint, &texture);
            }
        }
    } else if style == 1 {
        let (pitch, angle) = (w * dice.between(0.015, 0.06), dice.normal() * 0.05);
        let depth = dice.between(0.1, 0.5);
        for plane in &mut frame.planes {
            for (i, v) in plane.iter_mut().enumerate() {
                let (x, y) = ((i % frame.width) as f64, (i / frame.width) as f64);
                let wave = (std::f64::consts::TAU * (x + y * angle) / pitch).sin();
                *v *= (1.0 + depth * wave) as f32;
            }
        }
    }
}

/// Sky, leaves, ground.
fn outdoors(frame: &mut Frame, level: f64, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let skyline = dice.between(0.1, 0.6) * h;
    let sky = [0.8, 1.1, 1.5].map(|c| (c * level * 1.5) as f32);
    let green = [0.5, 0.7, 0.3].map(|c| (c * level) as f32);
    let ridge = Texture::new([w / 3.0, h / 3.0], 4, dice);
    let leaf = Texture::new([w / 14.0, w / 14.0], 5, dice);
    let width = frame.width;
    for i in 0..frame.planes[0].len() {
        let (x, y) = ((i % width) as f32, (i / width) as f32);
        let edge = (f64::from(y) - skyline) / h + f64::from(ridge.at(x, y)) * 0.25;
        let cover = (edge * 12.0 + 0.5).clamp(0.0, 1.0) as f32;
        let shade = (1.0 + 0.9 * leaf.at(x, y)).max(0.1);
        for k in 0..3 {
            let below = green[k] * shade;
            frame.planes[k][i] = sky[k] + cover * (below - sky[k]);
        }
    }
}

/// Lamps far out of focus.
fn lights(frame: &mut Frame, level: f64, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let plain = Texture::new([w / 10.0, w / 10.0], 2, dice);
    let r = w * dice.between(0.008, 0.04);
    for _ in 0..dice.whole(2, 18) {
        let at = [dice.between(0.0, w), dice.between(0.0, h)];
        let v = level.max(0.01) * dice.log_between(1.5, 20.0);
        let rgb = [v, v * dice.between(0.5, 1.0), v * dice.between(0.2, 1.0)].map(|c| c as f32);
        let paint = Paint { rgb, rough: 0.08, soft: r * 0.3 };
        frame.paint(&Shape::Disc { at, r: r * dice.between(0.7, 1.3) }, &paint, &plain);
    }
}
