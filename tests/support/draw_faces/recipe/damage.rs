//! What went wrong with a break: chips, lips, stains.

use super::{between, seed};
use crate::support::draw_faces::coupon::Lip;
use crate::support::draw_faces::finish::{Finish, Worked};
use crate::support::draw_faces::kind::Kind;
use crate::support::draw_faces::outline::Chip;
use crate::support::draw_faces::section::Section;
use crate::support::draw_faces::stain::Stain;
use crate::support::drawing::dice::Dice;

/// A smooth band opposite to where the crack began, and for that kind on more sides.
pub(super) fn lip(kind: Kind, section: &Section, begins: usize, dice: &mut Dice) -> Lip {
    let (t, n) = (section.thickness(), section.sides());
    let far = (begins + n / 2) % n;
    let mut sides = vec![far];
    if kind == Kind::Lip && dice.chance(0.6) {
        sides.extend((0..n).filter(|i| *i != far && dice.chance(0.7)));
    }
    let up = if dice.chance(0.5) { 1.0 } else { -1.0 };
    let (tone, gloss) = (between(dice, 0.18, 0.38), between(dice, 0.03, 0.12));
    let (pitch, steep) = (between(dice, 0.04, 0.2), between(dice, 0.03, 0.12));
    let mut smear = |side: usize| {
        let inward = section.foot(side, 0.0).1;
        let direction = inward[1].atan2(inward[0]) as f32 + between(dice, -0.5, 0.5);
        Finish::Worked(Worked {
            seed: seed(dice),
            direction,
            bend: 0.0,
            pitch,
            long: 9.0,
            steep,
            tone,
            gloss,
        })
    };
    let sides = sides.into_iter().map(|i| (i, smear(i))).collect();
    let most = if kind == Kind::Lip { 0.14 } else { 0.07 };
    Lip { sides, width: t * dice.between(0.04, most), slope: up * between(dice, 0.4, 1.0) }
}

pub(crate) fn chips(section: &Section, hard: f64, dice: &mut Dice) -> Vec<Chip> {
    let t = section.thickness();
    let mut out = Vec::new();
    while out.len() < 3 && dice.chance(0.1 + 0.35 * hard) {
        let side = dice.whole(0, section.sides() - 1);
        let long = section.side_length(side);
        // most chips take a corner
        let corner = !section.is_round() && dice.chance(0.7);
        let (at, inward) = section.foot(side, if corner { 0.0 } else { long * dice.unit() });
        let turn = if corner { std::f64::consts::FRAC_PI_4 } else { 0.0 } + dice.between(-0.3, 0.3);
        let (sin, cos) = (-turn).sin_cos();
        let inward = [inward[0] * cos - inward[1] * sin, inward[0] * sin + inward[1] * cos];
        let depth = t * dice.log_between(0.03, 0.12) * if corner { 1.4 } else { 0.7 };
        out.push(Chip { at, inward, depth, hollow: dice.between(0.3, 1.6) });
    }
    out
}

pub(crate) fn stains(t: f64, hard: f64, dice: &mut Dice) -> Vec<Stain> {
    let t = t as f32;
    let mut out = Vec::new();
    let lot = |share: f64, dice: &mut Dice| dice.chance(share * hard);
    if lot(0.35, dice) {
        out.push(Stain::Rust {
            seed: seed(dice),
            amount: between(dice, 0.02, 0.18),
            scale: t * between(dice, 0.1, 0.4),
        });
    }
    if lot(0.25, dice) {
        out.push(Stain::Oil {
            seed: seed(dice),
            amount: between(dice, 0.05, 0.3),
            scale: t * between(dice, 0.2, 0.6),
        });
    }
    if lot(0.2, dice) {
        out.push(Stain::Oxide {
            seed: seed(dice),
            amount: between(dice, 0.05, 0.25),
            scale: t * between(dice, 0.2, 0.6),
        });
    }
    if lot(0.12, dice) {
        out.push(Stain::Temper { seed: seed(dice), scale: t * between(dice, 0.5, 1.5) });
    }
    if dice.chance(0.3 + 0.3 * hard) {
        out.push(Stain::Dust {
            seed: seed(dice),
            amount: between(dice, 0.02, 0.12),
            scale: between(dice, 0.12, 0.35),
        });
    }
    if lot(0.3, dice) {
        out.push(Stain::Scratch {
            seed: seed(dice),
            at: [between(dice, -0.3, 0.3) * t, between(dice, -0.3, 0.3) * t],
            direction: between(dice, 0.0, 3.1),
            width: between(dice, 0.01, 0.03),
        });
    }
    out
}
