//! A coupon's picture with one thing gone wrong.

use super::{Unusable, things};
use crate::support::draw_faces::camera::{Camera, Pose};
use crate::support::draw_faces::coupon::Coupon;
use crate::support::draw_faces::scene::Stuff;
use crate::support::draw_faces::view::View;
use crate::support::drawing::dice::Dice;

/// The view as it is spoiled, and what else stands in it. All amounts are judgements.
pub(super) fn spoil(
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
            view.veil = dice.between(0.86, 0.95) as f32;
            coupon.ratio = Some(1.0);
            coupon.stains.clear();
            coupon.tints = [[1.0; 3]; 2];
        }
        Unusable::CutByFrame => {
            let half = coupon.outline.section.half();
            let reach = half[0].min(half[1]) * pose.px_per_mm;
            let side = dice.whole(0, 3);
            let off = dice.between(-0.5, 0.45) * reach;
            let k = side % 2;
            pose.at[k] = if side < 2 { off } else { size[k] - off };
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
                let camera = Camera::new(view.camera.width, view.camera.height, Pose { roll, at, ..pose });
                others.push((coupon.clone().mate(0.5, dice), camera));
            }
            (view.round.holder, view.round.ruler) = (None, None);
        }
        _ => things::make(kind, &mut view, &mut pose, coupon, dice),
    }
    (view.posed(pose), others)
}
