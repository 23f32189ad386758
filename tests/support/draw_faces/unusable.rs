//! Pictures that must be refused: a coupon's picture with one thing gone wrong, or another thing altogether.

use super::camera::Camera;
use super::coupon::Coupon;
use super::finish::{Fibrous, Finish, Struck, Worked};
use super::kind::Kind;
use super::picture::{Order, Picture};
use super::recipe;
use super::scene::Stuff;
use super::section::Section;
use super::stain::Stain;
use super::truth::Truth;
use super::view::View;
use crate::support::drawing::dice::Dice;

/// Why a picture cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unusable {
    NoFace,
    OutOfFocus,
    /// Pixels too large for the depth of the case.
    FarAway,
    FlatLight,
    RustedOver,
    OxidisedOver,
    CutByFrame,
    Ground,
    Sawn,
    TooDark,
    BlownOut,
    MotionBlurred,
    Coin,
    Washer,
    Stone,
    Gravel,
    SeveralFaces,
}

impl Unusable {
    pub(crate) const ALL: [Self; 17] = [
        Self::NoFace,
        Self::OutOfFocus,
        Self::FarAway,
        Self::FlatLight,
        Self::RustedOver,
        Self::OxidisedOver,
        Self::CutByFrame,
        Self::Ground,
        Self::Sawn,
        Self::TooDark,
        Self::BlownOut,
        Self::MotionBlurred,
        Self::Coin,
        Self::Washer,
        Self::Stone,
        Self::Gravel,
        Self::SeveralFaces,
    ];

    /// The kinds take turns.
    pub(crate) fn of(seed: u64) -> Self {
        Self::ALL[(seed % Self::ALL.len() as u64) as usize]
    }

    /// Nothing in the picture has an outline and sides to be asked for.
    fn faceless(self) -> bool {
        matches!(self, Self::NoFace | Self::Coin | Self::Washer | Self::Stone | Self::Gravel)
    }
}

/// Draws an unusable picture. All amounts are judgements.
pub(crate) fn draw_unusable(kind: Unusable, seed: u64) -> Picture {
    let mut dice = Dice::new(seed, 30);
    let cased = dice.pick(&[Kind::AllRound, Kind::Lighter, Kind::Darker, Kind::TextureOnly, Kind::ToneOnly]);
    let order = Order { kind: cased, ..Order::of(seed) };
    let (view, mut coupon) = order.set_up();
    let (view, others) = spoil(kind, view, &mut coupon, &mut dice);
    let face = (!kind.faceless()).then(|| {
        let class = if coupon.rim.is_none() { Kind::Plain } else { cased }.class();
        coupon.survey(class, &view.camera)
    });
    let truth = Truth {
        file: format!("{seed:04}.jpg"),
        seed,
        usable: false,
        take: "first".to_owned(),
        kind: format!("{kind:?}"),
        difficulty: order.difficulty,
        width: view.camera.width,
        height: view.camera.height,
        face,
        conditions: view.conditions(),
    };
    Picture { bytes: view.take(&coupon, &others, seed), truth }
}

fn spoil(
    kind: Unusable,
    mut view: View,
    coupon: &mut Coupon,
    dice: &mut Dice,
) -> (View, Vec<(Coupon, Camera)>) {
    let depth = coupon.rim.as_ref().map_or(0.5, |r| r.sides.iter().map(|s| s.depth).fold(0.0, f64::max));
    let depth_px = depth * view.pose.px_per_mm;
    let size = [view.camera.width as f64, view.camera.height as f64];
    let mut pose = view.pose;
    let mut others = Vec::new();
    match kind {
        Unusable::NoFace => view.empty = true,
        Unusable::OutOfFocus => view.blur[0] = (depth_px * dice.between(0.7, 1.6)).max(9.0),
        Unusable::FarAway => {
            // the face still has some twenty pixels
            let least = 24.0 / coupon.outline.section.thickness();
            pose.px_per_mm = (dice.between(1.5, 2.8) / depth).max(least.min(3.2 / depth));
        }
        Unusable::FlatLight => {
            view.light.lamps.clear();
            view.light.panes.clear();
            view.light.sky = [1.0; 3];
            view.veil = dice.between(0.75, 0.9) as f32;
            coupon.ratio = Some(1.0);
            coupon.stains.clear();
            coupon.tints = [[1.0; 3]; 2];
        }
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
        }
        Unusable::CutByFrame => {
            let half = coupon.outline.section.half();
            let reach = half[0].min(half[1]) * pose.px_per_mm;
            let side = dice.whole(0, 3);
            let off = dice.between(-0.5, 0.45) * reach;
            let k = side % 2;
            pose.at[k] = if side < 2 { off } else { size[k] - off };
        }
        Unusable::Ground | Unusable::Sawn => {
            let worked = worked(kind == Unusable::Sawn, dice);
            cover(coupon, worked);
        }
        Unusable::TooDark => {
            view.exposure = dice.log_between(0.0012, 0.005) as f32;
            view.round.ground.level = view.round.ground.level.min(0.4);
            view.veil = 0.0;
        }
        Unusable::BlownOut => view.exposure = dice.between(4.0, 12.0) as f32,
        Unusable::MotionBlurred => {
            let (long, turn) = ((2.5 * depth_px).max(30.0), dice.between(0.0, 6.3));
            view.shake = [long * turn.cos(), long * turn.sin()];
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
            coupon.outline.torn = (radius * dice.between(0.2, 0.4), radius * dice.between(0.7, 1.3));
            cover(coupon, crust(dice));
            coupon.swell = (0.5 * radius as f32, 1.6 * radius as f32);
            let tone = dice.pick(&[[1.2, 1.0, 0.75], [1.0, 1.0, 1.0], [1.3, 0.85, 0.65], [0.9, 1.0, 1.0]]);
            coupon.tints = [tone; 2];
            view.round.wall.long = 0.1;
            view.round.ground.beyond = dice.between(0.5, 2.0);
            view.round.holder = None;
        }
        Unusable::Gravel => {
            view.empty = true;
            view.round.ground.stuff = Stuff::Gravel;
            view.round.ground.beyond = dice.between(0.1, 2.0);
            view.round.holder = None;
        }
        Unusable::SeveralFaces => {
            pose.px_per_mm *= 0.5;
            pose.at = [size[0] * 0.28, size[1] * dice.between(0.4, 0.6)];
            for k in 0..dice.whole(1, 2) {
                let at = [size[0] * (0.72 - 0.02 * k as f64), size[1] * (0.27 + 0.46 * k as f64)];
                let roll = pose.roll + dice.normal() * 0.2;
                let camera = Camera::new(
                    view.camera.width,
                    view.camera.height,
                    super::camera::Pose { at, roll, ..pose },
                );
                others.push((coupon.clone().mate(0.5, dice), camera));
            }
            (view.round.holder, view.round.ruler) = (None, None);
        }
    }
    (view.posed(pose), others)
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
