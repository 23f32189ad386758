//! From light to a stored picture: bloom, noise, white balance, tone, sharpening.

use super::dice::Dice;
use super::frame::{Frame, LIGHT};

/// A camera's sensor and processing in one picture. All values are judgements over what phones and
/// cameras show; sRGB is IEC 61966-2-1.
#[derive(Clone, Debug)]
pub(crate) struct Sensor {
    /// Read noise, standard deviation, of full scale; 0.0005 to 0.02.
    pub(crate) read: f32,
    /// Electrons at full scale at this ISO; 300 to 20000.
    pub(crate) well: f32,
    /// Share of light that the lens spreads, and how far, px.
    pub(crate) bloom: (f32, f64),
    /// Gains after the noise.
    pub(crate) white_balance: [f32; 3],
    pub(crate) saturation: f32,
    /// Radius of the chroma blur, px; 0 none.
    pub(crate) chroma: usize,
    /// Phone-like contrast, 0 none to 1.
    pub(crate) contrast: f32,
    /// Sharpening, 0 none to 1.5, and its radius, px.
    pub(crate) sharpen: (f32, f64),
    pub(crate) grey: bool,
}

impl Sensor {
    pub(crate) fn draw(scale: f64, dice: &mut Dice) -> Self {
        let phone = dice.chance(0.65);
        let warm = dice.between(-0.5, 0.6);
        Self {
            read: dice.log_between(0.0006, 0.010) as f32,
            well: dice.log_between(500.0, 15000.0) as f32,
            bloom: (dice.log_between(0.004, 0.06) as f32, scale * dice.log_between(5.0, 40.0)),
            white_balance: [(1.0 - 0.5 * warm) as f32, 1.0, (1.0 + warm) as f32],
            saturation: dice.between(0.75, 1.35) as f32,
            chroma: if dice.chance(0.6) { dice.whole(1, 3) } else { 0 },
            contrast: if phone { dice.between(0.0, 0.8) as f32 } else { 0.0 },
            sharpen: if phone { (dice.between(0.0, 1.2) as f32, dice.between(0.6, 1.4)) } else { (0.0, 1.0) },
            grey: dice.chance(0.06),
        }
    }

    /// Standard deviation of one pixel's mean light where the scene has this light.
    pub(crate) fn noise(&self, rgb: [f32; 3]) -> f32 {
        let variance = rgb.iter().zip(LIGHT).map(|(v, w)| w * w * self.variance(*v)).sum::<f32>();
        variance.sqrt()
    }

    /// Read and shot noise of one channel.
    fn variance(&self, light: f32) -> f32 {
        self.read * self.read + light.clamp(0.0, 1.0) / self.well
    }

    /// The bloom of some light: what the lens spreads.
    pub(crate) fn bloom(&self, light: &Frame) -> Frame {
        let mut small = light.quarter();
        let mut wide = small.clone();
        small.blur(self.bloom.1 / 4.0);
        wide.blur(self.bloom.1);
        small.add(&wide, 0.5);
        let mut out = small.enlarged(light.width, light.height);
        for plane in &mut out.planes {
            for v in plane.iter_mut() {
                *v *= self.bloom.0;
            }
        }
        out
    }

    /// The stored picture, 0..1 by sRGB's curve. `light` is spent.
    pub(crate) fn develop(&self, light: &mut Frame, dice: &mut Dice) {
        for plane in &mut light.planes {
            for v in plane.iter_mut() {
                let noisy = *v + self.variance(*v).sqrt() * dice.quick_normal();
                *v = noisy.clamp(0.0, 1.0);
            }
        }
        for (plane, gain) in light.planes.iter_mut().zip(self.white_balance) {
            for v in plane.iter_mut() {
                *v = (*v * gain).min(1.0);
            }
        }
        let curve: Vec<f32> = (0..=4096).map(|i| self.tone(i as f32 / 4096.0)).collect();
        for plane in &mut light.planes {
            for v in plane.iter_mut() {
                // finer near black, where the curve is steep
                let at = v.sqrt() * 4096.0;
                let i = (at as usize).min(4095);
                *v = curve[i] + (at - i as f32) * (curve[i + 1] - curve[i]);
            }
        }
        self.colour(light);
        if self.sharpen.0 > 0.0 {
            let mut soft = light.clone();
            soft.blur(self.sharpen.1);
            for (plane, soft) in light.planes.iter_mut().zip(&soft.planes) {
                for (v, s) in plane.iter_mut().zip(soft) {
                    *v = (*v + self.sharpen.0 * (*v - s)).clamp(0.0, 1.0);
                }
            }
        }
    }

    /// Stored value by the square root of linear light.
    fn tone(&self, root: f32) -> f32 {
        let linear = root * root;
        let srgb =
            if linear <= 0.003_130_8 { 12.92 * linear } else { 1.055 * linear.powf(1.0 / 2.4) - 0.055 };
        let curve = srgb * srgb * (3.0 - 2.0 * srgb);
        srgb + self.contrast * 0.6 * (curve - srgb)
    }

    /// Saturation, chroma blur, or grey.
    fn colour(&self, light: &mut Frame) {
        let n = light.planes[0].len();
        let mut grey = vec![0.0; n];
        for (i, g) in grey.iter_mut().enumerate() {
            let [r, gr, b] = light.rgb(i);
            *g = 0.299 * r + 0.587 * gr + 0.114 * b;
        }
        let keep = if self.grey { 0.0 } else { self.saturation };
        for plane in &mut light.planes {
            for (v, g) in plane.iter_mut().zip(&grey) {
                *v = keep * (*v - g);
            }
        }
        if self.chroma > 0 && !self.grey {
            light.blur(self.chroma as f64 * 0.8);
        }
        for plane in &mut light.planes {
            for (v, g) in plane.iter_mut().zip(&grey) {
                *v = (*v + g).clamp(0.0, 1.0);
            }
        }
    }
}
