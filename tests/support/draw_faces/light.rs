//! What falls on a face, and what of it comes back to the camera.

use super::relief::Relief;
use crate::support::drawing::frame::{Frame, blur_plane};

/// A lamp far away, or a window.
#[derive(Clone, Debug)]
pub(crate) struct Lamp {
    /// To it, of length 1: x, y, towards the camera.
    pub(crate) to: [f32; 3],
    pub(crate) colour: [f32; 3],
    /// Half its extent, as slope of a mirror that still shows it.
    pub(crate) wide: f32,
    /// How its light falls off over the face, per mm in x and y.
    pub(crate) fall: [f32; 2],
}

/// All the light of a picture.
#[derive(Clone, Debug)]
pub(crate) struct Light {
    pub(crate) lamps: Vec<Lamp>,
    /// From all round.
    pub(crate) sky: [f32; 3],
    /// What is seen in a mirror: direction aside, spread, strength over the sky.
    pub(crate) panes: Vec<([f32; 2], f32, f32)>,
}

fn unit(v: [f32; 3]) -> [f32; 3] {
    let long = (v[0] * v[0] + v[1] * v[1] + v[2] * v[2]).sqrt();
    v.map(|x| x / long)
}

fn dot(a: [f32; 3], b: [f32; 3]) -> f32 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

impl Lamp {
    /// From an azimuth in the face's plane and an elevation above it, rad.
    pub(crate) fn at(azimuth: f64, elevation: f64, colour: [f32; 3], wide: f32) -> Self {
        let ((sa, ca), (se, ce)) = (azimuth.sin_cos(), elevation.sin_cos());
        Self { to: [ca * ce, sa * ce, se].map(|v| v as f32), colour, wide, fall: [0.0; 2] }
    }
}

impl Light {
    /// Light from a plain patch whose normal is known, without shadows.
    pub(crate) fn on(&self, normal: [f32; 3], tone: f32) -> [f32; 3] {
        let up = 0.65 + 0.35 * normal[2];
        let mut out = self.sky.map(|s| s * tone * up);
        for lamp in &self.lamps {
            let fall = tone * dot(normal, lamp.to).max(0.0);
            for (o, c) in out.iter_mut().zip(lamp.colour) {
                *o += c * fall;
            }
        }
        out
    }

    /// The picture of a relief, cell for cell, in linear light.
    pub(crate) fn shade(&self, map: &Relief, view: [f32; 3], ratio: Option<f32>) -> Frame {
        let (w, h) = (map.width, map.height);
        let mut wide = map.up.clone();
        blur_plane(&mut wide, w, h, (0.10 / map.cell).max(1.5));
        let mut out = Frame::new(w, h, [0.0; 3]);
        let step = 1.0 / (2.0 * map.cell as f32);
        for j in 1..h - 1 {
            for i in 1..w - 1 {
                let k = j * w + i;
                if map.patches[k].rough == 0.0 {
                    continue;
                }
                let slope = [(map.up[k + 1] - map.up[k - 1]) * step, (map.up[k + w] - map.up[k - w]) * step];
                let open = (1.0 + 7.0 * (map.up[k] - wide[k])).clamp(0.35, 1.15);
                let rgb = self.from(map, k, slope, open, view);
                for (plane, c) in out.planes.iter_mut().zip(rgb) {
                    plane[k] = c;
                }
            }
        }
        if let Some(ratio) = ratio {
            balance(&mut out, map, ratio);
        }
        out
    }

    fn from(&self, map: &Relief, k: usize, slope: [f32; 2], open: f32, view: [f32; 3]) -> [f32; 3] {
        let patch = &map.patches[k];
        let colour = map.colours[k];
        let s = [slope[0] + patch.slope[0], slope[1] + patch.slope[1]];
        let normal = unit([-s[0], -s[1], 1.0]);
        let faces = dot(normal, view).max(0.0);
        // what a mirror there shows
        let back: [f32; 3] = std::array::from_fn(|c| 2.0 * faces * normal[c] - view[c]);
        let mut shown = 0.45;
        for (at, spread, strength) in &self.panes {
            let (dx, dy) = (back[0] - at[0], back[1] - at[1]);
            let spread = spread + patch.rough;
            shown += strength * (-(dx * dx + dy * dy) / (2.0 * spread * spread)).exp();
        }
        let sky = open * (patch.tone * (0.6 + 0.4 * normal[2]) + patch.gloss * shown);
        let mut out = self.sky.map(|c| c * sky);
        let (x, y) = ((k % map.width) as f32 * map.cell as f32, (k / map.width) as f32 * map.cell as f32);
        let (x, y) = (x + map.low[0] as f32, y + map.low[1] as f32);
        for lamp in &self.lamps {
            let falls = dot(normal, lamp.to);
            if falls <= 0.0 {
                continue;
            }
            let free = map.free(k, lamp.to, lamp.wide);
            if free <= 0.0 {
                continue;
            }
            let half = unit([0, 1, 2].map(|c| lamp.to[c] + view[c]));
            let (dx, dy) = (s[0] + half[0] / half[2], s[1] + half[1] / half[2]);
            let spread = patch.rough * patch.rough + lamp.wide * lamp.wide;
            // of a mirror's slopes, times pi / 4: facets over the light that a white plane sends back
            let mirror = patch.gloss * (-(dx * dx + dy * dy) / (2.0 * spread)).exp() / (8.0 * spread);
            let near = (1.0 + lamp.fall[0] * x + lamp.fall[1] * y).max(0.1);
            let light = near * free * (patch.tone * falls + mirror.min(6.0));
            for (o, c) in out.iter_mut().zip(lamp.colour) {
                *o += c * light;
            }
        }
        std::array::from_fn(|c| out[c] * colour[c])
    }
}

impl Relief {
    /// Share of a lamp that is seen from a cell over the heights on the way.
    fn free(&self, k: usize, to: [f32; 3], wide: f32) -> f32 {
        let flat = to[0].hypot(to[1]);
        if flat < 0.05 {
            return 1.0;
        }
        let climb = to[2] / flat * self.cell as f32;
        let (dx, dy) = (to[0] / flat, to[1] / flat);
        let (x, y) = ((k % self.width) as f32, (k / self.width) as f32);
        let (mut far, mut free) = (1.6_f32, 1.0_f32);
        for _ in 0..14 {
            let (px, py) = (x + dx * far + 0.5, y + dy * far + 0.5);
            if px < 0.0 || py < 0.0 || px >= self.width as f32 || py >= self.height as f32 {
                break;
            }
            let there = py as usize * self.width + px as usize;
            if self.cover[there] <= 0.0 {
                break;
            }
            let above = self.up[there] - self.up[k] - climb * far;
            let soft = (wide + 0.06) * far * self.cell as f32 + 0.4 * self.cell as f32;
            free = free.min(0.5 - above / soft);
            if free <= 0.0 {
                return 0.0;
            }
            far *= 1.32;
        }
        free.clamp(0.0, 1.0)
    }
}

/// Brightens or darkens the core until its mean light over that of the case is `ratio`.
fn balance(out: &mut Frame, map: &Relief, ratio: f32) {
    let mut sums = [[0.0_f64; 2]; 2];
    for (k, case) in map.case.iter().enumerate() {
        let side = usize::from(*case <= 0.9);
        if map.cover[k] == 1.0 && (*case > 0.9 || *case < 0.1) {
            sums[side][0] += f64::from(out.rgb(k).iter().sum::<f32>());
            sums[side][1] += 1.0;
        }
    }
    if sums.iter().any(|s| s[1] < 50.0) {
        return;
    }
    let found = (sums[1][0] / sums[1][1]) / (sums[0][0] / sums[0][1]);
    let gain = (ratio / found as f32).clamp(0.2, 5.0);
    for plane in &mut out.planes {
        for (v, case) in plane.iter_mut().zip(&map.case) {
            *v *= gain + case * (1.0 - gain);
        }
    }
}
