//! What holds a coupon: jaws, fingers, clay. All of it lies behind the face and hides nothing of it.

use crate::support::draw_faces::camera::Camera;
use crate::support::draw_faces::layer::Layer;
use crate::support::draw_faces::light::Light;
use crate::support::draw_faces::noise::Noise;
use crate::support::draw_faces::section::{Mm, Section};

/// How a coupon is held. All sizes are judgements.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Grip {
    Vice,
    Pliers,
    Fingers,
    Clay,
}

/// A grip round a section.
#[derive(Clone, Debug)]
pub(crate) struct Holder {
    pub(crate) grip: Grip,
    /// Behind the face, mm.
    pub(crate) beyond: f64,
    /// Direction in which it presses, rad in the face's plane.
    pub(crate) turn: f64,
    pub(crate) seed: u32,
    pub(crate) tone: f32,
    pub(crate) colour: [f32; 3],
    /// Pitch of its teeth, mm; none if 0.
    pub(crate) teeth: f64,
    pub(crate) gloss: f32,
}

/// How round an edge is, mm.
const EDGE_MM: f64 = 0.5;
/// Half the width of a finger's end, mm.
const FINGER_MM: f64 = 7.5;

impl Holder {
    pub(crate) fn draw(&self, layer: &mut Layer, camera: &Camera, light: &Light, section: &Section) {
        for y in 0..camera.height {
            for x in 0..camera.width {
                let face = camera.mm([x as f64 + 0.5, y as f64 + 0.5]);
                let drift = camera.drift(face);
                let p = [face[0] + self.beyond * drift[0], face[1] + self.beyond * drift[1]];
                let d = self.distance(p, section);
                let px = self.px(camera);
                let cover = (0.5 - d * px).clamp(0.0, 1.0) as f32;
                if cover > 0.0 {
                    layer.put(y * camera.width + x, self.shade(p, d, light, section), cover);
                }
            }
        }
    }

    fn px(&self, camera: &Camera) -> f64 {
        let a = camera.px_beyond([0.0; 2], self.beyond);
        let b = camera.px_beyond([0.1, 0.0], self.beyond);
        (b[0] - a[0]).hypot(b[1] - a[1]) * 10.0
    }

    /// Across the jaws and along them, mm.
    fn turned(&self, p: Mm) -> Mm {
        let (sin, cos) = self.turn.sin_cos();
        [p[0] * cos + p[1] * sin, p[1] * cos - p[0] * sin]
    }

    /// Half of the section across the jaws, mm.
    fn grasp(&self, section: &Section) -> f64 {
        let half = section.half();
        let (sin, cos) = (self.turn.sin().abs(), self.turn.cos().abs());
        if section.is_round() { half[0] } else { (half[0] * cos).max(half[1] * sin) }
    }

    /// mm, below zero inside.
    fn distance(&self, p: Mm, section: &Section) -> f64 {
        let [u, v] = self.turned(p);
        let wave = |s: f64, k: u32| f64::from(Noise(self.seed ^ k).octaves((v / s) as f32, 0.3, 0.5, 0.1));
        let across = u.abs() - self.grasp(section);
        match self.grip {
            Grip::Vice => {
                let bite = if self.teeth > 0.0 {
                    0.12 * (v / self.teeth * std::f64::consts::TAU).sin()
                } else {
                    0.0
                };
                -across + bite.min(0.0) + 0.05 * wave(3.0, 1)
            }
            Grip::Pliers => {
                let side = if u > 0.0 { 1.0 } else { -1.0 };
                let bite = if self.teeth > 0.0 {
                    0.25 * self.teeth * ((v / self.teeth).rem_euclid(1.0) - 0.5).abs()
                } else {
                    0.0
                };
                let wide = 3.8 + 0.5 * across.max(0.0) + side * 0.4;
                // rounded corners
                let [a, b] = [-across + bite + 0.9, v.abs() - wide + 0.9];
                let tip = a.max(b).min(0.0) + a.max(0.0).hypot(b.max(0.0)) - 0.9;
                tip.max(across - 9.0)
            }
            Grip::Fingers => {
                let reach = self.grasp(section) + FINGER_MM - 1.2;
                let end = |x: f64, y: f64, wide: f64| {
                    let du = u - x;
                    let along = (du * x.signum()).max(0.0);
                    let dv = v - y - 0.12 * along;
                    let past = du - along * x.signum();
                    past.hypot(dv) - wide - 0.06 * along
                };
                let thumb = end(reach, 0.6, FINGER_MM * 1.1);
                thumb.min(end(-reach, -0.8, FINGER_MM)) + 0.15 * wave(2.5, 3)
            }
            Grip::Clay => {
                let n = Noise(self.seed).octaves((p[0] / 6.0) as f32, (p[1] / 6.0) as f32, 0.45, 0.08);
                section.distance(p) - 3.5 - 3.0 * f64::from(n)
            }
        }
    }

    fn shade(&self, p: Mm, d: f64, light: &Light, section: &Section) -> [f32; 3] {
        let e = 0.05;
        let round = match self.grip {
            Grip::Fingers => FINGER_MM,
            Grip::Clay => 2.5,
            _ => EDGE_MM,
        };
        let flat = d < -round;
        let g = [0, 1].map(|k| {
            if flat {
                return 0.0;
            }
            let (mut a, mut b) = (p, p);
            a[k] -= e;
            b[k] += e;
            (self.distance(b, section) - self.distance(a, section)) / (2.0 * e)
        });
        // from flat in the middle to steep at the edge, as a quarter round
        let lean = (1.0 + d / round).clamp(0.0, 0.97);
        let slope = lean / (1.0 - lean * lean).sqrt();
        let (x, y) = (p[0] as f32, p[1] as f32);
        let (bump, mark) = self.skin(x, y);
        let s = [g[0] * slope, g[1] * slope].map(|v| (v as f32).clamp(-3.0, 3.0));
        let s = [s[0] + bump[0], s[1] + bump[1]];
        let long = (s[0] * s[0] + s[1] * s[1] + 1.0).sqrt();
        let normal = [s[0] / long, s[1] / long, 1.0 / long];
        let mut rgb = light.on(normal, self.tone * (1.0 + mark).max(0.1));
        for lamp in &light.lamps {
            let half = [lamp.to[0], lamp.to[1], lamp.to[2] + 1.0];
            let size = (half[0] * half[0] + half[1] * half[1] + half[2] * half[2]).sqrt();
            let faces = ((0..3).map(|k| half[k] * normal[k]).sum::<f32>() / size).max(0.0);
            let power = if self.grip == Grip::Fingers { 18.0 } else { 40.0 };
            for (o, c) in rgb.iter_mut().zip(lamp.colour) {
                *o += c * self.gloss * faces.powf(power);
            }
        }
        // it is darker close to the coupon's foot
        let near = (section.distance(p).max(0.0) / 0.8).min(1.0) as f32;
        std::array::from_fn(|k| rgb[k] * self.colour[k] * (0.55 + 0.45 * near))
    }

    /// Slopes and tone of its surface.
    fn skin(&self, x: f32, y: f32) -> ([f32; 2], f32) {
        let n = |k: u32, s: f32, t: f32| Noise(self.seed ^ k).octaves(x / s, y / t, 0.6, 0.05);
        match self.grip {
            Grip::Vice | Grip::Pliers => {
                let [u, v] = self.turned([f64::from(x), f64::from(y)]).map(|c| c as f32);
                let line = Noise(self.seed ^ 5).octaves(u / 0.15, v / 6.0, 0.7, 0.1);
                ([0.10 * line, 0.06 * n(6, 0.7, 0.7)], 0.35 * line + 0.3 * n(7, 2.0, 2.0))
            }
            Grip::Fingers => {
                let bend = 2.0 * Noise(self.seed ^ 8).at(x / 6.0, y / 6.0);
                let ridge = ((y / 0.38 + bend) * std::f32::consts::TAU).sin();
                ([0.05 * n(9, 0.5, 0.5), 0.07 * ridge], 0.03 * ridge + 0.12 * n(10, 3.0, 3.0))
            }
            Grip::Clay => ([0.5 * n(11, 1.5, 1.5), 0.5 * n(12, 1.5, 1.5)], 0.1 * n(13, 0.3, 0.3)),
        }
    }
}
