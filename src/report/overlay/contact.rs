//! Where the stream leaves the wheel, and where it goes.

use super::drawing::{Drawing, Point};
use super::labels::{Area, Labels};
use super::palette::PURPLE;
use super::pen::{Pen, arc, cut, distance, towards};
use super::view::View;
use crate::spark::Stream;

/// The contact as it is drawn.
pub(super) struct Contact {
    /// In the drawing: the contact, or the place at the frame where the stream comes in.
    at: Point,
    /// Where it is, if that is outside.
    outside: Option<Point>,
    /// Degrees, counter-clockwise from the right.
    direction: f64,
    opening: f64,
}

impl Contact {
    /// `None`: the contact is no number.
    pub(super) fn of(on: &Drawing, view: &View, stream: &Stream) -> Option<Self> {
        let is = Some(view.at(stream.contact)).filter(|p| p.iter().all(|v| v.is_finite()))?;
        let room = [on.width() as f64, on.height() as f64];
        let (direction, opening) = (stream.direction.best(), stream.opening.best());
        if (0..2).all(|k| (0.0..=room[k]).contains(&is[k])) {
            return Some(Self { at: is, outside: None, direction, opening });
        }
        // where the stream comes in, or else the nearest place
        let inset = room.map(|v| (view.text * 1.2).min(v / 2.0));
        let frame = [inset[0], inset[1], room[0] - inset[0], room[1] - inset[1]];
        let far = distance(is, [0.0, 0.0]) + room[0] + room[1];
        let enters = cut([is, towards(is, direction, far)], frame).map(|part| part[0]);
        let at = enters.unwrap_or([0, 1].map(|k| is[k].clamp(frame[k], frame[k + 2])));
        Some(Self { at, outside: Some(is), direction, opening })
    }

    /// Draws it, with the stream's direction and opening, and says what it is.
    pub(super) fn draw(&self, on: &mut Drawing, view: &View, labels: &mut Labels) {
        fan(on, view, self.at, self.direction, self.opening);
        match self.outside {
            Some(outside) => pointer(on, view, self.at, outside),
            None => cross(on, view, self.at),
        }
        labels.write(on, view.text, self.area(view), PURPLE, "wheel");
    }

    /// What the arrow along the stream fills.
    pub(super) fn arrow_area(&self, view: &View) -> Area {
        let tip = towards(self.at, self.direction, view.text * ARM * BEYOND);
        let [low, high] = [f64::min, f64::max].map(|f| [0, 1].map(|k| f(self.at[k], tip[k])));
        [low[0], low[1], high[0], high[1]]
    }

    /// What the mark fills.
    pub(super) fn area(&self, view: &View) -> Area {
        let radius = view.text * 0.8;
        [self.at[0] - radius, self.at[1] - radius, self.at[0] + radius, self.at[1] + radius]
    }
}

/// Draws a cross in a circle.
pub(super) fn cross(on: &mut Drawing, view: &View, at: Point) {
    let pen = Pen::new(PURPLE, view.line());
    let radius = view.text * 0.6;
    let bar = |degrees: f64| vec![towards(at, degrees, radius), towards(at, degrees + 180.0, radius)];
    pen.circle(on, at, radius);
    pen.draw(on, &[bar(0.0), bar(90.0)]);
}

/// Draws an arrow that ends at `at` and points to what is outside.
pub(super) fn pointer(on: &mut Drawing, view: &View, at: Point, outside: Point) {
    let angle = libm::atan2(at[1] - outside[1], outside[0] - at[0]).to_degrees();
    let (back, tip) = (towards(at, angle, -view.text * 0.6), towards(at, angle, view.text * 0.8));
    Pen::new(PURPLE, view.line() * 1.5).arrow(on, back, tip, view.text * 0.8);
}

/// Radius of the arc, letters' heights.
const ARM: f64 = 4.0;
/// Length of the arrow, radii of the arc.
const BEYOND: f64 = 1.3;

/// Draws an arrow along the stream and an arc across it as wide as the stream opens.
pub(super) fn fan(on: &mut Drawing, view: &View, at: Point, direction: f64, opening: f64) {
    let pen = Pen::new(PURPLE, view.line());
    let (start, arm) = (view.text, view.text * ARM);
    pen.arrow(on, towards(at, direction, start), towards(at, direction, arm * BEYOND), view.text * 0.6);
    let half = opening.clamp(0.0, 360.0) / 2.0;
    let side =
        |s: f64| vec![towards(at, direction + s * half, arm * 0.8), towards(at, direction + s * half, arm)];
    pen.draw(on, &[arc(at, arm, direction - half, direction + half), side(1.0), side(-1.0)]);
}
