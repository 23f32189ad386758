//! What a coupon stands on or before, with its shadow.

use crate::support::draw_faces::camera::Camera;
use crate::support::draw_faces::light::Light;
use crate::support::draw_faces::noise::{Cells, Noise, again, unit};
use crate::support::draw_faces::section::Section;
use crate::support::draw_faces::stain::rise;
use crate::support::drawing::frame::Frame;

/// A material. Colours are judgements.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stuff {
    GreyCard,
    Paper,
    Wood,
    Cloth,
    Steel,
    Dark,
    Concrete,
    Brick,
    /// Only where there is no face.
    Gravel,
}

impl Stuff {
    pub(crate) const ALL: [Self; 8] = [
        Self::GreyCard,
        Self::Paper,
        Self::Wood,
        Self::Cloth,
        Self::Steel,
        Self::Dark,
        Self::Concrete,
        Self::Brick,
    ];
}

/// A plane behind the face.
#[derive(Clone, Debug)]
pub(crate) struct Ground {
    pub(crate) stuff: Stuff,
    /// Behind the face, mm: how long the coupon is, if it stands on it.
    pub(crate) beyond: f64,
    /// A coupon that stands on it throws a shadow.
    pub(crate) shadow: bool,
    pub(crate) seed: u32,
    /// Brightness over the usual of that stuff.
    pub(crate) level: f32,
    /// Direction of its grain, rad.
    pub(crate) turn: f32,
}

impl Ground {
    /// The plane seen by a camera, in linear light; drawn at a fraction of the size where it will be blurred by
    /// `blur` px anyway.
    pub(crate) fn draw(
        &self,
        camera: &Camera,
        light: &Light,
        section: &Section,
        blur: f64,
        empty: bool,
    ) -> Frame {
        let small = if blur > 9.0 {
            4
        } else if blur > 3.5 {
            2
        } else {
            1
        };
        let (w, h) = (camera.width.div_ceil(small), camera.height.div_ceil(small));
        let mut out = Frame::new(w, h, [0.0; 3]);
        let flat = light.on([0.0, 0.0, 1.0], 1.0);
        let shaded = light.sky;
        for y in 0..h {
            for x in 0..w {
                let px = [(x as f64 + 0.5) * small as f64, (y as f64 + 0.5) * small as f64];
                let face = camera.mm(px);
                let drift = camera.drift(face);
                let p = [face[0] + self.beyond * drift[0], face[1] + self.beyond * drift[1]];
                let albedo = self.albedo(p[0] as f32, p[1] as f32);
                let free = if self.shadow && !empty { self.free(p, light, section) } else { 1.0 };
                for c in 0..3 {
                    out.planes[c][y * w + x] = albedo[c] * (shaded[c] + free * (flat[c] - shaded[c]));
                }
            }
        }
        out.blur(blur / small as f64);
        if small > 1 { out.enlarged(camera.width, camera.height) } else { out }
    }

    /// Share of the first lamp that passes the standing coupon.
    fn free(&self, p: [f64; 2], light: &Light, section: &Section) -> f32 {
        let Some(lamp) = light.lamps.first() else { return 1.0 };
        let to = lamp.to.map(f64::from);
        let aside = [to[0] / to[2], to[1] / to[2]];
        let flat = aside[0].hypot(aside[1]);
        let (mut up, mut free) = (0.0, 1.0_f64);
        while up < self.beyond {
            let d = section.distance([p[0] + up * aside[0], p[1] + up * aside[1]]);
            let soft = 0.08 + (f64::from(lamp.wide) + 0.04) * up * 2.0;
            free = free.min(0.5 + d / soft);
            if free <= 0.0 {
                break;
            }
            up += (d / flat.max(0.05)).max(0.15).min(self.beyond);
        }
        // near the foot the sky is hidden too
        let foot = section.distance(p).max(0.0);
        (free.clamp(0.0, 1.0) * (0.6 + 0.4 * (foot / 2.0).min(1.0))) as f32
    }

    fn albedo(&self, x: f32, y: f32) -> [f32; 3] {
        let (sin, cos) = self.turn.sin_cos();
        let (u, v) = (x * cos + y * sin, -x * sin + y * cos);
        let noise = Noise(self.seed);
        let fine = noise.octaves(u / 0.25, v / 0.25, 0.7, 0.2);
        let wide = Noise(self.seed ^ 5).octaves(u / 9.0, v / 9.0, 0.5, 0.2);
        let grey = |g: f32| [g, g, g];
        let rgb = match self.stuff {
            Stuff::Gravel => {
                let warp = 0.4 * Noise(self.seed ^ 9).at(u / 2.0, v / 2.0);
                let stone = Cells { seed: self.seed ^ 0xa, lean: 0.4 }.at(u / 1.6 + warp, v / 1.6 - warp);
                let lit = 1.0 + 1.4 * (stone.tilt[0] - 1.2 * stone.from[0]);
                let hue = 0.5 + unit(stone.id);
                let g = 0.30 * hue * lit.clamp(0.15, 2.0) * rise(0.0, 0.12, stone.edge) * (1.0 + 0.2 * fine);
                [1.06 * g, g, 0.92 * g]
            }
            Stuff::GreyCard => grey(0.20 * (1.0 + 0.05 * fine + 0.04 * wide)),
            Stuff::Paper => {
                let g = 0.74 * (1.0 + 0.03 * fine + 0.03 * wide);
                [g, 0.985 * g, 0.95 * g]
            }
            Stuff::Dark => grey(0.025 * (1.0 + 0.3 * fine + 0.4 * wide)),
            Stuff::Wood => {
                let ring = (v / 3.1 + 1.4 * Noise(self.seed ^ 8).octaves(u / 30.0, v / 7.0, 0.5, 0.2)) * 3.0;
                let band = 0.5 + 0.5 * (ring * 2.0).sin();
                let pore = Noise(self.seed ^ 2).at(u / 3.0, v / 0.18).max(0.0);
                let g = 0.36 * (0.72 + 0.4 * band) * (1.0 - 0.5 * pore) * (1.0 + 0.08 * fine);
                [1.15 * g, 0.78 * g, 0.47 * g]
            }
            Stuff::Cloth => {
                let (a, b) = ((u / 0.55).rem_euclid(1.0), (v / 0.55).rem_euclid(1.0));
                let over = ((u / 0.55).floor() + (v / 0.55).floor()).rem_euclid(2.0) < 1.0;
                let thread = if over { 1.0 - (2.0 * b - 1.0).powi(2) } else { 1.0 - (2.0 * a - 1.0).powi(2) };
                let g = 0.18 * (0.45 + 0.75 * thread) * (1.0 + 0.2 * fine + 0.15 * wide);
                let hue = unit(again(self.seed));
                [g * (0.7 + 0.6 * hue), g * (0.75 + 0.2 * hue), g * (1.2 - 0.6 * hue)]
            }
            Stuff::Steel => {
                let line = Noise(self.seed ^ 3).octaves(u / 8.0, v / 0.12, 0.7, 0.1);
                let spot = rise(0.25, 0.5, Noise(self.seed ^ 4).octaves(u / 5.0, v / 5.0, 0.6, 0.1));
                let g = 0.30 * (1.0 + 0.35 * line + 0.1 * wide) * (1.0 - 0.5 * spot);
                [g * (1.0 + 0.25 * spot), g, g * (1.03 - 0.3 * spot)]
            }
            Stuff::Concrete => {
                let pore = rise(0.3, 0.45, Noise(self.seed ^ 6).octaves(u / 1.2, v / 1.2, 0.6, 0.1));
                let g = 0.36 * (1.0 + 0.25 * fine + 0.2 * wide) * (1.0 - 0.6 * pore);
                [g, 0.98 * g, 0.93 * g]
            }
            Stuff::Brick => {
                let grain = Cells::plain(self.seed ^ 7).at(u / 0.7, v / 0.7);
                let g = 0.24 * (1.0 + 0.3 * fine + 0.25 * wide) * (0.8 + 0.5 * unit(grain.id));
                [1.5 * g, 0.72 * g, 0.52 * g]
            }
        };
        rgb.map(|c| (c * self.level).min(0.9))
    }
}
