//! Hands and tools that hide a part of the stream.

use super::{P, Paint, Shape, Texture};
use crate::support::draw_sparks::dice::Dice;
use crate::support::draw_sparks::frame::Frame;

/// Paints things in front near `at`, and lowers `open` where they hide what lies behind.
pub(crate) fn stand_in_front(
    frame: &mut Frame,
    open: &mut [f32],
    (at, size): (P, f64),
    level: f64,
    dice: &mut Dice,
) {
    let texture = Texture::new([size / 6.0, size / 6.0], 4, dice);
    let soft = dice.log_between(1.5, 9.0);
    let angle = dice.between(0.0, std::f64::consts::TAU);
    let place = |along: f64, aside: f64| {
        let (sin, cos) = angle.sin_cos();
        [at[0] + size * (along * cos - aside * sin), at[1] + size * (along * sin + aside * cos)]
    };
    let mut shapes = Vec::new();
    let rgb: [f32; 3];
    if dice.chance(0.55) {
        let glove = dice.chance(0.5);
        let v = (level * dice.log_between(0.3, 2.0)) as f32;
        rgb = if glove { [v, v * 0.8, v * 0.55] } else { [v, v * 0.68, v * 0.55] };
        shapes.push(Shape::Capsule { a: place(0.0, 0.0), b: place(0.35, 0.05), r: 0.24 * size });
        for finger in 0..4 {
            let aside = -0.18 + 0.12 * f64::from(finger) + 0.02 * dice.normal();
            let tip = place(-dice.between(0.35, 0.6), aside * 1.2);
            shapes.push(Shape::Capsule { a: place(0.0, aside), b: tip, r: 0.062 * size });
        }
        shapes.push(Shape::Capsule { a: place(0.1, 0.2), b: place(-0.25, 0.4), r: 0.07 * size });
        shapes.push(Shape::Capsule { a: place(0.4, 0.05), b: place(3.0, 0.3), r: 0.2 * size });
    } else {
        let v = (level * dice.log_between(0.2, 2.5)) as f32;
        rgb = [v, v * 0.98, v * 0.95];
        shapes.push(Shape::Capsule { a: place(-0.6, 0.0), b: place(3.0, 0.0), r: 0.07 * size });
        if dice.chance(0.6) {
            shapes.push(Shape::Capsule { a: place(-0.6, 0.0), b: place(3.0, 0.55), r: 0.06 * size });
            shapes.push(Shape::Disc { at: place(-0.5, 0.02), r: 0.12 * size });
        }
    }
    let bounds = (frame.width, frame.height);
    for shape in &shapes {
        frame.paint(shape, &Paint { rgb, rough: 0.35, soft }, &texture);
        shape.cover(bounds, soft, |i, cover| open[i] *= 1.0 - cover);
    }
}
