//! A drawn picture of a face, and its truth.

use super::coupon::Coupon;
use super::kind::Kind;
use super::layer::{Layer, smear};
use super::recipe;
use super::relief::Relief;
use super::truth::Truth;
use super::view::View;
use crate::support::drawing::dice::Dice;
use crate::support::drawing::frame::Frame;
use crate::support::drawing::store::Format;
use serde_json::{Map, Value, json};

/// A file's bytes with the truth of what it shows.
pub(crate) struct Picture {
    pub(crate) bytes: Vec<u8>,
    pub(crate) truth: Truth,
}

/// Cells of the map for each pixel's side.
const FINER: f64 = 1.5;

/// The kind and the difficulty that a seed is drawn with where nobody asks for others.
pub(crate) fn lot(seed: u64) -> (Kind, usize) {
    let mut dice = Dice::new(seed, 10);
    (dice.pick(&Kind::ALL), dice.whole(0, 2))
}

/// Draws the usable picture of a seed; `difficulty` is 0 easy, 1 fair, 2 hard.
pub(crate) fn draw(seed: u64, kind: Kind, difficulty: usize) -> Picture {
    let hard = difficulty as f64 / 2.0;
    let section = recipe::section(difficulty == 2, &mut Dice::new(seed, 11));
    let view = View::draw(&section, hard, &mut Dice::new(seed, 12));
    let finest = 12.0 / view.pose.px_per_mm;
    let coupon = recipe::coupon(kind, section, finest, hard, &mut Dice::new(seed, 13));
    let truth = Truth {
        file: format!("{seed:04}.jpg"),
        seed,
        usable: true,
        kind: format!("{kind:?}"),
        difficulty,
        width: view.camera.width,
        height: view.camera.height,
        face: Some(coupon.survey(kind.class(), &view.camera)),
        conditions: view.conditions(),
    };
    Picture { bytes: view.take(&coupon, seed), truth }
}

impl View {
    /// The stored picture.
    pub(crate) fn take(&self, coupon: &Coupon, seed: u64) -> Vec<u8> {
        let mut light = self.look(coupon);
        self.sensor.develop(&mut light, &mut Dice::new(seed, 14));
        Format::Jpeg(self.quality).store(&light, self.sensor.grey, None)
    }

    /// What reaches the sensor.
    fn look(&self, coupon: &Coupon) -> Frame {
        let camera = &self.camera;
        let (w, h) = (camera.width, camera.height);
        let mut out = self.ground.draw(camera, &self.light, &coupon.outline.section, self.blur[2]);
        let mut walls = Layer::new(w, h);
        self.wall.draw(&mut walls, camera, &self.light, &coupon.outline);
        walls.blur(self.blur[1]);
        walls.over(&mut out);
        let mut face = Layer::new(w, h);
        let mean = self.face(&mut face, coupon);
        face.blur(self.blur[0]);
        face.over(&mut out);
        smear(&mut out, self.shake);
        let gain = self.exposure / mean.max(1e-6);
        let reach = (w as f32).hypot(h as f32) / 2.0;
        for k in 0..w * h {
            let (x, y) = ((k % w) as f32 - w as f32 / 2.0, (k / w) as f32 - h as f32 / 2.0);
            let far = (x * x + y * y) / (reach * reach);
            let dim = gain * (1.0 - self.vignette * far);
            for plane in &mut out.planes {
                plane[k] *= dim;
            }
        }
        out
    }

    /// Draws the face; its mean light.
    fn face(&self, layer: &mut Layer, coupon: &Coupon) -> f32 {
        let camera = &self.camera;
        let map = Relief::of(coupon, 1.0 / (FINER * self.pose.px_per_mm));
        let shown = self.light.shade(&map, camera.view(), coupon.ratio);
        let half = coupon.outline.section.half();
        let ends = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]
            .map(|s: [f64; 2]| camera.px([1.05 * s[0] * half[0], 1.05 * s[1] * half[1]]));
        let range = |k: usize, most: usize| {
            let low = ends.iter().map(|e| e[k]).fold(f64::MAX, f64::min).floor().max(0.0) as usize;
            let high = ends.iter().map(|e| e[k]).fold(f64::MIN, f64::max).ceil().max(0.0) as usize;
            low.min(most)..high.min(most)
        };
        let (mut sum, mut count) = (0.0_f64, 0.0_f64);
        for y in range(1, camera.height) {
            for x in range(0, camera.width) {
                let (mut rgb, mut cover) = ([0.0_f32; 3], 0.0_f32);
                for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
                    let p = camera.mm([x as f64 + dx, y as f64 + dy]);
                    let at = [0, 1].map(|c| (p[c] - map.low[c]) / map.cell + 0.5);
                    if at[0] < 1.0
                        || at[1] < 1.0
                        || at[0] > map.width as f64 - 2.0
                        || at[1] > map.height as f64 - 2.0
                    {
                        continue;
                    }
                    let there = map.cover[shown.index(at[0], at[1])];
                    if there > 0.0 {
                        let c = shown.between(at[0], at[1]);
                        for (o, c) in rgb.iter_mut().zip(c) {
                            *o += there * c;
                        }
                        cover += there;
                    }
                }
                if cover > 0.0 {
                    let rgb = rgb.map(|c| c / cover);
                    layer.put(y * camera.width + x, rgb, cover / 4.0);
                    sum += f64::from(rgb[1] * cover);
                    count += f64::from(cover);
                }
            }
        }
        (sum / count.max(1.0)) as f32
    }

    fn conditions(&self) -> Map<String, Value> {
        let round = |x: f64| (x * 1e3).round() / 1e3;
        let value = json!({
            "ground": format!("{:?}", self.ground.stuff),
            "light_azimuth_deg": round(self.lamp[0].to_degrees()),
            "light_elevation_deg": round(self.lamp[1].to_degrees()),
            "lamps": self.light.lamps.len(),
            "sky": round(f64::from(self.light.sky[1])),
            "tilt_deg": round(self.pose.tilt.0.to_degrees()),
            "roll_deg": round(self.pose.roll.to_degrees()),
            "distance_mm": round(self.pose.distance),
            "blur_px": self.blur.map(round),
            "shake_px": round(self.shake[0].hypot(self.shake[1])),
            "exposure": round(f64::from(self.exposure)),
            "read_noise": f64::from(self.sensor.read),
            "well": f64::from(self.sensor.well),
            "grey": self.sensor.grey,
            "jpeg_quality": self.quality,
        });
        let Value::Object(map) = value else { unreachable!("written as an object") };
        map
    }
}
