//! How the parts of a break look, by kind.

use super::{between, grain_mm, seed};
use crate::support::draw_faces::finish::{Cleavage, Fibrous, Finish, Grains};
use crate::support::draw_faces::kind::Kind;
use crate::support::drawing::dice::Dice;

fn grains(number: f64, tone: f32, dice: &mut Dice) -> Finish {
    Finish::Grains(Grains {
        seed: seed(dice),
        grain: grain_mm(number) as f32,
        steep: between(dice, 0.12, 0.38),
        round: between(dice, 0.0, 0.8),
        tone,
        gloss: between(dice, 0.03, 0.14),
        glints: between(dice, 0.0, 0.10),
        grooves: between(dice, 0.1, 0.6),
    })
}

fn fibrous(tone: f32, dice: &mut Dice) -> Finish {
    Finish::Fibrous(Fibrous {
        seed: seed(dice),
        scale: dice.log_between(0.25, 1.0) as f32,
        steep: between(dice, 0.5, 1.3),
        grain: (between(dice, 0.0, 3.1), dice.log_between(1.0, 2.0) as f32),
        torn: between(dice, 0.0, 1.0),
        woolly: between(dice, 0.5, 0.72),
        hollow: dice.log_between(0.025, 0.12) as f32,
        dimpled: between(dice, 0.0, 1.0),
        tone,
        dark: between(dice, 0.45, 0.95),
        gloss: between(dice, 0.02, 0.08),
        flecks: between(dice, 0.0, 0.12),
    })
}

fn cleavage(number: f64, tone: f32, dice: &mut Dice) -> Finish {
    Finish::Cleavage(Cleavage {
        seed: seed(dice),
        grain: grain_mm(number) as f32,
        steep: between(dice, 0.25, 0.5),
        tone,
        gloss: between(dice, 0.15, 0.4),
        rivers: between(dice, 0.0, 0.8),
    })
}

/// Of the case and of the core.
pub(super) fn finishes(kind: Kind, dice: &mut Dice) -> (Finish, Finish) {
    let bright = between(dice, 0.30, 0.48);
    let fine = dice.between(6.5, 10.0);
    match kind {
        Kind::Darker => (grains(fine, 0.24, dice), cleavage(dice.between(1.0, 4.0), 0.3, dice)),
        Kind::TextureOnly => {
            let core = if dice.chance(0.5) {
                fibrous(bright, dice)
            } else {
                cleavage(dice.between(1.0, 4.0), bright, dice)
            };
            (grains(fine, bright, dice), core)
        }
        Kind::ToneOnly => {
            let case = grains(fine, bright, dice);
            let Finish::Grains(mut same) = case.clone() else { unreachable!("grains were asked for") };
            same.seed = seed(dice);
            (case, Finish::Grains(same))
        }
        Kind::Faint => (grains(fine, bright, dice), grains(fine - dice.between(1.5, 3.0), bright, dice)),
        Kind::Coarse => {
            let core = if dice.chance(0.6) {
                fibrous(0.26, dice)
            } else {
                grains(dice.between(6.0, 8.0), bright, dice)
            };
            let case = if dice.chance(0.5) {
                cleavage(dice.between(1.5, 4.0), bright, dice)
            } else {
                grains(dice.between(1.5, 4.5), bright, dice)
            };
            (case, core)
        }
        _ => {
            let tone = between(dice, 0.16, 0.34);
            let core = if dice.chance(0.75) {
                fibrous(tone, dice)
            } else {
                cleavage(dice.between(1.5, 5.0), tone, dice)
            };
            (grains(dice.between(5.5, 10.0), bright, dice), core)
        }
    }
}

/// Light from the core over light from the case; none: as it comes.
pub(super) fn ratio(kind: Kind, dice: &mut Dice) -> Option<f32> {
    let (low, high) = match kind {
        Kind::Lighter => (0.45, 0.78),
        Kind::Darker => (1.2, 1.7),
        Kind::TextureOnly => (0.97, 1.03),
        Kind::ToneOnly => (0.55, 0.82),
        // faint, but there
        Kind::Faint if dice.chance(0.3) => (1.09, 1.22),
        Kind::Faint => (0.80, 0.92),
        _ => return None,
    };
    Some(between(dice, low, high))
}

/// Size of what a finish is made of, mm.
pub(super) fn grain_of(finish: &Finish) -> f32 {
    match finish {
        Finish::Grains(g) => g.grain,
        Finish::Cleavage(c) => c.grain,
        Finish::Fibrous(f) => f.hollow,
        Finish::Worked(w) => w.pitch,
        Finish::Struck(s) => s.radius,
    }
}
