//! A stream of sparks while the shutter is open.

use super::camera::Camera;
use super::dice::Dice;
use super::physics::{Bursting, Event, GlowTable, Particle, Spark, Steel, Thrower, Vec3};
use super::rig::{Machine, Rig};
use std::f64::consts::TAU;

/// How a stream is thrown in one picture.
pub(crate) struct Stream<'a> {
    pub(crate) rig: &'a Rig,
    pub(crate) steel: &'a Steel,
    /// Direction in the picture's plane, rad, up positive; and towards the camera, rad.
    pub(crate) direction: f64,
    pub(crate) towards: f64,
    /// +1 or -1: which side of the stream is the wheel's.
    pub(crate) hand: f64,
    pub(crate) shutter: f64,
    /// Carriers wanted.
    pub(crate) carriers: usize,
    /// Small dim sparks beside them, mostly near the wheel.
    pub(crate) fines: usize,
    /// Pressure on the wheel over the reference's: moves size, bursts and light.
    pub(crate) pressure: f64,
}

/// Life of the longest-lived usual spark, s: for how long before the shutter opens sparks are followed.
const LIFE_S: f64 = 0.12;

/// All lights and bursts, in metres and seconds.
pub(crate) struct Thrown {
    pub(crate) sparks: Vec<Spark>,
    pub(crate) events: Vec<Event>,
    /// Angles of departure in the picture's plane, degrees.
    pub(crate) angles: Vec<f64>,
}

impl Stream<'_> {
    pub(crate) fn throw(&self, camera: &Camera, dice: &mut Dice) -> Thrown {
        let glow = GlowTable::new();
        let [kick, ray_s, bright] = self.rig.burst;
        // low carbon forks at the end of its carriers, high carbon bursts "fine, repeating" along them
        // (OD1643, NAVEDTRA 14345); the numbers are judgements
        let ends = dice.between(0.3, 0.75) * (1.0 - 0.65 * self.steel.carbon_wt_pct.min(1.0));
        let bursting = Bursting { kick, ray_s, ends, bright };
        let mut thrown = Thrown { sparks: Vec::new(), events: Vec::new(), angles: Vec::new() };
        let step_m = 1.5 / camera.px_per_m();
        let total = self.carriers + self.fines;
        let mut tries = 0;
        let mut index = 0;
        while index < total && tries < total * 60 {
            tries += 1;
            let fine = index >= self.carriers;
            let mut particle = self.particle(fine, dice);
            // a steady rate: those whose life and the open shutter overlap are recorded
            particle.born = dice.between(-LIFE_S, self.shutter);
            let life = 1.15 * particle.burn_s + 0.004;
            if particle.born + life < 0.0 {
                continue;
            }
            if !fine {
                let [x, y, _] = particle.velocity;
                thrown.angles.push((y.atan2(x) + camera.roll).to_degrees());
            }
            let mut thrower = Thrower {
                steel: self.steel,
                glow: &glow,
                step_m,
                sparks: &mut thrown.sparks,
                events: &mut thrown.events,
            };
            bursting.carrier(index, &particle, &mut thrower, dice);
            index += 1;
        }
        thrown
    }

    /// A particle as it leaves. Shares, temperatures and times are judgements; chips leave the contact
    /// at 500 to 1400 C (*ASME J. Eng. Ind.* 107(2) 127, abstract) and oxidation heats them in flight.
    fn particle(&self, fine: bool, dice: &mut Dice) -> Particle {
        let rig = self.rig;
        let [median, spread] = rig.drop;
        let size = median * self.pressure.powf(0.25) * if fine { 0.45 } else { 1.0 };
        let diameter = dice.log_normal(size, spread).clamp(18e-6, 220e-6);
        let splashed = !fine && dice.chance(rig.splash);
        let mut speed = rig.speed * dice.log_normal(0.92, 0.12);
        let mut fan = [dice.normal() * rig.fan[0], dice.normal() * rig.fan[1]];
        let mut at = [dice.normal() * 0.0015, dice.normal() * 0.0015, dice.normal() * 0.004];
        if rig.machine == Machine::Belt {
            at[2] += dice.between(-0.02, 0.02);
        }
        // later chips ride with the wheel and leave farther round it
        if dice.chance(0.25) {
            fan[0] += self.hand * dice.between(0.0, 0.35);
        }
        if splashed {
            speed *= dice.between(0.15, 0.5);
            fan = [fan[0] - self.hand * dice.between(0.5, 1.8), fan[1] + dice.normal() * 0.4];
            let away = dice.between(0.005, 0.03);
            at[0] += away * self.direction.cos();
            at[1] += away * self.direction.sin();
        }
        let (angle, out) = (self.direction + fan[0], self.towards + fan[1]);
        let velocity: Vec3 = [angle.cos() * out.cos(), angle.sin() * out.cos(), out.sin()].map(|x| x * speed);
        let relative = diameter / 1e-4;
        let burn_s =
            (0.045 * relative.powf(1.3) * self.steel.length_rel * dice.log_normal(1.0, 0.3)).min(0.14);
        let flicker = if dice.chance(rig.turning[0]) {
            [dice.between(0.3, 1.0), rig.turning[1] * dice.log_normal(1.0, 0.35), dice.between(0.0, TAU)]
        } else {
            [0.0; 3]
        };
        Particle {
            at,
            velocity,
            diameter,
            born: 0.0,
            start_k: dice.between(1150.0, 1500.0),
            peak_k: dice.between(1800.0, 2200.0),
            rise_s: burn_s * (0.04 + 0.6 * self.steel.dark_root) * dice.log_normal(1.0, 0.3),
            burn_s,
            // some shells close or drops fall to dust at once; others cool
            ends_s: if dice.chance(0.35) { burn_s * dice.between(0.9, 1.1) } else { f64::INFINITY },
            fade: 0.0,
            bright: self.steel.brightness_rel * dice.log_normal(1.0, 0.35),
            flicker,
        }
    }
}
