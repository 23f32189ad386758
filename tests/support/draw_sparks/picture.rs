//! A drawn picture and its truth.

use super::dice::Dice;
use super::frame::Frame;
use super::judge::{Judge, rounded};
use super::physics::{Event, Role, Spark, length};
use super::scene::{MachineView, backdrop, stand_in_front};
use super::streaks::{Recorder, Streak};
use super::stream::{Stream, Thrown};
use super::truth::Truth;
use super::view::View;
use serde_json::{Map, Value, json};
use std::f64::consts::TAU;

/// A file's bytes with the truth of what it shows.
pub(crate) struct Picture {
    pub(crate) bytes: Vec<u8>,
    pub(crate) truth: Truth,
}

/// Draws the usable picture of a seed; `pixels`: a wanted width and height.
pub(crate) fn draw(seed: u64, pixels: Option<(usize, usize)>) -> Picture {
    let mut dice = Dice::new(seed, 1);
    let view = View::draw(seed, pixels, &mut dice);
    view.picture(seed, seed)
}

impl View {
    /// The picture of this view; everything that happens in it is drawn from the seed, what stands round it from
    /// `place`.
    pub(crate) fn picture(&self, place: u64, seed: u64) -> Picture {
        let mut dice = Dice::new(place, 2);
        let (scene, open) = self.scene(&mut dice);
        let thrown = self.stream().throw(&self.camera, &mut Dice::new(seed, 3));
        let gain = self.gain();
        let mut recorder = Recorder::new(&self.camera, self.shutter, gain, &open);
        let Thrown { sparks, events, angles } = thrown;
        let lights: Vec<(Spark, Option<Streak>)> = sparks
            .into_iter()
            .map(|spark| {
                let streak = recorder.record(&spark);
                (spark, streak)
            })
            .collect();
        let sum = recorder.sum;
        let glare = self.sensor.bloom(&sum);
        let mut behind = scene;
        let spread = self.sensor.bloom(&behind);
        behind.add(&spread, 1.0);
        behind.add(&glare, 1.0);
        let judge = Judge { sensor: &self.sensor, behind: &behind, sparks: &sum, bloom: &glare, open: &open };
        let seen = |event: Event| {
            let at = self.camera.see(event.at, event.t).map(|s| [s.x, s.y]);
            (event, at)
        };
        let events: Vec<(Event, Option<[f64; 2]>)> = events.into_iter().map(seen).collect();
        let (carriers, bursts) = judge.truth(&lights, &events, self.shutter);
        behind.add(&sum, 1.0);
        self.sensor.develop(&mut behind, &mut Dice::new(seed, 4));
        let (direction, opening) = spread_of(angles);
        let carried = lights.iter().filter(|l| l.0.role == Role::Carrier && l.1.is_some()).count();
        let truth = Truth {
            file: format!("d{seed:04}.{}", self.format.extension()),
            seed,
            kind: "usable".to_owned(),
            carbon_wt_pct: Some(self.steel.carbon_wt_pct),
            rig: self.rig.name.clone(),
            conditions: self.conditions(carried),
            width: self.camera.width,
            height: self.camera.height,
            px_per_mm: Some(rounded(self.camera.px_per_m() / 1000.0, 1e4)),
            shutter_s: Some(rounded(self.shutter, 1e6)),
            line_width_px: Some(rounded(self.line_width(), 1e3)),
            contact: self.camera.see([0.0; 3], 0.0).map(|s| [s.x, s.y].map(|x| rounded(x, 100.0))),
            direction_deg: Some(rounded(direction, 100.0)),
            opening_deg: Some(rounded(opening, 100.0)),
            carriers,
            bursts,
        };
        Picture { bytes: self.format.store(&behind, self.sensor.grey, self.exif.as_ref()), truth }
    }

    /// Everything that is not spark, and where nothing hides the sparks.
    fn scene(&self, dice: &mut Dice) -> (Frame, Vec<f32>) {
        let (w, h) = (self.camera.width, self.camera.height);
        let mut frame = backdrop(self.backdrop, (w, h), self.level, self.soft, dice);
        let contact = self.camera.see([0.0; 3], 0.0).map_or(self.camera.contact, |s| [s.x, s.y]);
        // the picture's y runs down
        let turned = self.direction + self.camera.roll;
        let machine = MachineView {
            machine: self.rig.machine,
            contact,
            along: [turned.cos(), -turned.sin()],
            hand: -self.hand,
            radius: self.rig.wheel_radius * self.camera.px_per_m(),
            level: self.level.max(0.0008) * dice.log_between(0.5, 3.0),
            glow: self.glow,
            soft: 2.0 * self.camera.sharp + dice.between(0.0, 3.0),
        };
        // the stream lights what is round it
        let lit = (self.exposure * dice.log_between(0.0003, 0.006)) as f32;
        let far = 0.25 * w.min(h) as f64;
        let middle = [contact[0] + far * machine.along[0], contact[1] + far * machine.along[1]];
        frame.glow(middle, far, [lit, lit * 0.55, lit * 0.2]);
        machine.draw(&mut frame, dice);
        let mut open = vec![1.0; w * h];
        for _ in 0..self.in_front {
            let at = [dice.between(0.05, 0.95) * w as f64, dice.between(0.05, 0.95) * h as f64];
            let size = dice.between(0.12, 0.32) * w.min(h) as f64;
            stand_in_front(&mut frame, &mut open, (at, size), self.level.max(0.001), dice);
        }
        (frame, open)
    }

    fn stream(&self) -> Stream<'_> {
        Stream {
            rig: &self.rig,
            steel: &self.steel,
            direction: self.direction,
            towards: self.towards,
            hand: self.hand,
            shutter: self.shutter,
            carriers: self.carriers,
            fines: self.fines,
            pressure: self.pressure,
        }
    }

    /// Recorded light per particle light and second: a median drop at 2000 K and 0.6 of the wheel's speed
    /// has `exposure` on its centre line.
    fn gain(&self) -> f64 {
        let power = (self.rig.drop[0] / 1e-4).powi(2);
        let px_per_s = 0.6 * self.rig.speed * self.camera.px_per_m();
        let sigma = self.line_width() / 2.355;
        self.exposure * px_per_s * sigma * TAU.sqrt() / power
    }

    /// Full width at half maximum of a line at the contact's distance, px.
    fn line_width(&self) -> f64 {
        let sigma = self.camera.see([0.0; 3], 0.0).map_or(self.camera.sharp, |s| s.sigma);
        2.355 * (sigma * sigma + 1.0 / 12.0).sqrt()
    }

    fn conditions(&self, carriers: usize) -> Map<String, Value> {
        let round = |x: f64| rounded(x, 1e4);
        let value = json!({
            "machine": format!("{:?}", self.rig.machine),
            "backdrop": format!("{:?}", self.backdrop),
            "backdrop_light": round(self.level),
            "backdrop_blur_px": round(self.soft),
            "exposure": round(self.exposure),
            "glow": round(self.glow),
            "noise": round(f64::from(self.sensor.noise([self.level as f32; 3]))),
            "bloom": round(f64::from(self.sensor.bloom.0)),
            "in_front": self.in_front,
            "format": format!("{:?}", self.format),
            "grey": self.sensor.grey,
            "orientation": self.exif.as_ref().filter(|_| self.format.takes_exif()).map(|e| e.orientation),
            "wheel_speed_m_s": round(self.rig.speed),
            "distance_m": round(self.camera.distance),
            "burst_fraction": round(self.steel.burst_fraction),
            "rays": round(self.steel.rays),
            "onset": round(self.steel.onset),
            "carriers_recorded": carriers,
            "shake_px": round(length([self.camera.shake[0][0], self.camera.shake[1][0], 0.0])),
        });
        let Value::Object(map) = value else { unreachable!("written as an object") };
        map
    }
}

/// Median direction, degrees, and 10 to 90 % of the angles about it.
fn spread_of(mut angles: Vec<f64>) -> (f64, f64) {
    let Some(first) = angles.first().copied() else { return (0.0, 0.0) };
    for a in &mut angles {
        *a = (*a - first + 540.0).rem_euclid(360.0) - 180.0;
    }
    angles.sort_by(f64::total_cmp);
    let at = |share: f64| angles[((angles.len() - 1) as f64 * share).round() as usize];
    let direction = (at(0.5) + first + 540.0).rem_euclid(360.0) - 180.0;
    (direction, at(0.9) - at(0.1))
}
