//! From coupons before a camera to the light on its sensor.

use super::camera::Camera;
use super::coupon::Coupon;
use super::layer::{Layer, smear};
use super::relief::Relief;
use super::scene::Ruler;
use super::view::View;
use crate::support::drawing::dice::Dice;
use crate::support::drawing::frame::Frame;
use crate::support::drawing::store::Format;

/// Cells of the map for each pixel's side.
const FINER: f64 = 1.4;

impl View {
    /// The stored picture; `others` stand beside the coupon, each seen by a camera of its own.
    pub(crate) fn take(&self, coupon: &Coupon, others: &[(Coupon, Camera)], seed: u64) -> Vec<u8> {
        let mut light = self.look(coupon, others);
        self.sensor.develop(&mut light, &mut Dice::new(seed, 14));
        Format::Jpeg(self.quality).store(&light, self.sensor.grey, None)
    }

    /// What reaches the sensor.
    fn look(&self, coupon: &Coupon, others: &[(Coupon, Camera)]) -> Frame {
        let camera = &self.camera;
        let (w, h) = (camera.width, camera.height);
        let section = &coupon.outline.section;
        let round = &self.round;
        let mut out =
            round.ground.draw(camera, &self.light, section, self.behind(round.ground.beyond), self.empty);
        if let Some(holder) = &round.holder {
            let mut layer = Layer::new(w, h);
            holder.draw(&mut layer, camera, &self.light, section);
            layer.blur(self.behind(holder.beyond));
            layer.over(&mut out);
        }
        let mut walls = Layer::new(w, h);
        let mut faces = Layer::new(w, h);
        if let Some(ruler) = &round.ruler {
            self.lay(&mut faces, ruler);
        }
        for (coupon, camera) in others {
            round.wall.draw(&mut walls, camera, &self.light, &coupon.outline);
            self.face(&mut faces, camera, coupon);
        }
        let mean = if self.empty {
            None
        } else {
            round.wall.draw(&mut walls, camera, &self.light, &coupon.outline);
            self.face(&mut faces, camera, coupon)
        };
        walls.blur(self.behind(0.6));
        walls.over(&mut out);
        faces.blur(self.blur[0]);
        faces.over(&mut out);
        smear(&mut out, self.shake);
        // where no face is seen, the camera meters a grey card
        let mean = mean.unwrap_or_else(|| 0.3 * self.light.on([0.0, 0.0, 1.0], 1.0)[1]);
        self.expose(&mut out, self.exposure / mean.max(1e-6));
        out
    }

    /// Exposure, veil and dark corners.
    fn expose(&self, out: &mut Frame, gain: f32) {
        let (w, h) = (out.width as f32, out.height as f32);
        let reach = w.hypot(h) / 2.0;
        for k in 0..out.planes[0].len() {
            let (x, y) = ((k % out.width) as f32 - w / 2.0, (k / out.width) as f32 - h / 2.0);
            let far = (x * x + y * y) / (reach * reach);
            for plane in &mut out.planes {
                let light = gain * plane[k];
                let veiled = light + self.veil * (self.exposure - light);
                plane[k] = veiled * (1.0 - self.vignette * far);
            }
        }
    }

    /// Draws a ruler.
    fn lay(&self, layer: &mut Layer, ruler: &Ruler) {
        let flat = self.light.on([0.0, 0.0, 1.0], 1.0);
        for y in 0..self.camera.height {
            for x in 0..self.camera.width {
                let p = self.camera.mm([x as f64 + 0.5, y as f64 + 0.5]);
                if let Some((tone, cover)) = ruler.at(p, 1.0 / self.pose.px_per_mm) {
                    let rgb = std::array::from_fn(|c| tone[c] * flat[c]);
                    layer.put(y * self.camera.width + x, rgb, cover);
                }
            }
        }
    }

    /// Draws the face of a coupon; the mean light of what is seen of it.
    fn face(&self, layer: &mut Layer, camera: &Camera, coupon: &Coupon) -> Option<f32> {
        let half = coupon.outline.section.half();
        let ends = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]
            .map(|s: [f64; 2]| camera.px([1.05 * s[0] * half[0], 1.05 * s[1] * half[1]]));
        let range = |k: usize, most: usize| {
            let low = ends.iter().map(|e| e[k]).fold(f64::MAX, f64::min).floor().max(0.0) as usize;
            let high = ends.iter().map(|e| e[k]).fold(f64::MIN, f64::max).ceil().max(0.0) as usize;
            low.min(most)..high.min(most)
        };
        let (columns, rows) = (range(0, camera.width), range(1, camera.height));
        if columns.is_empty() || rows.is_empty() {
            return None;
        }
        let map = Relief::of(coupon, 1.0 / (FINER * self.pose.px_per_mm));
        let shown = self.light.shade(&map, camera.view(), coupon.ratio);
        let (mut sum, mut count) = (0.0_f64, 0.0_f64);
        for y in rows {
            for x in columns.clone() {
                let (mut rgb, mut cover) = ([0.0_f32; 3], 0.0_f32);
                for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
                    let p = camera.mm([x as f64 + dx, y as f64 + dy]);
                    let Some((c, there)) = map.look_up(&shown, p) else { continue };
                    for (o, c) in rgb.iter_mut().zip(c) {
                        *o += there * c;
                    }
                    cover += there;
                }
                if cover > 0.0 {
                    let rgb = rgb.map(|c| c / cover);
                    layer.put(y * camera.width + x, rgb, cover / 4.0);
                    sum += f64::from(rgb[1] * cover);
                    count += f64::from(cover);
                }
            }
        }
        (count > 0.0).then(|| (sum / count) as f32)
    }
}

impl Relief {
    /// Light and cover at a point, mm; none off the face.
    fn look_up(&self, shown: &Frame, p: [f64; 2]) -> Option<([f32; 3], f32)> {
        let at = [0, 1].map(|c| (p[c] - self.low[c]) / self.cell + 0.5);
        let inside = |v: f64, most: usize| v >= 1.0 && v <= most as f64 - 2.0;
        if !inside(at[0], self.width) || !inside(at[1], self.height) {
            return None;
        }
        let cover = self.cover[shown.index(at[0], at[1])];
        (cover > 0.0).then(|| (shown.between(at[0], at[1]), cover))
    }
}
