//! The grinder: wheel or belt, guard, rest, workpiece, and their glow at the contact.

use super::{P, Paint, Shape, Texture};
use crate::support::draw_sparks::dice::Dice;
use crate::support::draw_sparks::frame::Frame;
use crate::support::draw_sparks::rig::Machine;
use std::f64::consts::{PI, TAU};

/// Where the machine stands in a picture.
pub(crate) struct MachineView {
    pub(crate) machine: Machine,
    pub(crate) contact: P,
    /// Unit vector of the stream in the picture (y down), and the side of the wheel, +1 or -1.
    pub(crate) along: P,
    pub(crate) hand: f64,
    /// Wheel radius, px.
    pub(crate) radius: f64,
    /// Light of lit things there.
    pub(crate) level: f64,
    /// Light of the hot contact; 0 none seen.
    pub(crate) glow: f64,
    /// Softness of edges, px.
    pub(crate) soft: f64,
}

impl MachineView {
    /// Point at `along` px down the stream and `aside` px to the side away from the wheel.
    fn at(&self, along: f64, aside: f64) -> P {
        let [x, y] = self.along;
        [
            self.contact[0] + along * x - aside * self.hand * y,
            self.contact[1] + along * y + aside * self.hand * x,
        ]
    }

    pub(crate) fn draw(&self, frame: &mut Frame, dice: &mut Dice) {
        let texture = Texture::new([self.radius / 20.0, self.radius / 20.0], 3, dice);
        let turn = self.along[1].atan2(self.along[0]);
        let mut grey = |low: f64, high: f64| {
            let v = (self.level * dice.log_between(low, high)) as f32;
            [v * 1.05, v, v * 0.92]
        };
        let (dark, steel, light, wheel) = (grey(0.1, 0.5), grey(0.4, 1.6), grey(0.8, 2.0), grey(0.3, 1.4));
        let paint = |rgb: [f32; 3], rough: f32| Paint { rgb, rough, soft: self.soft };
        let r = self.radius;
        let hub = self.at(0.0, -r);
        if self.machine == Machine::Belt {
            // belt, platen behind it, second roller
            let far = self.at(-dice.between(2.5, 6.0) * r, -r);
            frame.paint(&Shape::Capsule { a: hub, b: far, r }, &paint(wheel, 0.25), &texture);
            frame.paint(&Shape::Capsule { a: hub, b: far, r: r * 0.8 }, &paint(dark, 0.2), &texture);
            for at in [hub, far] {
                frame.paint(&Shape::Disc { at, r: r * 0.72 }, &paint(steel, 0.15), &texture);
            }
        } else {
            frame.paint(&Shape::Disc { at: hub, r }, &paint(wheel, 0.3), &texture);
            frame.paint(&Shape::Disc { at: hub, r: r * 0.35 }, &paint(light, 0.1), &texture);
            frame.paint(&Shape::Disc { at: hub, r: r * 0.08 }, &paint(dark, 0.1), &texture);
            let from = turn + self.hand * PI * 0.5 + dice.between(0.5, 1.2);
            let sweep = if dice.chance(0.75) { dice.between(2.5, 4.6).min(TAU) } else { 0.0 };
            if sweep > 0.0 {
                let guard =
                    Shape::Arc { at: hub, r: r * 1.06, from, sweep, half: r * dice.between(0.06, 0.13) };
                frame.paint(&guard, &paint(dark, 0.2), &texture);
            }
            if self.machine == Machine::Angle {
                let b = self.at(-r * dice.between(3.0, 5.0), -r * dice.between(0.6, 1.6));
                frame.paint(&Shape::Capsule { a: hub, b, r: r * 0.45 }, &paint(dark, 0.3), &texture);
            }
        }
        self.work(frame, (steel, light), turn, &texture, dice);
    }

    /// Rest, workpiece and glow.
    fn work(
        &self,
        frame: &mut Frame,
        (steel, light): ([f32; 3], [f32; 3]),
        turn: f64,
        texture: &Texture,
        dice: &mut Dice,
    ) {
        let r = self.radius;
        let paint = |rgb: [f32; 3]| Paint { rgb, rough: 0.2, soft: self.soft };
        if self.machine != Machine::Angle {
            let at = self.at(-r * 0.35, r * 0.55);
            let half = [r * dice.between(0.1, 0.2), r * 0.5];
            frame.paint(&Shape::Block { at, half, turn, round: 3.0 }, &paint(steel), texture);
        }
        let (long, thick) = (r * dice.between(0.8, 3.0), r * dice.between(0.04, 0.12));
        let a = self.at(-thick * 0.6, thick * 0.5);
        let lean = dice.between(0.6, 1.3);
        let b = self.at(-long * (1.0 - lean).abs(), long * lean);
        frame.paint(&Shape::Capsule { a, b, r: thick }, &paint(light), texture);
        if self.glow > 0.0 {
            let hot = [1.0, 0.45, 0.12].map(|c| (c * self.glow) as f32);
            let wide = r * dice.log_between(0.02, 0.09);
            frame.glow(self.contact, wide, hot);
            frame.glow(self.at(1.5 * wide, 0.0), wide * 2.5, hot.map(|c| c * 0.06));
            // rim that stays hot for a part of a turn
            let hub = self.at(0.0, -r);
            let from = (self.contact[1] - hub[1]).atan2(self.contact[0] - hub[0]);
            let sweep = dice.between(0.05, 0.5);
            let from = if self.hand > 0.0 { from - sweep } else { from };
            let rim = Shape::Arc { at: hub, r, from, sweep, half: r * 0.012 };
            frame.paint(
                &rim,
                &Paint { rgb: hot.map(|c| c * 0.5), rough: 0.5, soft: 2.0 * self.soft },
                texture,
            );
        }
    }
}
