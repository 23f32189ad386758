//! Lines that are no sparks: stripes and blinds, rain, grass, hair and cables, a page of text.

use super::stroke::curve;
use crate::support::draw_sparks::dice::Dice;
use crate::support::draw_sparks::frame::Frame;
use crate::support::draw_sparks::scene::{Paint, Shape, Texture};
use std::f64::consts::PI;

/// Gratings, blinds, rails: parallel, with or without perspective.
pub(super) fn stripes(frame: &mut Frame, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let angle = dice.between(0.0, PI);
    let (sin, cos) = angle.sin_cos();
    let pitch = w * dice.log_between(0.006, 0.06);
    let (converge, duty) = (dice.between(-0.5, 0.5), dice.between(0.1, 0.6));
    let (dark, bright) = (dice.log_between(0.002, 0.05), dice.log_between(0.1, 1.0));
    let tint = [1.0, dice.between(0.5, 1.0), dice.between(0.2, 1.0)];
    let texture = Texture::new([w / 5.0, h / 5.0], 3, dice);
    for i in 0..frame.planes[0].len() {
        let (x, y) = ((i % frame.width) as f64 - w / 2.0, (i / frame.width) as f64 - h / 2.0);
        let (along, across) = (x * cos + y * sin, y * cos - x * sin);
        let phase = (across / (1.0 + converge * along / w) / pitch).rem_euclid(1.0);
        let edge = 0.8 / pitch;
        let lit = ((duty / 2.0 - (phase - 0.5).abs()) / edge + 0.5).clamp(0.0, 1.0);
        let shade = 1.0 + 0.5 * f64::from(texture.at(x as f32, y as f32));
        for (plane, t) in frame.planes.iter_mut().zip(tint) {
            plane[i] += ((dark + lit * (bright - dark)) * t * shade).max(0.0) as f32;
        }
    }
}

/// Drops as short parallel streaks, all over the frame.
pub(super) fn rain(frame: &mut Frame, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let slant = PI / 2.0 + dice.normal() * 0.2;
    let v = dice.log_between(0.03, 0.4);
    let warm = dice.chance(0.4);
    let line = w / 1600.0 * dice.between(0.6, 1.4) + 0.3;
    for _ in 0..dice.whole(150, 900) {
        let at = [dice.between(-0.1, 1.1) * w, dice.between(-0.1, 1.0) * h];
        let near = dice.log_between(0.3, 1.6);
        let path = curve(at, slant + dice.normal() * 0.03, near * h * 0.06, 0.0);
        let c = (v * dice.log_normal(1.0, 0.5)) as f32;
        let rgb = if warm { [c, c * 0.65, c * 0.35] } else { [c * 0.9, c, c * 1.1] };
        frame.stroke(&path, line * near, rgb, 0.0);
    }
}

/// Grass from below, hair in waves, or cables on a wall, lit.
pub(super) fn fibres(frame: &mut Frame, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let style = dice.whole(0, 2);
    let count = [900, 700, 40][style];
    let wave = dice.normal();
    for _ in 0..count {
        let v = dice.log_between(0.02, 0.4) as f32;
        let (path, sigma, rgb) = match style {
            0 => {
                let from = [dice.between(-0.05, 1.05) * w, h * dice.between(0.6, 1.1)];
                let angle = -PI / 2.0 + dice.normal() * 0.3;
                (
                    curve(from, angle, h * dice.between(0.15, 0.6), dice.normal() * 0.8),
                    1.4,
                    [v * 0.6, v, v * 0.3],
                )
            }
            1 => {
                let from = [dice.between(-0.3, 1.0) * w, -0.05 * h];
                let angle = PI / 2.0 - 0.3 + dice.normal() * 0.05;
                (curve(from, angle, h * 1.3, 0.5 * wave + dice.normal() * 0.05), 0.9, [v, v * 0.6, v * 0.35])
            }
            _ => {
                let from = [-0.05 * w, dice.between(0.0, 1.0) * h];
                let path = curve(from, dice.normal() * 0.3, 1.3 * w, dice.normal() * 0.9);
                (path, dice.between(2.0, 7.0), [v, v * dice.between(0.2, 1.0) as f32, v * 0.5])
            }
        };
        frame.stroke(&path, sigma * w / 1600.0 + 0.3, rgb, 0.2);
    }
}

/// Lines of words on paper, a little turned.
pub(super) fn text(frame: &mut Frame, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let fine = Texture::new([w / 200.0, w / 200.0], 2, dice);
    let paper = dice.between(0.35, 0.9) as f32;
    let turn = dice.normal() * 0.08;
    let sheet = Shape::Block { at: [w / 2.0, h / 2.0], half: [w * 0.6, h * 0.6], turn, round: 0.0 };
    frame.paint(&sheet, &Paint { rgb: [paper, paper * 0.97, paper * 0.9], rough: 0.03, soft: 2.0 }, &fine);
    let size = h * dice.between(0.012, 0.03);
    let ink = Paint { rgb: [0.02; 3], rough: 0.0, soft: 1.2 };
    let place = |x: f64, y: f64| [x - turn * (y - h / 2.0), y + turn * (x - w / 2.0)];
    let mut y = 0.08 * h;
    while y < 0.93 * h {
        let mut x = 0.06 * w;
        let end = w * dice.between(0.6, 0.94);
        while x < end {
            for _ in 0..dice.whole(1, 9) {
                for _ in 0..dice.whole(1, 3) {
                    let a = place(x + dice.between(0.0, 0.5) * size, y + dice.between(-0.5, 0.5) * size);
                    let b = place(x + dice.between(0.0, 0.5) * size, y + dice.between(-0.5, 0.5) * size);
                    frame.paint(&Shape::Capsule { a, b, r: size * 0.06 }, &ink, &fine);
                }
                x += 0.62 * size;
            }
            x += 0.5 * size;
        }
        y += 1.9 * size;
    }
}

/// One even tone, with a slow change and dust.
pub(super) fn plain(frame: &mut Frame, level: f64, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let slow = Texture::new([w, h], 2, dice);
    let strength = dice.between(0.0, 0.3) as f32;
    for i in 0..frame.planes[0].len() {
        let (x, y) = ((i % frame.width) as f32, (i / frame.width) as f32);
        for plane in &mut frame.planes {
            plane[i] = level as f32 * (1.0 + strength * slow.at(x, y));
        }
    }
    for _ in 0..dice.poisson(1.5) {
        let at = [dice.between(0.0, w), dice.between(0.0, h)];
        let grey = (level * dice.between(0.5, 0.9)) as f32;
        let r = w * dice.between(0.001, 0.006);
        frame.paint(&Shape::Disc { at, r }, &Paint { rgb: [grey; 3], rough: 0.0, soft: r * 2.0 }, &slow);
    }
}
