//! Faces that show nothing, and things that are no face.

use super::Unusable;
use crate::support::draw_faces::camera::Pose;
use crate::support::draw_faces::coupon::Coupon;
use crate::support::draw_faces::finish::{Fibrous, Finish, Struck, Worked};
use crate::support::draw_faces::recipe::{self, between};
use crate::support::draw_faces::section::Section;
use crate::support::draw_faces::stain::Stain;
use crate::support::draw_faces::view::View;
use crate::support::drawing::dice::Dice;

/// Makes another thing of a coupon. All amounts are judgements.
pub(super) fn make(kind: Unusable, view: &mut View, pose: &mut Pose, coupon: &mut Coupon, dice: &mut Dice) {
    match kind {
        Unusable::RustedOver | Unusable::OxidisedOver => {
            let t = coupon.outline.section.thickness() as f32;
            let crust = crust(dice);
            (coupon.case, coupon.core, coupon.ratio, coupon.step) = (crust.clone(), crust, None, 0.0);
            let (seed, scale) = (recipe::seed(dice), t * dice.between(0.1, 0.4) as f32);
            let stain = if kind == Unusable::RustedOver {
                Stain::Rust { seed, amount: 1.6, scale }
            } else {
                Stain::Oxide { seed, amount: 1.6, scale }
            };
            coupon.stains = vec![stain];
            if kind == Unusable::OxidisedOver {
                // black or brown scale with a little rust
                let rust = Stain::Rust { seed: recipe::seed(dice), amount: between(dice, 0.05, 0.25), scale };
                coupon.stains.push(rust);
                coupon.tints = [dice.pick(&[[0.85, 0.95, 1.15], [1.0, 1.0, 1.0], [1.15, 0.95, 0.78]]); 2];
                view.exposure *= between(dice, 0.25, 0.6);
            }
        }
        Unusable::Ground | Unusable::Sawn => {
            let worked = worked(kind == Unusable::Sawn, dice);
            cover(coupon, worked);
        }
        Unusable::Coin | Unusable::Washer => {
            let radius = dice.between(4.0, 12.0);
            let grow = coupon.outline.section.half()[0].max(coupon.outline.section.half()[1]) / radius;
            pose.px_per_mm *= grow;
            coupon.outline.section = Section::Round { radius };
            coupon.outline.torn.0 = 0.002;
            let finish = if kind == Unusable::Coin { coin(radius as f32, dice) } else { worked(false, dice) };
            if kind == Unusable::Washer {
                coupon.outline.bore = radius * dice.between(0.35, 0.6);
            }
            cover(coupon, finish);
            let metal = dice.pick(&[[1.0, 1.0, 1.0], [1.25, 0.85, 0.55], [1.2, 1.0, 0.55]]);
            coupon.tints = [metal; 2];
            view.round.wall.long = dice.between(1.0, 2.5);
            view.round.ground.beyond = view.round.wall.long;
            view.round.holder = None;
        }
        Unusable::Stone => {
            let radius = coupon.outline.section.thickness() / 2.0;
            coupon.outline.section = Section::Round { radius };
            coupon.outline.torn = (radius * dice.between(0.35, 0.6), radius * dice.between(0.9, 1.6));
            cover(coupon, crust(dice));
            coupon.swell = (0.5 * radius as f32, 1.6 * radius as f32);
            let tone = dice.pick(&[[1.2, 1.0, 0.75], [1.0, 1.0, 1.0], [1.3, 0.85, 0.65], [0.9, 1.0, 1.0]]);
            coupon.tints = [tone; 2];
            view.round.wall.long = 0.0;
            view.round.ground.beyond = dice.between(0.5, 2.0);
            view.round.holder = None;
        }
        _ => unreachable!("{kind:?} is a coupon's picture"),
    }
}

/// One finish all over, and nothing of a case.
fn cover(coupon: &mut Coupon, finish: Finish) {
    coupon.rim = None;
    coupon.lip = None;
    coupon.ratio = None;
    coupon.outline.nick = None;
    coupon.outline.chips.clear();
    coupon.swell.0 = 0.0;
    coupon.marks.1 = 0.0;
    coupon.uneven = 0.1;
    (coupon.case, coupon.core) = (finish.clone(), finish);
}

fn worked(sawn: bool, dice: &mut Dice) -> Finish {
    let (low, high) = if sawn { (0.15, 0.5) } else { (0.03, 0.12) };
    Finish::Worked(Worked {
        seed: recipe::seed(dice),
        direction: dice.between(0.0, 3.1) as f32,
        bend: dice.between(-0.06, 0.06) as f32,
        pitch: dice.log_between(low, high) as f32,
        long: dice.between(30.0, 80.0) as f32,
        steep: dice.between(0.08, 0.3) as f32,
        tone: dice.between(0.18, 0.4) as f32,
        gloss: dice.between(0.1, 0.4) as f32,
    })
}

/// Thick rust or scale, or the broken skin of a stone: the break below does not show.
fn crust(dice: &mut Dice) -> Finish {
    Finish::Fibrous(Fibrous {
        seed: recipe::seed(dice),
        scale: dice.log_between(0.3, 1.2) as f32,
        steep: dice.between(0.3, 0.8) as f32,
        grain: (0.0, 1.0),
        torn: dice.between(0.0, 0.5) as f32,
        woolly: dice.between(0.55, 0.72) as f32,
        hollow: dice.log_between(0.04, 0.15) as f32,
        dimpled: dice.between(0.0, 0.8) as f32,
        tone: dice.between(0.2, 0.4) as f32,
        dark: dice.between(0.3, 0.7) as f32,
        gloss: 0.03,
        flecks: 0.0,
    })
}

fn coin(radius: f32, dice: &mut Dice) -> Finish {
    Finish::Struck(Struck {
        seed: recipe::seed(dice),
        radius,
        petals: dice.whole(4, 9) as f32,
        beads: dice.whole(30, 70) as f32,
        tone: dice.between(0.2, 0.4) as f32,
        gloss: dice.between(0.15, 0.4) as f32,
    })
}
