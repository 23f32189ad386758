//! One hot particle in flight: drag, gravity, heating by oxidation, cooling.

use super::drag::{DROP_DENSITY, drag_rate, reynolds};
use super::glow::GlowTable;

pub(crate) type Vec3 = [f64; 3];

/// m/s2 (standard gravity, ISO 80000-3).
const GRAVITY: f64 = 9.806_65;
/// Heat capacity of iron and its oxide when hot, J/kg/K; 650 to 850. Judgement.
const HEAT_CAPACITY: f64 = 750.0;
/// Conductivity of the air film at its mean temperature, W/m/K; 0.026 cold to 0.08 at 1400 K (from memory).
const FILM_CONDUCTIVITY: f64 = 0.06;
/// Stefan-Boltzmann constant, W/m2/K4 (CODATA 2018), and emissivity of oxide, 0.6 to 0.9. Judgement.
const RADIATION: f64 = 5.67e-8 * 0.75;
/// Air, K.
const AIR_K: f64 = 293.0;
/// Below this it shows no light, K (red heat in the dark begins at about 800 K; common practice, no source).
const DARK_K: f64 = 1050.0;
/// A flight is given up after this, s; and when slower than this, m/s.
const LONGEST_S: f64 = 0.25;
const SLOWEST: f64 = 0.4;

/// A particle as it leaves.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Particle {
    /// m, x right, y up, z to the camera.
    pub(crate) at: Vec3,
    /// m/s
    pub(crate) velocity: Vec3,
    /// m
    pub(crate) diameter: f64,
    /// s after the shutter opened; negative before.
    pub(crate) born: f64,
    pub(crate) start_k: f64,
    pub(crate) peak_k: f64,
    /// Time constant of the heating, s.
    pub(crate) rise_s: f64,
    /// How long it goes on burning, s.
    pub(crate) burn_s: f64,
    /// It ends at once at this age, s.
    pub(crate) ends_s: f64,
    /// Its light falls as this power of what is left of its time; 0 not at all.
    pub(crate) fade: f64,
    /// Light over that of a particle of its size and heat.
    pub(crate) bright: f64,
    /// Turning: depth 0..1, frequency Hz, phase rad.
    pub(crate) flicker: [f64; 3],
}

/// A moment of a flight.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Moment {
    /// s after the shutter opened
    pub(crate) t: f64,
    pub(crate) at: Vec3,
    pub(crate) velocity: Vec3,
    pub(crate) kelvin: f64,
    /// Light by channel: 1 is a 100 um particle at 2000 K.
    pub(crate) power: [f64; 3],
}

pub(crate) fn length(v: Vec3) -> f64 {
    v.iter().map(|x| x * x).sum::<f64>().sqrt()
}

/// Cooling rate, K/s: film by Nu = 2 + 0.6 Re^1/2 Pr^1/3 (W. E. Ranz and W. R. Marshall, *Chem. Eng.
/// Prog.* 48 (1952) 141), Pr 0.7, and radiation; a lump (Biot number far below 0.1).
fn cooling(kelvin: f64, speed: f64, diameter: f64) -> f64 {
    let nusselt = 2.0 + 0.6 * reynolds(speed, diameter).sqrt() * 0.888;
    let flux = nusselt * FILM_CONDUCTIVITY / diameter * (kelvin - AIR_K) + RADIATION * kelvin.powi(4);
    6.0 * flux / (DROP_DENSITY * HEAT_CAPACITY * diameter)
}

impl Particle {
    /// Its flight in steps of at most `step_m` metres, until dark, slow or ended.
    pub(crate) fn fly(&self, glow: &GlowTable, step_m: f64) -> Vec<Moment> {
        let (mut at, mut v, mut kelvin, mut age) = (self.at, self.velocity, self.start_k, 0.0);
        let mut moments = Vec::new();
        loop {
            let left = if self.fade > 0.0 { (1.0 - age / self.ends_s).max(0.0).powf(self.fade) } else { 1.0 };
            let size = (self.diameter / 1e-4).powi(2) * self.bright * left;
            let power = glow.at(kelvin).map(|g| g * size);
            moments.push(Moment { t: self.born + age, at, velocity: v, kelvin, power });
            let speed = length(v);
            let burning = age < self.burn_s;
            let gone = age >= self.ends_s || age > LONGEST_S || speed < SLOWEST;
            if gone || (!burning && kelvin < DARK_K) {
                return moments;
            }
            let dt = (step_m / speed).clamp(4e-6, 4e-4).min((self.ends_s - age).max(1e-7));
            let keep = 1.0 / (1.0 + drag_rate(speed, self.diameter) * dt);
            for (k, x) in at.iter_mut().enumerate() {
                let before = v[k];
                let pull = if k == 1 { GRAVITY * dt } else { 0.0 };
                v[k] = before * keep - pull;
                *x += 0.5 * (before + v[k]) * dt;
            }
            if burning {
                kelvin += (self.peak_k - kelvin) * (1.0 - (-dt / self.rise_s).exp());
            } else {
                kelvin -= cooling(kelvin, speed, self.diameter) * dt;
            }
            age += dt;
        }
    }
}
