//! The side walls of a coupon, seen a little beside its face.

use crate::support::draw_faces::camera::Camera;
use crate::support::draw_faces::layer::Layer;
use crate::support::draw_faces::light::Light;
use crate::support::draw_faces::noise::Noise;
use crate::support::draw_faces::outline::{Chip, Outline};
use crate::support::draw_faces::section::Mm;

/// How the skin of a bar looks.
#[derive(Clone, Debug)]
pub(crate) struct Wall {
    /// How far the bar goes on behind the face, mm; 0: nothing of it is seen.
    pub(crate) long: f64,
    pub(crate) seed: u32,
    /// Of the skin.
    pub(crate) tone: f32,
    pub(crate) gloss: f32,
    /// Stripes along the bar, 0..1; else scaly.
    pub(crate) drawn: f32,
    pub(crate) colour: [f32; 3],
}

impl Wall {
    /// Draws what is seen of it.
    pub(crate) fn draw(&self, layer: &mut Layer, camera: &Camera, light: &Light, outline: &Outline) {
        if self.long <= 0.0 {
            return;
        }
        let half = outline.section.half();
        let reach = half[0].hypot(half[1]);
        for y in 0..camera.height {
            for x in 0..camera.width {
                let p = camera.mm([x as f64 + 0.5, y as f64 + 0.5]);
                let drift = camera.drift(p);
                let most = reach + self.long * drift[0].hypot(drift[1]) + 1.0;
                if p[0].hypot(p[1]) > most {
                    continue;
                }
                if let Some((at, beyond)) = self.hit(p, drift, outline) {
                    let rgb = if outline.plain(at) < -0.02 {
                        self.broken(at, light, outline)
                    } else {
                        self.skin(at, beyond, light, outline)
                    };
                    layer.put(y * camera.width + x, rgb, 1.0);
                }
            }
        }
    }

    /// Where a ray through a point of the face's plane meets the bar, and how far behind.
    fn hit(&self, p: Mm, drift: Mm, outline: &Outline) -> Option<(Mm, f64)> {
        let flat = drift[0].hypot(drift[1]);
        let mut beyond = 0.0;
        for _ in 0..60 {
            let at = [p[0] + beyond * drift[0], p[1] + beyond * drift[1]];
            let d = outline.plain(at);
            let gone = outline.chips.iter().map(|c| c.gone(at, outline.noise)).fold(f64::MIN, f64::max);
            // a chip reaches as far back as it is deep
            let chipped = outline.chips.iter().map(|c| 0.9 * c.depth - beyond).fold(f64::MIN, f64::max);
            if d < 0.004 && (gone < 0.0 || chipped < 0.0) {
                return Some((at, beyond));
            }
            beyond += if d < 0.004 { 0.03 } else { (d / flat.max(1e-3)).max(0.02) };
            if beyond > self.long {
                return None;
            }
        }
        None
    }

    /// The floor of a chip: bare metal that slopes away from the face.
    fn broken(&self, at: Mm, light: &Light, outline: &Outline) -> [f32; 3] {
        let (x, y) = (at[0] as f32, at[1] as f32);
        let n = |k: u32| Noise(self.seed ^ k).octaves(x / 0.15, y / 0.15, 0.65, 0.05);
        let gone = |c: &Chip| c.gone(at, outline.noise);
        let chip = outline.chips.iter().max_by(|a, b| gone(a).total_cmp(&gone(b)));
        let away = chip.map_or([0.0; 2], |c| c.inward.map(|v| -0.8 * v as f32));
        let s = [away[0] + 0.6 * n(21), away[1] + 0.6 * n(22)];
        let long = (s[0] * s[0] + s[1] * s[1] + 1.0).sqrt();
        light.on([s[0] / long, s[1] / long, 1.0 / long], 0.28 * (1.0 + 0.3 * n(23)))
    }

    fn skin(&self, at: Mm, beyond: f64, light: &Light, outline: &Outline) -> [f32; 3] {
        let e = 0.01;
        let d = |x: f64, y: f64| outline.plain([at[0] + x, at[1] + y]);
        let (gx, gy) = (d(e, 0.0) - d(-e, 0.0), d(0.0, e) - d(0.0, -e));
        let long = gx.hypot(gy).max(1e-9);
        let (nx, ny) = ((gx / long) as f32, (gy / long) as f32);
        let along = (at[0] * f64::from(-ny) + at[1] * f64::from(nx)) as f32;
        let b = beyond as f32;
        let n = Noise(self.seed);
        let stripe = n.octaves(along / 0.12, b / 4.0, 0.7, 0.1);
        let scale = Noise(self.seed ^ 1).octaves(along / 0.8, b / 0.8, 0.65, 0.03);
        let mark = self.drawn * stripe + (1.0 - self.drawn) * 1.5 * scale;
        let bump = 0.25 * mark;
        let normal = [nx * (1.0 - 0.1 * bump), ny * (1.0 - 0.1 * bump), 0.12 * bump];
        let mut rgb = light.on(normal, self.tone * (1.0 + 0.5 * mark).max(0.2));
        // a long mirror: one stripe of light where it faces the lamp
        for lamp in &light.lamps {
            let half = [lamp.to[0], lamp.to[1], lamp.to[2] + 1.0];
            let size = (half[0] * half[0] + half[1] * half[1] + half[2] * half[2]).sqrt();
            let faces = ((half[0] * nx + half[1] * ny) / size + 0.1 * bump).max(0.0);
            for (o, c) in rgb.iter_mut().zip(lamp.colour) {
                *o += c * self.gloss * faces.powi(12) * (1.0 + mark).max(0.0);
            }
        }
        // just below the break the edge is bright
        let rim = (1.0 - b / 0.06).max(0.0) * 0.3;
        std::array::from_fn(|c| rgb[c] * self.colour[c] * (1.0 + rim))
    }
}
