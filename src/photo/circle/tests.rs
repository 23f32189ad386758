//! Circles drawn with known truth, and pictures without any. Tolerances: written before the first run.

use super::*;
use crate::photo::{Channels, Samples};

/// Numbers in 0 to 1, the same each time (a 64-bit linear congruential generator, Knuth's constants, from memory).
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// About normal: twelve rolls.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.roll()).sum::<f64>() - 6.0
    }
}

const WIDTH: usize = 640;
const HEIGHT: usize = 480;

/// A picture of what `value(x, y)` says, 0 to 255, with noise.
fn drawn(noise: f64, value: impl Fn(f64, f64) -> f64) -> Picture {
    let mut dice = Dice(7);
    let samples = (0..WIDTH * HEIGHT)
        .map(|i| {
            let (x, y) = ((i % WIDTH) as f64, (i / WIDTH) as f64);
            (value(x, y) + noise * dice.normal()).round().clamp(0.0, 255.0) as u8
        })
        .collect();
    Picture::new(WIDTH, HEIGHT, Channels::Grey, Samples::Eight(samples)).unwrap()
}

/// How much of the pixel at this signed distance outside a border lies inside it.
fn inside(distance: f64) -> f64 {
    (0.5 - distance).clamp(0.0, 1.0)
}

fn disc(x: f64, y: f64, centre: [f64; 2], radius: f64) -> f64 {
    inside((x - centre[0]).hypot(y - centre[1]) - radius)
}

/// Within 3 standard deviations as told, and 2 px.
fn assert_is(found: &Circle, centre: [f64; 2], radius: f64, what: &str) {
    let off = [found.centre[0] - centre[0], found.centre[1] - centre[1], found.radius - radius];
    let sds = [found.centre_sd[0], found.centre_sd[1], found.radius_sd];
    for (off, sd) in off.iter().zip(sds) {
        assert!(off.abs() < 3.0 * sd && off.abs() < 2.0, "{what}: off by {off} of {sd}: {found:?}");
    }
}

#[test]
fn finds_bright_and_dark_discs_in_noise() {
    for (centre, radius, ground, wheel) in [
        ([320.0, 240.0], 150.0, 40.0, 150.0),
        ([200.3, 260.7], 80.5, 160.0, 50.0),
        ([420.0, 200.0], 190.0, 20.0, 45.0),
        ([100.0, 100.0], 60.0, 200.0, 120.0),
    ] {
        let picture = drawn(6.0, |x, y| ground + (wheel - ground) * disc(x, y, centre, radius));
        let found = find(&picture, None).unwrap();
        assert_is(&found, centre, radius, &format!("{centre:?} {radius}"));
        assert!(found.arc_deg > 300.0 && found.residual < 1.0, "{found:?}");
    }
}

/// A guard hides the upper half, a hand and bars lie in front, the centre is out of view.
#[test]
fn finds_part_of_a_rim_behind_clutter() {
    let (centre, radius) = ([330.0, 520.0], 260.0);
    let picture = drawn(5.0, |x, y| {
        let mut value = 60.0 + 100.0 * disc(x, y, centre, radius) + 0.05 * x;
        if (x - y / 2.0).rem_euclid(160.0) < 22.0 {
            value = 20.0;
        }
        if disc(x, y, [520.0, 420.0], 60.0) > 0.5 {
            value = 200.0;
        }
        if y < 60.0 { 10.0 + (x / 9.0).sin() * 30.0 } else { value }
    });
    let hint = RimHint { at: [330.0, 262.0], within: 20.0 };
    assert_is(&find(&picture, Some(hint)).unwrap(), centre, radius, "behind clutter");
}

#[test]
fn takes_the_outermost_of_rings_around_one_centre() {
    let centre = [320.0, 240.0];
    let picture = drawn(4.0, |x, y| {
        50.0 + 90.0 * disc(x, y, centre, 180.0) - 60.0 * disc(x, y, centre, 90.0)
            + 80.0 * disc(x, y, centre, 40.0)
    });
    assert_is(&find(&picture, None).unwrap(), centre, 180.0, "rings");
}

/// Two wheels of a bench grinder: no answer, unless the place of contact tells which.
#[test]
fn two_wheels_need_a_hint() {
    let (left, right) = ([170.0, 240.0], [480.0, 240.0]);
    let picture = drawn(4.0, |x, y| 40.0 + 80.0 * (disc(x, y, left, 100.0) + disc(x, y, right, 110.0)));
    assert!(matches!(find(&picture, None), Err(CircleError::Ambiguous { .. })), "{:?}", find(&picture, None));
    let hint = RimHint { at: [480.0, 132.0], within: 15.0 };
    assert_is(&find(&picture, Some(hint)).unwrap(), right, 110.0, "right");
    let far = RimHint { at: [320.0, 20.0], within: 10.0 };
    assert!(find(&picture, Some(far)).is_err());
}

/// 120 degrees are enough, 50 are not.
#[test]
fn a_short_arc_is_no_wheel() {
    let (centre, radius) = ([320.0, 240.0], 170.0);
    let arc = |degrees: f64| {
        drawn(4.0, |x, y| {
            let turn = (y - centre[1]).atan2(x - centre[0]).to_degrees();
            // Outside the arc the disc fades into its ground without an edge.
            let seen = if turn.abs() < degrees / 2.0 { 1.0 } else { 0.0 };
            let near = ((x - centre[0]).hypot(y - centre[1]) / radius - 0.6).clamp(0.0, 0.4) / 0.4;
            50.0 + 90.0 * seen * near * disc(x, y, centre, radius)
        })
    };
    assert_is(&find(&arc(140.0), None).unwrap(), centre, radius, "140 degrees");
    assert!(find(&arc(50.0), None).is_err(), "{:?}", find(&arc(50.0), None));
}

#[test]
fn refuses_pictures_without_a_circle() {
    type Value = fn(f64, f64) -> f64;
    let pictures: [(&str, Value); 9] = [
        ("plain", |_, _| 80.0),
        ("black", |_, _| 0.0),
        ("ramp", |x, _| x / 3.0),
        ("stripes", |x, y| if (x + 0.3 * y).rem_euclid(40.0) < 20.0 { 30.0 } else { 180.0 }),
        ("checks", |x, y| if ((x / 60.0) as i32 + (y / 60.0) as i32) % 2 == 0 { 40.0 } else { 170.0 }),
        ("box", |x, y| if (x - 320.0).abs() < 150.0 && (y - 240.0).abs() < 110.0 { 160.0 } else { 50.0 }),
        ("ellipse", |x, y| 50.0 + 100.0 * inside(((x - 320.0) / 1.6).hypot(y - 240.0) - 140.0)),
        ("waves", |x, y| 90.0 + 60.0 * (x / 17.0).sin() * (y / 23.0 + (x / 60.0).cos()).sin()),
        ("streaks", |x, y| if ((y - 240.0).atan2(x + 1.0) * 40.0).sin() > 0.95 { 250.0 } else { 8.0 }),
    ];
    for (name, value) in pictures {
        for noise in [0.0, 4.0, 25.0] {
            let found = find(&drawn(noise, value), None);
            assert!(found.is_err(), "{name}, noise {noise}: {found:?}");
        }
    }
    // Leaves and gravel: blots of any size and place, none of them a wheel.
    let mut dice = Dice(3);
    let blots: Vec<[f64; 4]> = (0..400)
        .map(|_| [dice.roll() * 640.0, dice.roll() * 480.0, 3.0 + 15.0 * dice.roll(), 200.0 * dice.roll()])
        .collect();
    let gravel = drawn(6.0, |x, y| {
        blots.iter().rev().find(|b| disc(x, y, [b[0], b[1]], b[2]) > 0.5).map_or(60.0, |b| b[3])
    });
    assert!(find(&gravel, None).is_err(), "{:?}", find(&gravel, None));
}

#[test]
fn answers_in_px_of_the_full_picture() {
    let (width, height) = (2000, 1500);
    let samples = (0..width * height)
        .map(|i| {
            let (x, y) = ((i % width) as f64, (i / width) as f64);
            (30.0 + 120.0 * disc(x, y, [900.0, 700.0], 500.0)) as u8
        })
        .collect();
    let picture = Picture::new(width, height, Channels::Grey, Samples::Eight(samples)).unwrap();
    assert_is(&find(&picture, None).unwrap(), [900.0, 700.0], 500.0, "shrunk by three");
}

#[test]
fn the_smallest_pictures_have_none() {
    for (width, height) in [(1, 1), (3, 2), (5, 5), (1, 900)] {
        let samples = Samples::Eight((0..width * height).map(|i| (i * 91 % 256) as u8).collect());
        let picture = Picture::new(width, height, Channels::Grey, samples).unwrap();
        assert!(find(&picture, None).is_err());
        let odd = RimHint { at: [f64::NAN, 1e300], within: f64::INFINITY };
        assert!(find(&picture, Some(odd)).is_err());
    }
}
