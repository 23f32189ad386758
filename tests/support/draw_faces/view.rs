//! One picture of a coupon: camera, light, surroundings, sensor.

use super::camera::{Camera, Pose};
use super::light::{Lamp, Light};
use super::section::Section;
use super::surroundings::{self, Surroundings};
use crate::support::drawing::dice::Dice;
use crate::support::drawing::sensor::Sensor;
use std::f64::consts::TAU;

/// All but the coupon.
#[derive(Clone, Debug)]
pub(crate) struct View {
    pub(crate) camera: Camera,
    pub(crate) pose: Pose,
    pub(crate) light: Light,
    /// Azimuth and elevation of the first lamp on the face, rad.
    pub(crate) lamp: [f64; 2],
    pub(crate) round: Surroundings,
    /// Blur of the face, px, and how it grows behind it, px per mm.
    pub(crate) blur: [f64; 2],
    /// Way of an unsteady hand, px.
    pub(crate) shake: [f64; 2],
    /// Mean light of the face in the picture, of full scale.
    pub(crate) exposure: f32,
    /// No coupon stands there.
    pub(crate) empty: bool,
    /// Share of light that is spread over the whole picture.
    pub(crate) veil: f32,
    /// Darkness of the corners, 0..1.
    pub(crate) vignette: f32,
    pub(crate) sensor: Sensor,
    pub(crate) quality: u8,
}

impl View {
    /// The same, from another place.
    pub(crate) fn posed(self, pose: Pose) -> Self {
        let camera = Camera::new(self.camera.width, self.camera.height, pose);
        // blur behind the face goes with the scale
        let blur = [self.blur[0], self.blur[1] * pose.px_per_mm / self.pose.px_per_mm];
        Self { camera, pose, blur, ..self }
    }

    /// The lamps turned about the face, and the camera moved as a hand moves it.
    pub(crate) fn turned(mut self, by: f64, dice: &mut Dice) -> Self {
        let (sin, cos) = (by.sin() as f32, by.cos() as f32);
        for lamp in &mut self.light.lamps {
            let [x, y, z] = lamp.to;
            lamp.to = [x * cos - y * sin, x * sin + y * cos, z];
            let [x, y] = lamp.fall;
            lamp.fall = [x * cos - y * sin, x * sin + y * cos];
        }
        self.lamp[0] += by;
        let small = 0.02 * self.camera.width as f64;
        let pose = Pose {
            roll: self.pose.roll + 0.04 * dice.normal(),
            tilt: ((self.pose.tilt.0 + 0.02 * dice.normal()).abs(), self.pose.tilt.1 + 0.1 * dice.normal()),
            px_per_mm: self.pose.px_per_mm * dice.between(0.96, 1.03),
            at: self.pose.at.map(|v| v + small * dice.normal().clamp(-1.5, 1.5)),
            ..self.pose
        };
        self.posed(pose)
    }

    /// Another picture on the same bench: the same surroundings and camera, another hand and light.
    pub(crate) fn again(self, section: &Section, hard: f64, dice: &mut Dice) -> Self {
        let megapixels = (self.camera.width * self.camera.height) as f64 / 1e6;
        let new = Self::draw(section, hard, Some(megapixels), dice);
        let round = Surroundings { ground: self.round.ground, wall: self.round.wall, ..new.round };
        Self { round, sensor: self.sensor, quality: self.quality, ..new }
    }

    /// Blur of what lies so far behind the face, px; a lens blurs no more than a share of the picture.
    pub(crate) fn behind(&self, mm: f64) -> f64 {
        let most = 0.05 * self.camera.width as f64;
        self.blur[0].hypot((self.blur[1] * mm).min(most))
    }

    /// All ranges are judgements over what hand-held pictures look like; `hard` is 0..1.
    pub(crate) fn draw(section: &Section, hard: f64, pixels: Option<f64>, dice: &mut Dice) -> Self {
        let usual = dice.triangle(0.5, 1.2, 2.6);
        let usual = if dice.chance(0.03) { dice.log_between(3.0, 12.0) } else { usual };
        let megapixels = pixels.unwrap_or(usual);
        let wide = dice.pick(&[4.0 / 3.0, 3.0 / 2.0, 1.0, 16.0 / 9.0]);
        let long = (megapixels * 1e6 * wide).sqrt();
        let (mut width, mut height) = (long as usize, (long / wide) as usize);
        let half = section.half();
        if half[1] > half[0] || half[0] < 1.2 * half[1] && dice.chance(0.3) {
            std::mem::swap(&mut width, &mut height);
        }
        let share = if dice.chance(0.3 * hard) { dice.between(0.2, 0.42) } else { dice.between(0.42, 0.86) };
        // any turn: what must fit is the circle round a square, or the sides of a picture held upright
        let roll = if dice.chance(0.6) { dice.normal() * 0.12 } else { dice.between(0.0, TAU) };
        let (sin, cos) = (roll.sin().abs(), roll.cos().abs());
        let need = [
            2.0 * (half[0] * cos + half[1] * sin) / width as f64,
            2.0 * (half[0] * sin + half[1] * cos) / height as f64,
        ];
        let need = if section.is_round() { [2.0 * half[0] / width.min(height) as f64; 2] } else { need };
        // so far away that a case of usual depth can still be read
        let least = 14.0 / (0.2 * section.thickness());
        let px_per_mm = (share / need[0].max(need[1])).clamp(least, 200.0);
        let spare = [
            width as f64 - px_per_mm * need[0] * width as f64,
            height as f64 - px_per_mm * need[1] * height as f64,
        ];
        let pose = Pose {
            roll,
            tilt: (dice.between(0.0, 3.0 + 17.0 * hard).to_radians(), dice.between(0.0, TAU)),
            distance: dice.log_between(70.0, 300.0),
            px_per_mm,
            at: [
                width as f64 * 0.5 + spare[0] * dice.between(-0.28, 0.28),
                height as f64 * 0.5 + spare[1] * dice.between(-0.28, 0.28),
            ],
        };
        let camera = Camera::new(width, height, pose);
        let (light, lamp) = lights(hard, half[0].max(half[1]), dice);
        let round = surroundings::draw(section, hard, dice);
        let face = dice.between(0.5, 0.9 + 0.7 * hard) * (megapixels / 1.2).sqrt().max(0.8);
        // an open lens: how far out of focus a point is for each mm behind the face
        let open = dice.log_between(0.04, 0.5) * px_per_mm / 10.0;
        let shake = if dice.chance(0.25 * hard) { dice.between(0.0, 2.5) } else { 0.0 };
        let turn = dice.between(0.0, TAU);
        Self {
            camera,
            pose,
            light,
            lamp,
            blur: [face, open],
            round,
            shake: [shake * turn.cos(), shake * turn.sin()],
            exposure: dice.between(0.16, 0.34) as f32,
            empty: false,
            veil: dice.between(0.0, 0.08) as f32,
            vignette: dice.between(0.0, 0.35) as f32,
            sensor: sensor(hard, dice),
            quality: dice.whole(if hard > 0.3 { 60 } else { 80 }, 95) as u8,
        }
    }
}

fn lights(hard: f64, reach: f64, dice: &mut Dice) -> (Light, [f64; 2]) {
    let azimuth = dice.between(0.0, TAU);
    let elevation = dice.between(18.0, 42.0).to_radians();
    let warm = dice.between(-0.10, 0.13) as f32;
    let colour = [1.0 + warm, 1.0, 1.0 - 1.1 * warm];
    let mut first = Lamp::at(azimuth, elevation, colour, dice.log_between(0.03, 0.3) as f32);
    let fall = dice.between(0.0, 0.12 + 0.3 * hard) / reach;
    first.fall = [fall * azimuth.cos(), fall * azimuth.sin()].map(|v| v as f32);
    let mut lamps = vec![first];
    if dice.chance(0.4) {
        let power = dice.between(0.1, 0.45) as f32;
        let (turn, up) = (azimuth + dice.between(1.0, 5.2), dice.between(0.4, 1.3));
        lamps.push(Lamp::at(turn, up, [power; 3], dice.log_between(0.1, 0.4) as f32));
    }
    let sky = dice.log_between(0.08, 0.35) as f32;
    let cool = dice.between(-0.05, 0.15) as f32;
    let panes = (0..3)
        .map(|_| {
            let at = [dice.normal() * 0.4, dice.normal() * 0.4].map(|v| v as f32);
            (at, dice.between(0.08, 0.3) as f32, dice.between(0.3, 2.5) as f32)
        })
        .collect();
    let light = Light { lamps, sky: [sky * (1.0 - cool), sky, sky * (1.0 + cool)], panes };
    (light, [azimuth, elevation])
}

/// A phone or a camera in room or day light.
fn sensor(hard: f64, dice: &mut Dice) -> Sensor {
    let phone = dice.chance(0.6);
    let warm = dice.normal() * (0.04 + 0.08 * hard);
    Sensor {
        read: dice.log_between(0.0006, 0.002 + 0.004 * hard) as f32,
        well: dice.log_between(15_000.0 - 13_000.0 * hard, 20_000.0) as f32,
        bloom: (0.0, 1.0),
        white_balance: [(1.0 + warm) as f32, 1.0, (1.0 - warm) as f32],
        saturation: dice.between(0.8, 1.25) as f32,
        chroma: if dice.chance(0.6) { dice.whole(1, 3) } else { 0 },
        contrast: if phone { dice.between(0.0, 0.7) as f32 } else { 0.0 },
        sharpen: if phone { (dice.between(0.1, 0.9) as f32, dice.between(0.9, 1.6)) } else { (0.0, 1.0) },
        grey: dice.chance(0.03),
    }
}
