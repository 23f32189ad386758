//! Fire without a stream: bonfire, sparkler, fireworks, welding arc.

use super::stroke::curve;
use crate::support::draw_sparks::dice::Dice;
use crate::support::draw_sparks::frame::Frame;
use crate::support::draw_sparks::scene::{P, Paint, Shape, Texture};
use std::f64::consts::{PI, TAU};

fn somewhere(frame: &Frame, low: f64, high: f64, dice: &mut Dice) -> P {
    [dice.between(low, high) * frame.width as f64, dice.between(low, high) * frame.height as f64]
}

/// Flames that lick upward over dark logs, with embers.
pub(super) fn bonfire(frame: &mut Frame, dice: &mut Dice) {
    let (w, h) = (frame.width as f64, frame.height as f64);
    let foot = [dice.between(0.3, 0.7) * w, dice.between(0.75, 1.0) * h];
    let (wide, tall) = (dice.between(0.15, 0.4) * w, dice.between(0.4, 0.9) * h);
    let tongues = Texture::new([wide * 0.35, tall * 0.5], 5, dice);
    let sway = Texture::new([wide * 0.8, tall * 0.3], 3, dice);
    let light = dice.log_between(0.8, 4.0);
    for i in 0..frame.planes[0].len() {
        let (x, y) = ((i % frame.width) as f64, (i / frame.width) as f64);
        let up = (foot[1] - y) / tall;
        let shift = f64::from(sway.at(x as f32, y as f32)) * wide * 0.5 * up;
        let aside = (x + shift - foot[0]) / (wide * (1.15 - 0.8 * up).max(0.15));
        let ragged = f64::from(tongues.at((x + shift) as f32, y as f32));
        let heat = 1.0 - aside * aside - (up - 0.25).max(0.0) * 1.2 + 0.9 * ragged;
        if up > -0.1 && heat > 0.0 {
            let heat = heat * ((up + 0.1) * 8.0).min(1.0);
            let rgb = [heat * 1.2, heat.powi(2) * 0.55, heat.powi(3) * 0.14];
            for (plane, c) in frame.planes.iter_mut().zip(rgb) {
                plane[i] += (c * light) as f32;
            }
        }
    }
    let bark = Texture::new([w / 30.0, w / 60.0], 3, dice);
    for _ in 0..dice.whole(2, 6) {
        let a = [foot[0] + dice.normal() * wide * 0.5, foot[1] + dice.normal() * 0.02 * h];
        let b = [foot[0] + dice.normal() * wide * 0.4, foot[1] - dice.between(0.0, 0.25) * tall];
        let v = dice.log_between(0.003, 0.05) as f32;
        let paint = Paint { rgb: [v * 2.0, v, v * 0.6], rough: 0.6, soft: 3.0 };
        frame.paint(&Shape::Capsule { a, b, r: wide * dice.between(0.05, 0.12) }, &paint, &bark);
    }
    for _ in 0..dice.whole(0, 40) {
        let at = [foot[0] + dice.normal() * wide, foot[1] - dice.between(0.3, 1.4) * tall];
        let path = curve(
            at,
            -PI / 2.0 + dice.normal() * 0.7,
            w * dice.log_between(0.002, 0.03),
            dice.normal() * 2.0,
        );
        let v = dice.log_between(0.2, 1.5) as f32;
        frame.stroke(&path, dice.between(0.6, 1.6) * w / 1600.0 + 0.3, [v, v * 0.4, v * 0.1], 0.5);
    }
}

/// Sparks all round from one point, with branches; held or stuck in something.
pub(super) fn sparkler(frame: &mut Frame, dice: &mut Dice) {
    let at = somewhere(frame, 0.3, 0.7, dice);
    let size = dice.between(0.12, 0.4) * frame.width.min(frame.height) as f64;
    let line = size / 250.0 * dice.between(0.6, 1.6) + 0.5;
    let warm = dice.between(0.45, 0.95);
    let hot = |v: f64| [v, v * warm, v * warm * warm * 0.8].map(|c| c as f32);
    let stick = curve(at, dice.between(0.3, PI - 0.3), size * 3.0, 0.1);
    frame.stroke(&stick, line * 1.5, [0.05; 3], 0.3);
    for _ in 0..dice.whole(40, 160) {
        let angle = dice.between(0.0, TAU);
        let from = size * dice.between(0.0, 0.4);
        let start = [at[0] + from * angle.cos(), at[1] + from * angle.sin()];
        let path =
            curve(start, angle + dice.normal() * 0.1, size * dice.log_between(0.1, 0.9), dice.normal() * 0.2);
        frame.stroke(&path, line, hot(dice.log_between(0.3, 4.0)), dice.unit());
        if dice.chance(0.3) {
            for _ in 0..dice.whole(3, 7) {
                let ray =
                    curve(path[path.len() - 1], dice.between(0.0, TAU), size * dice.between(0.03, 0.15), 0.0);
                frame.stroke(&ray, line * 0.7, hot(dice.log_between(0.2, 2.0)), 1.0);
            }
        }
    }
    frame.glow(at, size * dice.between(0.08, 0.3), hot(dice.log_between(1.0, 6.0)));
    frame.glow(at, size, hot(0.05));
}

/// Shells that open all round and sink.
pub(super) fn fireworks(frame: &mut Frame, dice: &mut Dice) {
    let short = frame.width.min(frame.height) as f64;
    for _ in 0..dice.whole(1, 4) {
        let at = somewhere(frame, 0.15, 0.85, dice);
        let size = short * dice.between(0.1, 0.4);
        let tint = [0, 1, 2].map(|_| dice.log_between(0.15, 1.0));
        let line = short / 900.0 * dice.between(0.7, 1.8) + 0.4;
        let inner = dice.between(0.0, 0.5);
        for _ in 0..dice.whole(30, 110) {
            let [x, y, _] = dice.sphere();
            let (angle, long) = (y.atan2(x), size * x.hypot(y) * dice.between(0.85, 1.0));
            let v = dice.log_between(0.4, 2.0);
            let start = [at[0] + inner * long * angle.cos(), at[1] + inner * long * angle.sin()];
            let sag = 0.35 * angle.cos() * dice.between(0.6, 1.2);
            let path = curve(start, angle, long * (1.0 - inner), sag);
            frame.stroke(&path, line, tint.map(|t| (v * t) as f32), dice.between(0.3, 1.0));
        }
    }
    let rising = curve(somewhere(frame, 0.3, 0.7, dice), PI / 2.0, short, 0.05);
    frame.stroke(&rising, 1.0, [0.15, 0.1, 0.05], 0.7);
}

/// A point brighter than anything, its flare and smoke, and some spatter that falls all round.
pub(super) fn welding_arc(frame: &mut Frame, dice: &mut Dice) {
    let short = frame.width.min(frame.height) as f64;
    let at = somewhere(frame, 0.25, 0.75, dice);
    let v = dice.log_between(4.0, 30.0) as f32;
    frame.glow(at, short * dice.between(0.01, 0.04), [v * 0.8, v * 0.95, v * 1.2]);
    frame.glow(at, short * dice.between(0.1, 0.3), [v * 0.03, v * 0.035, v * 0.05]);
    let angle = dice.between(0.0, PI);
    for side in [angle, angle + PI] {
        frame.stroke(&curve(at, side, short, 0.0), short / 200.0, [v * 0.03, v * 0.035, v * 0.05], 1.0);
    }
    let smoke = Texture::new([short / 4.0, short / 3.0], 5, dice);
    for i in 0..frame.planes[0].len() {
        let (x, y) = ((i % frame.width) as f64, (i / frame.width) as f64);
        let d = (x - at[0]).hypot(y - at[1]) / short;
        let puff = (smoke.at(x as f32, y as f32) + 0.2).max(0.0) * (0.25 * (-d * 3.0).exp()) as f32;
        for plane in &mut frame.planes {
            plane[i] += puff;
        }
    }
    for _ in 0..dice.whole(0, 14) {
        let angle = dice.between(0.0, TAU);
        let path = curve(at, angle, short * dice.log_between(0.04, 0.35), 0.8 * angle.cos());
        let v = dice.log_between(0.3, 2.0) as f32;
        frame.stroke(&path[dice.whole(0, 8)..], short / 700.0 + 0.4, [v, v * 0.5, v * 0.15], 0.8);
    }
}
