//! Bursts: gas held under the oxide skin tears the drop; fragments that still hold carbon burst again.

use super::carbon::Steel;
use super::flight::{Moment, Particle, Vec3, length};
use super::glow::GlowTable;
use crate::support::draw_sparks::dice::Dice;
use std::f64::consts::TAU;

/// Below this a drop bursts less, m; 40 to 80 um. Judgement.
const SMALL_M: f64 = 65e-6;

/// What a light is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Role {
    Carrier,
    /// A ray of this burst.
    Ray(usize),
    /// Pollen: specks that are no ray.
    Speck,
}

/// One light in flight.
pub(crate) struct Spark {
    pub(crate) role: Role,
    pub(crate) carrier: usize,
    pub(crate) flicker: [f64; 3],
    pub(crate) flight: Vec<Moment>,
}

/// One burst in flight.
#[derive(Clone, Debug)]
pub(crate) struct Event {
    pub(crate) at: Vec3,
    /// s after the shutter opened
    pub(crate) t: f64,
    pub(crate) carrier: usize,
    pub(crate) tier: usize,
    pub(crate) parent: Option<usize>,
    pub(crate) rays: usize,
}

/// How bursts look on this rig: the forces of one picture. All judgements but where a source stands.
pub(crate) struct Bursting {
    /// Speed that the gas gives a fragment, m/s; fragments leave 2 to 6 times as fast as the drop flew
    /// (X. Huang et al., *Combust. Flame* 238 (2022) 111755, abstract), so of its order or above.
    pub(crate) kick: f64,
    /// Fragments burn this long, s; 0.4 to 6 ms.
    pub(crate) ray_s: f64,
    /// Share of bursts that end the carrier.
    pub(crate) ends: f64,
    /// Light of a fragment beside its size's own.
    pub(crate) bright: f64,
}

/// A flight cut at its bursts, and all that flies from them.
pub(crate) struct Thrower<'a> {
    pub(crate) steel: &'a Steel,
    pub(crate) glow: &'a GlowTable,
    pub(crate) step_m: f64,
    pub(crate) sparks: &'a mut Vec<Spark>,
    pub(crate) events: &'a mut Vec<Event>,
}

impl Bursting {
    /// One carrier with its bursts.
    pub(crate) fn carrier(&self, index: usize, particle: &Particle, thrower: &mut Thrower, dice: &mut Dice) {
        let whole = particle.fly(thrower.glow, thrower.step_m);
        let mut places = Vec::new();
        // gas bubbles under about 50 um hardly throw drops out (Kong et al., *Proc. Combust. Inst.* 39 (2023)
        // 3489, abstract), so small drops burst less: judgement
        let small = (particle.diameter / SMALL_M).powi(3).min(1.0);
        if dice.chance(thrower.steel.burst_fraction * small) {
            for _ in 0..=dice.poisson(thrower.steel.more_bursts).min(3) {
                places.push(onset(thrower.steel.onset, dice));
            }
        }
        places.sort_by(f64::total_cmp);
        let mut done: Vec<Moment> = Vec::new();
        let (mut rest, mut flown, mut now) = (whole, 0.0, *particle);
        let reach = lit_length(&rest);
        for place in places {
            let Some(i) = at_length(&rest, place * reach - flown) else { break };
            let moment = rest[i];
            flown += length_of(&rest[..=i]);
            done.extend_from_slice(&rest[..=i]);
            self.burst(&moment, &now, (index, 1, None), thrower, dice);
            if dice.chance(self.ends) {
                rest.clear();
                break;
            }
            now = Self::goes_on(&moment, &now, dice);
            rest = now.fly(thrower.glow, thrower.step_m);
        }
        done.extend(rest);
        thrower.sparks.push(Spark {
            role: Role::Carrier,
            carrier: index,
            flicker: particle.flicker,
            flight: done,
        });
    }

    /// What is left of a drop: smaller, a little aside, cooler by 30 to 70 K (Huang 2022), brighter or dimmer.
    fn goes_on(moment: &Moment, before: &Particle, dice: &mut Dice) -> Particle {
        let speed = length(moment.velocity);
        let aside = dice.sphere().map(|x| x * speed * 0.05 * dice.unit());
        let slower = dice.between(0.75, 1.0);
        let age = moment.t - before.born;
        Particle {
            at: moment.at,
            velocity: [0, 1, 2].map(|k| moment.velocity[k] * slower + aside[k]),
            diameter: before.diameter * dice.between(0.7, 0.97),
            born: moment.t,
            start_k: moment.kelvin - dice.between(30.0, 70.0),
            burn_s: (before.burn_s - age).max(0.0) * dice.between(0.7, 1.0),
            ends_s: f64::INFINITY,
            bright: before.bright * dice.log_normal(0.9, 0.4),
            ..*before
        }
    }

    /// Rays, specks, and further bursts on rays.
    fn burst(
        &self,
        moment: &Moment,
        drop: &Particle,
        (carrier, tier, parent): (usize, usize, Option<usize>),
        thrower: &mut Thrower,
        dice: &mut Dice,
    ) {
        let steel = thrower.steel;
        let mean = if tier == 1 { steel.rays } else { (steel.rays * 0.5).max(2.0) };
        let rays = (mean * dice.log_normal(1.0, 0.22)).round().clamp(1.0, 16.0) as usize;
        let index = thrower.events.len();
        thrower.events.push(Event { at: moment.at, t: moment.t, carrier, tier, parent, rays });
        // a burst as a whole is weak or strong
        let force = dice.log_normal(1.0, 0.35) * if tier == 1 { 1.0 } else { 0.55 };
        // the table's share is of first bursts; further tiers have a smaller drop to burst: judgement
        let share_again = steel.secondary_share * 0.45_f64.powf((tier - 1) as f64);
        let again = tier < steel.tiers && dice.chance(share_again);
        let bursting_rays = if again { (1 + dice.poisson(0.35)).min(rays) } else { 0 };
        let share = dice.between(0.4, 0.7) / (rays as f64).powf(1.0 / 3.0);
        for ray in 0..rays {
            let fragment = self.fragment(moment, drop, force, share, dice);
            let mut flight = fragment.fly(thrower.glow, thrower.step_m);
            if ray < bursting_rays {
                let reach = length_of(&flight);
                if let Some(i) = at_length(&flight, reach * dice.between(0.45, 0.95)) {
                    let end = flight[i];
                    flight.truncate(i + 1);
                    self.burst(&end, &fragment, (carrier, tier + 1, Some(index)), thrower, dice);
                }
            }
            thrower.sparks.push(Spark { role: Role::Ray(index), carrier, flicker: fragment.flicker, flight });
        }
        for _ in 0..dice.poisson(1.5 * steel.pollen) {
            let mut speck = self.fragment(moment, drop, force * 0.8, share * 0.5, dice);
            let gap = dice.between(0.2, 1.0) * self.ray_s;
            speck.at = [0, 1, 2].map(|k| speck.at[k] + speck.velocity[k] * gap * 0.7);
            (speck.born, speck.ends_s) = (speck.born + gap, dice.between(0.03, 0.15) * self.ray_s);
            let flight = speck.fly(thrower.glow, thrower.step_m);
            thrower.sparks.push(Spark { role: Role::Speck, carrier, flicker: [0.0; 3], flight });
        }
    }

    fn fragment(
        &self,
        moment: &Moment,
        drop: &Particle,
        force: f64,
        share: f64,
        dice: &mut Dice,
    ) -> Particle {
        let kick = self.kick * force * dice.log_normal(1.0, 0.4);
        let way = dice.sphere().map(|x| x * kick);
        // the drop's own speed carries on: a forward bias, all round where the drop was slow
        let keeps = dice.between(0.5, 1.0);
        let burns = self.ray_s * force.sqrt() * dice.log_normal(1.0, 0.45);
        let turns = if dice.chance(0.25) { drop.flicker[0] } else { 0.0 };
        Particle {
            at: moment.at,
            velocity: [0, 1, 2].map(|k| moment.velocity[k] * keeps + way[k]),
            diameter: (drop.diameter * share * dice.log_normal(1.0, 0.25)).max(8e-6),
            born: moment.t,
            start_k: moment.kelvin + dice.between(50.0, 250.0),
            peak_k: moment.kelvin.max(1700.0) + dice.between(0.0, 150.0),
            rise_s: burns,
            burn_s: burns * dice.between(0.5, 1.2),
            ends_s: burns * 1.3,
            // it burns away: needles that thin out, some nearly as bright as the carrier
            fade: dice.between(0.6, 2.2),
            bright: drop.bright * self.bright * dice.log_normal(0.8, 0.75),
            flicker: [turns, drop.flicker[1] * 1.7, dice.between(0.0, TAU)],
        }
    }
}

/// A place along the stream whose lower quartile is `first_quarter`.
fn onset(first_quarter: f64, dice: &mut Dice) -> f64 {
    let spread = 0.5 * (1.0 - first_quarter).max(0.12);
    (first_quarter + spread * (0.674 + dice.normal())).clamp(0.04, 0.985)
}

pub(crate) fn length_of(flight: &[Moment]) -> f64 {
    flight.windows(2).map(|w| length([0, 1, 2].map(|k| w[1].at[k] - w[0].at[k]))).sum()
}

/// Length over which it is lit: until its light falls below 5 % of its best.
fn lit_length(flight: &[Moment]) -> f64 {
    let best = flight.iter().map(|m| m.power[0]).fold(0.0, f64::max);
    let last = flight.iter().rposition(|m| m.power[0] > 0.05 * best).unwrap_or(0);
    length_of(&flight[..=last])
}

/// The moment at this length; none if the flight is shorter.
fn at_length(flight: &[Moment], wanted: f64) -> Option<usize> {
    let mut flown = 0.0;
    for i in 1..flight.len() {
        flown += length([0, 1, 2].map(|k| flight[i].at[k] - flight[i - 1].at[k]));
        if flown >= wanted {
            return Some(i);
        }
    }
    None
}
