//! Where a coupon is photographed.

use super::scene::{Grip, Ground, Holder, Ruler, Stuff, Wall};
use super::section::Section;
use crate::support::drawing::dice::Dice;
use std::f64::consts::{FRAC_PI_2, PI};

/// All that is round a face.
#[derive(Clone, Debug)]
pub(crate) struct Surroundings {
    pub(crate) ground: Ground,
    pub(crate) wall: Wall,
    pub(crate) holder: Option<Holder>,
    pub(crate) ruler: Option<Ruler>,
}

fn seed(dice: &mut Dice) -> u32 {
    (dice.unit() * 4e9) as u32
}

/// All ranges are judgements; `hard` is 0..1.
pub(crate) fn draw(section: &Section, hard: f64, dice: &mut Dice) -> Surroundings {
    let holder = dice.chance(0.15 + 0.5 * hard).then(|| holder(section, dice));
    let ground = Ground {
        stuff: dice.pick(&Stuff::ALL),
        beyond: if holder.is_some() { dice.log_between(15.0, 120.0) } else { dice.log_between(2.0, 25.0) },
        shadow: holder.is_none(),
        seed: seed(dice),
        level: dice.log_between(0.6, 1.4) as f32,
        turn: dice.between(0.0, 6.3) as f32,
    };
    let wall = Wall {
        long: ground.beyond.min(30.0),
        seed: seed(dice),
        tone: dice.log_between(0.04, 0.22) as f32,
        gloss: dice.log_between(0.02, 0.5) as f32,
        drawn: dice.unit() as f32,
        colour: dice.pick(&[[1.0, 1.0, 1.0], [1.04, 1.0, 0.95], [0.95, 1.0, 1.08], [1.2, 0.98, 0.8]]),
    };
    let ruler = dice.chance(0.22).then(|| ruler(section, dice));
    Surroundings { ground, wall, holder, ruler }
}

fn holder(section: &Section, dice: &mut Dice) -> Holder {
    let grip = dice.pick(&[Grip::Vice, Grip::Pliers, Grip::Fingers, Grip::Clay]);
    // jaws press on a side; a round bar has none
    let turn = if section.is_round() {
        dice.between(0.0, PI)
    } else {
        dice.pick(&[0.0, FRAC_PI_2]) + dice.normal() * 0.01
    };
    let (tone, colour, gloss) = match grip {
        Grip::Fingers => {
            let tone = dice.log_between(0.08, 0.42) as f32;
            (tone, [1.22, 0.88, 0.70], dice.between(0.01, 0.06))
        }
        Grip::Clay => {
            let colour = dice.pick(&[[1.0, 1.0, 1.0], [0.6, 0.8, 1.3], [1.4, 0.85, 0.6], [0.8, 1.1, 0.8]]);
            (dice.log_between(0.12, 0.45) as f32, colour, dice.between(0.01, 0.08))
        }
        _ => (dice.log_between(0.03, 0.30) as f32, [1.0, 1.0, 1.0], dice.between(0.05, 0.5)),
    };
    Holder {
        grip,
        beyond: dice.log_between(0.6, 5.0),
        turn,
        seed: seed(dice),
        tone,
        colour,
        teeth: if dice.chance(0.6) { dice.between(0.8, 1.8) } else { 0.0 },
        gloss: gloss as f32,
    }
}

fn ruler(section: &Section, dice: &mut Dice) -> Ruler {
    let half = section.half();
    let side = dice.pick(&[0.0, FRAC_PI_2, PI, 3.0 * FRAC_PI_2]);
    let off = if side.sin().abs() < 0.5 { half[1] } else { half[0] } + dice.between(0.3, 2.5);
    let turn = side + dice.normal() * 0.03;
    // the edge looks at the face: the strip goes on away from it
    let steel = dice.chance(0.5);
    let (tones, colour) = if steel {
        ([dice.between(0.25, 0.5) as f32, 0.04], [1.0, 1.0, 1.0])
    } else {
        (
            [dice.between(0.5, 0.8) as f32, 0.03],
            dice.pick(&[[1.0, 1.0, 0.98], [1.05, 0.9, 0.3], [1.0, 0.97, 0.88]]),
        )
    };
    Ruler {
        at: [-off * turn.sin(), off * turn.cos()],
        turn,
        wide: dice.between(12.0, 30.0),
        start: dice.between(15.0, 110.0),
        tones,
        colour,
        line: dice.between(0.10, 0.20),
        halves: dice.chance(0.35),
        seed: seed(dice),
    }
}
