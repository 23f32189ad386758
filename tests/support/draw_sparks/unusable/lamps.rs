//! Lights that are no sparks: a lamp with spikes, discs out of focus, a city at night.

use super::stroke::curve;
use crate::support::draw_sparks::dice::Dice;
use crate::support::draw_sparks::frame::Frame;
use crate::support::draw_sparks::scene::{Paint, Shape, Texture};
use std::f64::consts::{PI, TAU};

/// Diffraction at a stop of n blades: n spikes where n is even, 2n where it is odd.
pub(super) fn lamp_star(frame: &mut Frame, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    for _ in 0..dice.whole(1, 3) {
        let at = [dice.between(0.1, 0.9) * w, dice.between(0.1, 0.9) * h];
        let blades = dice.whole(4, 9);
        let spikes = if blades.is_multiple_of(2) { blades } else { 2 * blades };
        let turn = dice.between(0.0, TAU);
        let v = dice.log_between(1.0, 12.0) as f32;
        let tint = [1.0, dice.between(0.6, 1.0) as f32, dice.between(0.3, 1.0) as f32];
        frame.glow(at, w * dice.between(0.006, 0.025), tint.map(|t| t * v * 3.0));
        frame.glow(at, w * dice.between(0.04, 0.12), tint.map(|t| t * v * 0.02));
        let long = w * dice.between(0.06, 0.35);
        let line = w / 1600.0 * dice.between(0.8, 2.5) + 0.3;
        for spike in 0..spikes {
            let angle = turn + TAU * spike as f64 / spikes as f64;
            let path = curve(at, angle, long * dice.between(0.85, 1.1), 0.0);
            frame.stroke(&path, line, tint.map(|t| t * v * 0.4), 1.0);
            frame.stroke(&path[..6], line * 1.6, tint.map(|t| t * v * 0.5), 1.0);
        }
    }
}

/// Discs or polygons of light that overlap, brighter at the rim or not.
pub(super) fn bokeh(frame: &mut Frame, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let r = w * dice.between(0.01, 0.06);
    let rim = dice.between(0.0, 0.8) as f32;
    let warm = dice.chance(0.5);
    for _ in 0..dice.whole(12, 70) {
        let at = [dice.between(0.0, w), dice.between(0.0, h)];
        let r = r * dice.between(0.6, 1.3);
        let v = dice.log_between(0.02, 0.8) as f32;
        let tint = if warm {
            [1.0, dice.between(0.4, 0.7) as f32, dice.between(0.05, 0.3) as f32]
        } else {
            [0, 1, 2].map(|_| dice.log_between(0.15, 1.0) as f32)
        };
        let bounds = (w as usize, h as usize);
        let mut add = |shape: Shape, share: f32| {
            let planes = &mut frame.planes;
            shape.cover(bounds, 2.0, |i, cover| {
                for (plane, t) in planes.iter_mut().zip(tint) {
                    plane[i] += cover * t * v * share;
                }
            });
        };
        add(Shape::Disc { at, r }, 1.0);
        add(Shape::Arc { at, r: r * 0.94, from: 0.0, sweep: TAU, half: r * 0.05 }, rim);
    }
}

/// Windows and street lamps about a skyline; sometimes their trails on water, or of cars.
pub(super) fn city(frame: &mut Frame, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let plain = Texture::new([w / 20.0, w / 20.0], 2, dice);
    let horizon = dice.between(0.45, 0.75) * h;
    let mut x = 0.0;
    while x < w {
        let (wide, tall) = (w * dice.between(0.03, 0.1), h * dice.between(0.05, 0.4));
        let wall = dice.log_between(0.0008, 0.006) as f32;
        let at = [x + wide / 2.0, horizon - tall / 2.0];
        let paint = Paint { rgb: [wall; 3], rough: 0.2, soft: 1.0 };
        frame.paint(
            &Shape::Block { at, half: [wide / 2.0, tall / 2.0], turn: 0.0, round: 0.0 },
            &paint,
            &plain,
        );
        let pitch = w * dice.between(0.006, 0.014);
        for row in 1..(tall / pitch) as usize {
            for column in 1..(wide / pitch) as usize {
                if dice.chance(0.35) {
                    let at = [x + column as f64 * pitch, horizon - row as f64 * pitch];
                    let v = dice.log_between(0.02, 0.5) as f32;
                    let shape = Shape::Block { at, half: [pitch * 0.28, pitch * 0.2], turn: 0.0, round: 0.0 };
                    frame.paint(
                        &shape,
                        &Paint { rgb: [v, v * 0.75, v * 0.4], rough: 0.0, soft: 1.0 },
                        &plain,
                    );
                }
            }
        }
        x += wide * dice.between(0.9, 1.3);
    }
    let water = dice.chance(0.5);
    for _ in 0..dice.whole(10, 60) {
        let at = [dice.between(0.0, w), horizon + dice.between(-0.02, 0.04) * h];
        let v = dice.log_between(0.2, 4.0) as f32;
        let rgb = [v, v * dice.between(0.5, 0.9) as f32, v * dice.between(0.1, 0.8) as f32];
        frame.glow(at, w / 1600.0 * dice.between(1.0, 4.0), rgb);
        if water {
            let path = curve(at, PI / 2.0, h * dice.between(0.05, 0.3), 0.0);
            frame.stroke(&path, w / 1600.0 * dice.between(1.0, 5.0), rgb.map(|c| c * 0.15), 1.0);
        }
    }
    if !water {
        for _ in 0..dice.whole(2, 12) {
            let from = [-0.05 * w, horizon + dice.between(0.05, 0.35) * h];
            let red = dice.chance(0.5);
            let v = dice.log_between(0.1, 1.0) as f32;
            let rgb = if red { [v, v * 0.1, v * 0.08] } else { [v, v * 0.95, v * 0.8] };
            let path = curve(from, dice.normal() * 0.08, w * 1.2, dice.normal() * 0.2);
            frame.stroke(&path, w / 1600.0 * dice.between(0.8, 2.0) + 0.3, rgb, 0.0);
        }
    }
}
